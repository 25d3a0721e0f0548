#include "harvester/topping.hpp"

#include <limits>
#include <numbers>
#include <string>
#include <utility>

#include "base/random.hpp"
#include "num/distributions.hpp"
#include "num/normal_pairs.hpp"

namespace beetwright::harvester {
namespace {

double density(double z) {
    return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
}

/// E max(x - limit, 0) of a normal amount.
double normal_excess(double mean, double sd, double limit) {
    const double h = (limit - mean) / sd;
    return sd * (density(h) - h * normal_cdf(-h));
}

Problem problem(const char* field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = field},
            std::move(what),
            std::move(fix)};
}

Problems problems_of(const CrownStand& stand, const ToppingSettings& settings) {
    Problems problems;
    if (!(std::abs(stand.mean.si()) <= 0.5)) {
        problems.push_back(problem("mean crown height",
                                   "it is not within half a metre of the ground",
                                   "look at its unit, or measure again"));
    }
    if (!(stand.sd.si() >= 0.0 && stand.sd.si() <= 0.5)) {
        problems.push_back(problem("spread of crown heights", "it is not from 0 to half a metre",
                                   "give the standard deviation of the heights"));
    } else if (!(stand.neighbour_step.si() >= 0.0 &&
                 stand.neighbour_step.si() <= 2.0 * stand.sd.si() * (1.0 + 1e-9))) {
        problems.push_back(problem("step between neighbours",
                                   "it is not from 0 to twice the spread of the heights",
                                   "take the root of the mean square of the differences, all of "
                                   "the same beets"));
    }
    if (!(stand.spacing.si() >= 0.01 && stand.spacing.si() <= 5.0)) {
        problems.push_back(problem("spacing in the row", "it is not from 1 cm to 5 m",
                                   "give the distance from beet to beet"));
    }
    if (!(std::abs(settings.leaf_remover_height.si()) <= 1.0)) {
        problems.push_back(problem("leaf_remover.height", "it is not within a metre of the ground",
                                   "give its height over the ground"));
    }
    if (!(settings.cut_thickness.si() >= 0.0 && settings.cut_thickness.si() <= 0.2)) {
        problems.push_back(problem("scalper.thickness", "it is not from 0 to 20 cm",
                                   "give the thickness of the slice under the follower"));
    }
    if (!(settings.forward_speed.si() > 0.0 && settings.forward_speed.si() <= 10.0)) {
        problems.push_back(problem("driving.speed", "it is not over 0 and up to 36 km/h",
                                   "give the speed while topping"));
    }
    return problems;
}

}  // namespace

CutDepths::CutDepths(double mean, double sd, double split, double at_split, Side lower, Side upper)
    : mean_(mean), sd_(sd), split_(split), at_split_(at_split) {
    require(sd >= 0.0 && lower.sd > 0.0 && upper.sd > 0.0, "cuts spread, if heights need not");
    const double over = split - mean;
    split_score_ =
        sd > 0.0 ? over / sd : std::copysign(std::numeric_limits<double>::infinity(), over);
    sides_ = {whole(lower), whole(upper)};
}

CutDepths::Whole CutDepths::whole(const Side& side) const {
    const double by_height = side.slope * sd_;
    const double total = std::sqrt(by_height * by_height + side.sd * side.sd);
    return {.mean = at_split_ + side.slope * (mean_ - split_),
            .sd = total,
            .correlation = by_height / total};
}

double CutDepths::chance_to(Length depth) const {
    const auto& [lower, upper] = sides_;
    const double low = (depth.si() - lower.mean) / lower.sd;
    const double high = (depth.si() - upper.mean) / upper.sd;
    const double chance = num::normal_pair_cdf(low, split_score_, lower.correlation) +
                          normal_cdf(high) -
                          num::normal_pair_cdf(high, split_score_, upper.correlation);
    return std::clamp(chance, 0.0, 1.0);
}

