// What leaf remover and scalper do to crowns, by their heights: how deep beets are cut.
//
// A leaf remover goes at one height over the ground; it strikes what stands higher, and leaves
// tufts on what stands lower. A scalper's follower rides on each crown in turn, held up a little by
// its tuft, and still off its place by a share of the step from where it was; the knife takes a
// slice under it. With heights normal, the depth of the cut is normal on either side of the leaf
// remover's height, and chances and means have closed forms. docs/methods/harvester_topping.md.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "base/result.hpp"

namespace beetwright::harvester {

/// Crowns of the row that is topped: heights of their tops over the ground, taken as normal. Where
/// these come from a sample, their doubt is the caller's matter.
struct CrownStand {
    Length mean;
    Length sd;
    Length neighbour_step;  ///< root mean square of how much beets differ from the one before
    Length spacing;         ///< between beets in the row
};
/// The step between neighbours that are no more alike than any two beets.
inline Length step_of_strangers(Length sd) {
    return std::sqrt(2.0) * sd;
}

struct ToppingSettings {
    Length leaf_remover_height;  ///< over the ground
    Length cut_thickness;        ///< under the follower
    Speed forward_speed;
};

struct ToppingConstants {
    double follower_error_m = 0.0;
    double follower_lag_s = 0.0;
    double tuft_lift = 0.0;
    double leaf_free_m = 0.0;  ///< depth from which no leaf is left
    double right_m = 0.0;      ///< thickness of what is right below it
};

template <class Get>
ToppingConstants topping_constants(Get&& get) {
    using enum ConstantId;
    return {.follower_error_m = get(harvester_follower_error),
            .follower_lag_s = get(harvester_follower_lag),
            .tuft_lift = get(harvester_tuft_lift),
            .leaf_free_m = get(harvester_leaf_free_depth),
            .right_m = get(harvester_right_depth)};
}

/// Share of the step between two crowns by which a follower is still off at the second.
inline double follower_left(Length spacing, Speed speed, double lag_s) {
    return std::exp(-(spacing / speed).si() / lag_s);
}

/// Depth of cuts below their crowns' tops; below zero, the knife passed over the crown.
class CutDepths {
 public:
    /// Heights of crowns over the ground [m] are h, normal with this mean and sd; the depth is
    /// at_split + slope (h - split) + sd z, on either side of the split.
    struct Side {
        double slope = 0.0;
        double sd = 0.0;
    };
    CutDepths(double mean, double sd, double split, double at_split, Side lower, Side upper);

    /// Chance that a cut is not deeper than this.
    [[nodiscard]] double chance_to(Length depth) const;
    [[nodiscard]] Length mean() const;
    /// Mean of what is over this depth, of all beets: E max(depth of cut - depth, 0).
    [[nodiscard]] Length mean_excess(Length depth) const;
    /// Depth that this share of beets is not cut deeper than, 0 < share < 1.
    [[nodiscard]] Length quantile(double share) const;
    /// Share of crowns over the split: those that the leaf remover strikes.
    [[nodiscard]] double struck() const;

    /// chance_to() of three depths, and mean_excess() of the last if it is wanted, to 1e-9: for
    /// loops over many draws.
    struct Quick {
        std::array<double, 3> chance{};
        Length excess;
    };
    [[nodiscard]] Quick quick(const std::array<double, 3>& depths_m, bool with_excess) const;

    /// Mean over all beets of what a cut of a depth leaves behind, a scar's diameter say.
    /// `of_depth` takes and gives doubles, in metres; it is asked for zero where the knife passed
    /// over, and must be smooth at other depths. By `cells` of equal depth, with an error that
    /// falls with their square.
    template <class OfDepth>
    [[nodiscard]] double mean_of(OfDepth&& of_depth, int cells = 400) const {
        const double deepest = std::max(farthest().si(), 0.0);
        double before = chance_to(Length::zero());
        double sum = before * of_depth(0.0);
        for (int cell = 0; cell < cells; ++cell) {
            const double chance = chance_to(Length(deepest * (cell + 1) / cells));
            sum += (chance - before) * of_depth(deepest * (cell + 0.5) / cells);
            before = chance;
        }
        return sum;
    }

 private:
    /// A side's depths as if it held all crowns: normal, and correlated with their heights.
    struct Whole {
        double mean = 0.0, sd = 0.0, correlation = 0.0;
    };
    [[nodiscard]] Whole whole(const Side& side) const;
    [[nodiscard]] double excess_of_upper(const Whole& all, double depth) const;
    /// A depth that one cut in 10^15 exceeds.
    [[nodiscard]] Length farthest() const;

    double mean_, sd_, split_, at_split_;
    double split_score_;  ///< standard normal; infinite where all crowns are of one height
    std::array<Whole, 2> sides_;
};

/// Depths of the cuts, or what is wrong with stand or settings.
Result<CutDepths> cut_depths(const CrownStand& stand, const ToppingSettings& settings,
                             const ToppingConstants& constants);

/// The same of stand and settings that were looked through before, for loops over many constants.
CutDepths cut_depths_unchecked(const CrownStand& stand, const ToppingSettings& settings,
                               const ToppingConstants& constants);

/// Shares of beets; the first four sum to 1.
struct ToppingShares {
    double untouched =
        std::numeric_limits<double>::quiet_NaN();  ///< the knife passed over the crown
    double leaf_left = std::numeric_limits<double>::quiet_NaN();  ///< cut, but not below all leaf
    double right = std::numeric_limits<double>::quiet_NaN();
    double too_deep = std::numeric_limits<double>::quiet_NaN();
    double struck = std::numeric_limits<double>::quiet_NaN();  ///< by the leaf remover, whatever
                                                               ///< the knife did after
};
ToppingShares topping_shares(const CutDepths& depths, const ToppingConstants& constants);

/// What cuts leave, to 1e-9.
struct Topped {
    ToppingShares shares;
    Length mean_excess;  ///< of all beets, below what is right
};
Topped quickly_topped(const CutDepths& depths, const ToppingConstants& constants);
/// Of it the shares alone.
ToppingShares quick_shares(const CutDepths& depths, const ToppingConstants& constants);

}  // namespace beetwright::harvester
