// What is learned of a machine: the numbers in which its response is linear, each with what is
// published or assumed of it before anybody has looked.
//
// docs/methods/harvester_response.md and harvester_learning.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/catalogue.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

/// What the outcome is reckoned from; each is a sum of parameters times terms.
enum class Predictor : std::uint8_t {
    break_lifting,   ///< log odds that lifting breaks a tail, at no matter what diameter
    break_cleaning,  ///< the same of what comes after
    break_slope,     ///< ln [1/m]: how fast the odds fall with the diameter
    unlifted,        ///< ln of the share of beets, likewise the next three
    through_rolls,
    through_guards,
    knocked_out,     ///< of those struck
    torn_skin,       ///< ln [m2]
    sticking_soil,   ///< ln [kg/kg]
    loose_soil,      ///< ln [kg/kg]
    knife_offset,    ///< [m]
    remover_offset,  ///< [m]
    follower_error,  ///< ln [m]
    follower_lag,    ///< ln [s]
    tuft_lift,
    leaf_free,    ///< ln [m]
    right_depth,  ///< ln [m]
    long_stalks,  ///< log odds
    slanted,      ///< log odds
    tails_found,  ///< ln of the share of broken tails' mass that a dug strip finds
};
inline constexpr std::size_t kPredictors = 20;

/// A value of each predictor.
using Predictors = std::array<double, kPredictors>;

/// A number that is learned. Of a constant whose spread is lognormal it is the logarithm.
struct Parameter {
    ConstantId constant;
    Predictor predictor;
    Term term;
    /// The stage whose parts decide it, for numbers that differ from field to field, that wear
    /// moves, and that new parts make unknown again; none for what is physics of beet and soil.
    std::optional<Stage> level_of;
};
/// Every parameter, in a fixed order.
std::span<const Parameter> parameters();
inline constexpr std::size_t kParameters = 61;

inline constexpr std::size_t kLevelCount = 12;
/// Those with a level, by their place among all.
std::span<const std::size_t> levels();

/// What is thought of a parameter before anybody has looked: normal.
struct Prior {
    double mean = 0.0;
    double sd = 0.0;
};
Prior prior(const Parameter& parameter, const Catalogue& catalogue);

/// Predictors of a situation, by all parameters' values.
Predictors predictors(const Situation& situation, std::span<const double> values);

}  // namespace beetwright::harvester