/// E max(x - depth, 0) over the heights beyond the split alone: the first moments of a normal pair
/// cut off on both sides (Rosenbaum 1961, J. R. Statist. Soc. B 23:405-408).
double CutDepths::excess_of_upper(const Whole& all, double depth) const {
    const double h = (depth - all.mean) / all.sd;
    const double k = split_score_;
    if (std::isinf(k)) {
        return k > 0.0 ? 0.0 : normal_excess(all.mean, all.sd, depth);
    }
    const double c = all.correlation;
    const double root = std::sqrt((1.0 - c) * (1.0 + c));
    const double moment = density(h) * normal_cdf((c * h - k) / root) +
                          c * density(k) * normal_cdf((c * k - h) / root);
    return all.sd * (moment - h * num::normal_pair_cdf(-h, -k, c));
}

Length CutDepths::mean_excess(Length depth) const {
    const auto& [lower, upper] = sides_;
    const double of_lower =
        normal_excess(lower.mean, lower.sd, depth.si()) - excess_of_upper(lower, depth.si());
    return Length(std::max(of_lower + excess_of_upper(upper, depth.si()), 0.0));
}

CutDepths::Quick CutDepths::quick(const std::array<double, 3>& depths_m, bool with_excess) const {
    Quick quick;
    if (std::isinf(split_score_)) {
        for (std::size_t i = 0; i < depths_m.size(); ++i) {
            quick.chance[i] = chance_to(Length(depths_m[i]));
        }
        quick.excess = with_excess ? mean_excess(Length(depths_m.back())) : Length::zero();
        return quick;
    }
    const auto& [lower, upper] = sides_;
    num::PairLimits limits{.x = {}, .correlation = {}, .y = split_score_};
    for (std::size_t i = 0; i < 3; ++i) {
        limits.x[i] = (depths_m[i] - lower.mean) / lower.sd;
        limits.x[3 + i] = (depths_m[i] - upper.mean) / upper.sd;
        limits.correlation[i] = lower.correlation;
        limits.correlation[3 + i] = upper.correlation;
    }
    const auto chances = num::pair_chances(limits);
    for (std::size_t i = 0; i < 3; ++i) {
        quick.chance[i] =
            std::clamp(chances.both[i] + chances.x[3 + i] - chances.both[3 + i], 0.0, 1.0);
    }
    if (!with_excess) {
        return quick;
    }
    // As excess_of_upper(), with the chance that both are over their limits from that of both
    // under.
    const double k = split_score_;
    const auto over_both = [&](std::size_t i) {
        return 1.0 - chances.x[i] - chances.y + chances.both[i];
    };
    const auto of_upper = [&](const Whole& all, std::size_t i) {
        const double h = limits.x[i];
        const double c = all.correlation;
        const double root = std::sqrt((1.0 - c) * (1.0 + c));
        const double moment = density(h) * normal_cdf((c * h - k) / root) +
                              c * density(k) * normal_cdf((c * k - h) / root);
        return all.sd * (moment - h * over_both(i));
    };
    const double of_lower =
        lower.sd * (density(limits.x[2]) - limits.x[2] * (1.0 - chances.x[2])) - of_upper(lower, 2);
    quick.excess = Length(std::max(of_lower + of_upper(upper, 5), 0.0));
    return quick;
}

Length CutDepths::mean() const {
    // E[a + b h] on either side of the split, with E[z; z < k] = -density(k).
    const auto& [lower, upper] = sides_;
    const double below = normal_cdf(split_score_);
    const double edge = density(split_score_);
    return Length(lower.mean * below - lower.correlation * lower.sd * edge +
                  upper.mean * (1.0 - below) + upper.correlation * upper.sd * edge);
}

Length CutDepths::farthest() const {
    constexpr double kScore = 8.0;
    return Length(
        std::max(sides_[0].mean + kScore * sides_[0].sd, sides_[1].mean + kScore * sides_[1].sd));
}

