// How likely what a check saw is, by the predictors of its situation.
//
// Beets are counts in classes; a dug strip's finds are counts of pieces of a mean mass; tare and
// torn skin are lognormal. docs/methods/harvester_learning.md.
#pragma once

#include <span>
#include <vector>

#include "base/catalogue.hpp"
#include "harvester/look.hpp"
#include "harvester/outcome.hpp"
#include "harvester/parameter.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

/// Breaks by half centimetres, up to 12 cm, which is wider than a tail gets.
inline constexpr Length kBreakStep(0.005);
inline constexpr std::size_t kBreakSteps = 24;
/// Share of a root's mass that a break in the middle of each step takes. It is for whoever joins
/// rooms to say: this one does not know what roots are like.
using LossOfBreaks = std::array<double, kBreakSteps>;

/// How sights scatter, and what turns breaks into mass.
struct SightConstants {
    double tare_cv = 0.0;
    double skin_cv = 0.0;
    double root_mass_cv = 0.0;
    double lost_root_mass = 0.0;
    double tail_piece = 0.0;  ///< over a root's mass
    double misjudged = 0.0;   ///< share of crowns
    LossOfBreaks loss_of_breaks{};
};
SightConstants sight_constants(const Catalogue& catalogue, const LossOfBreaks& loss_of_breaks);

/// Chances of the classes that crowns are told apart by, in the order of CrownSeen, by people who
/// put a share of them into the class beside their own: either of two as often.
std::array<double, kCrownsSeen> crowns_seen(const ToppingShares& shares, double long_stalks,
                                            double slanted, double misjudged);
/// Share of a root's mass that breaks take, on the mean of all beets.
double mean_tail_loss(const Predictors& predictors, const LossOfBreaks& loss_of_breaks);

class Likelihood {
 public:
    /// All three must outlive it.
    Likelihood(const Look& look, const Situation& situation, const SightConstants& constants);

    /// Those that it depends on, ascending.
    [[nodiscard]] std::span<const Predictor> touched() const { return touched_; }
    /// Logarithm, but for a constant.
    [[nodiscard]] double log(const Predictors& predictors) const;

    /// Slope of log() and Fisher's information, by the predictors touched.
    struct Slopes {
        std::vector<double> gradient;
        std::vector<double> information;  ///< row by row
    };
    [[nodiscard]] Slopes slopes(const Predictors& predictors) const;

 private:
    enum class Part : std::uint8_t { crowns, breaks, skin, whole_roots, tails, tare };
    struct Seen {
        Part part;
        std::vector<Predictor> touched;
    };
    /// What is expected of a part: chances of its classes, a mean count, or a logarithm.
    void expect(Part part, const Predictors& predictors, std::vector<double>& expected) const;
    [[nodiscard]] std::span<const double> seen(Part part) const;
    [[nodiscard]] double log(Part part, std::span<const double> expected) const;
    /// Of a normal part.
    [[nodiscard]] double variance(Part part) const;
    /// [kg] that a strip's tails scatter by.
    [[nodiscard]] double tail_piece() const;
    void add_part(Part part, std::vector<Predictor> touched, std::vector<double> seen);

    const Look* look_;
    const Situation* situation_;
    const SightConstants* constants_;
    std::vector<Seen> parts_;
    std::array<std::vector<double>, 6> seen_;
    std::vector<Predictor> touched_;
};

}  // namespace beetwright::harvester
