// What one check saw of a machine's work, summed up for learning.
//
// Counts need not be whole: beets of one spot are alike, and whoever sums them up may count them
// for less. docs/methods/harvester_learning.md.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/quantity.hpp"
#include "harvester/response.hpp"

namespace beetwright::harvester {

/// How far on their way the beets were. What is broken before cleaning was broken in lifting.
enum class SeenOnTheWay : std::uint8_t {
    in_the_row,       ///< topped, before the shares
    before_cleaning,  ///< lifted, on the roller bed
    after_cleaning,   ///< in the tank, at the pile, delivered
};

/// What crowns are told apart by; those with leaf on them by its length.
enum class CrownSeen : std::uint8_t { long_stalks, short_stalks, right, too_deep, slanted };
inline constexpr std::size_t kCrownsSeen = 5;

/// Beets whose tail broke at a diameter from and to; both zero: whole.
struct BreaksSeen {
    Length from;
    Length to;
    double beets = 0.0;
};

struct Look {
    SeenOnTheWay where = SeenOnTheWay::after_cleaning;
    std::array<double, kCrownsSeen> crowns{};
    std::vector<BreaksSeen> breaks{};
    double skin_beets = 0.0;  ///< judged for torn skin
    Area skin_mean = Area::zero();
    Area strip = Area::zero();      ///< dug and searched; zero: none
    CleanMass strip_whole_roots{};  ///< NaN: not weighed, likewise the next
    CleanMass strip_tails{};
    double tares = 0.0;          ///< samples
    double tare_log_mean = 0.0;  ///< mean of the logarithms of soil per clean beet

    [[nodiscard]] bool is_empty() const;
    /// The same sight in parts that touch no predictor in common: crowns, breaks with the tails of
    /// a strip, its whole roots, torn skin, tare. Together they tell what the whole does.
    [[nodiscard]] std::vector<Look> parts() const;
};

}  // namespace beetwright::harvester