Length CutDepths::quantile(double share) const {
    require(share > 0.0 && share < 1.0, "a share of a quantile lies between 0 and 1");
    double low = farthest().si();
    for (const Whole& side : sides_) {
        low = std::min(low, side.mean - 8.0 * side.sd);
    }
    double high = farthest().si();
    // Halved until neighbouring doubles: 60 times at most, for depths of decimetres.
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (chance_to(Length(middle)) < share ? low : high) = middle;
    }
    return Length(0.5 * (low + high));
}

double CutDepths::struck() const {
    return normal_cdf(-split_score_);
}

Result<CutDepths> cut_depths(const CrownStand& stand, const ToppingSettings& settings,
                             const ToppingConstants& constants) {
    if (auto problems = problems_of(stand, settings); !problems.empty()) {
        return problems;
    }
    return cut_depths_unchecked(stand, settings, constants);
}

CutDepths cut_depths_unchecked(const CrownStand& stand, const ToppingSettings& settings,
                               const ToppingConstants& constants) {
    const double sd = stand.sd.si();
    const double mean = stand.mean.si();
    const double split = settings.leaf_remover_height.si();
    // Neighbours' likeness, from E (h1 - h2)^2 = 2 sd^2 (1 - likeness).
    const double step = sd > 0.0 ? stand.neighbour_step.si() / sd : 0.0;
    const double likeness = std::max(1.0 - 0.5 * step * step, -1.0);
    const double left =
        follower_left(stand.spacing, settings.forward_speed, constants.follower_lag_s);
    // The follower comes from where it was at the crown before: from the mean of all that it met,
    // each weighing `left` times the next. Of heights whose likeness falls off as its powers, that
    // mean is likeness (1 - left) / (1 - left likeness) of this one's departure, and scatters.
    const double alike = likeness * (1.0 - left) / (1.0 - left * likeness);
    const double variance =
        (1.0 - left) / (1.0 + left) * (1.0 + left * likeness) / (1.0 - left * likeness);
    // Tufts lift the follower the more the lower a crown is, and so lessen the steps that it meets.
    const double met = left * (1.0 - constants.tuft_lift);
    const double met_scatter = met * sd;
    const double scatter =
        std::sqrt(constants.follower_error_m * constants.follower_error_m +
                  met_scatter * met_scatter * std::max(variance - alike * alike, 0.0));
    // At a crown of the leaf remover's very height there is neither tuft nor dent, but the follower
    // comes from below. Over that height what it meets is level, and the dents add to the depth.
    const double at_split = settings.cut_thickness.si() + met * (1.0 - alike) * (split - mean);
    return CutDepths(mean, sd, split, at_split,
                     {.slope = constants.tuft_lift + met * (1.0 - alike), .sd = scatter},
                     {.slope = 1.0 - met * alike, .sd = scatter});
}

ToppingShares topping_shares(const CutDepths& depths, const ToppingConstants& constants) {
    const double untouched = depths.chance_to(Length::zero());
    const double with_leaf = depths.chance_to(Length(constants.leaf_free_m));
    const double not_too_deep = depths.chance_to(Length(constants.leaf_free_m + constants.right_m));
    return {.untouched = untouched,
            .leaf_left = with_leaf - untouched,
            .right = not_too_deep - with_leaf,
            .too_deep = 1.0 - not_too_deep,
            .struck = depths.struck()};
}

namespace {

Topped quickly(const CutDepths& depths, const ToppingConstants& constants, bool with_excess) {
    const auto [chance, excess] = depths.quick(
        {0.0, constants.leaf_free_m, constants.leaf_free_m + constants.right_m}, with_excess);
    return {.shares = {.untouched = chance[0],
                       .leaf_left = std::max(chance[1] - chance[0], 0.0),
                       .right = std::max(chance[2] - chance[1], 0.0),
                       .too_deep = 1.0 - chance[2],
                       .struck = depths.struck()},
            .mean_excess = excess};
}

}  // namespace

Topped quickly_topped(const CutDepths& depths, const ToppingConstants& constants) {
    return quickly(depths, constants, true);
}

ToppingShares quick_shares(const CutDepths& depths, const ToppingConstants& constants) {
    return quickly(depths, constants, false).shares;
}

}  // namespace beetwright::harvester
