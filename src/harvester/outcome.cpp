#include "harvester/outcome.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"

namespace beetwright::harvester {
namespace {

double of(const Predictors& predictors, Predictor predictor) {
    return predictors[static_cast<std::size_t>(predictor)];
}
/// Shares are learned as logarithms; a share is no more than all.
double share(const Predictors& predictors, Predictor predictor) {
    return std::min(std::exp(of(predictors, predictor)), 1.0);
}

/// Of log odds that nobody believes, a number still.
double odds(double log_odds) {
    constexpr double kSure = 300.0;
    return std::exp(std::min(log_odds, kSure));
}

/// A knife does not cut above itself, nor a leaf remover dig.
constexpr Length kThinnest(0.0005);

TailOutcome tails(const Predictors& predictors) {
    const Breaks breaks(predictors);
    TailOutcome outcome;
    const auto at = [&](TailLies lies) -> SharesOfBreaks& {
        return outcome.share[static_cast<std::size_t>(lies)];
    };
    at(TailLies::with_the_beets).fill(0.0);
    Breaks::Over from = breaks.at_all();
    for (std::size_t c = 0; c < kBreakClasses; ++c) {
        const bool is_last = c + 1 == kBreakClasses;
        const Breaks::Over to = is_last ? Breaks::Over{0.0, 0.0} : breaks.over(kBreakLimits[c]);
        const double by_lifting = from.by_lifting();
        const double by_cleaning = from.by_cleaning();
        const double lifting = by_lifting - to.by_lifting();
        const double cleaning = by_cleaning - to.by_cleaning();
        // The wider break decides; of two in one class, either as often.
        at(TailLies::in_the_soil)[c] = lifting * (1.0 - by_cleaning + 0.5 * cleaning);
        at(TailLies::on_the_ground)[c] = cleaning * (1.0 - by_lifting + 0.5 * lifting);
        from = to;
    }
    return outcome;
}

ToppingOutcome topping(const Predictors& predictors, const Topped& topped) {
    ToppingOutcome outcome;
    outcome.shares = topped.shares;
    const double with_leaf = topped.shares.untouched + topped.shares.leaf_left;
    outcome.stalks_over_2cm = with_leaf * chance_of(of(predictors, Predictor::long_stalks));
    outcome.slanted = chance_of(of(predictors, Predictor::slanted));
    outcome.over_topped =
        topped.shares.too_deep > 0.0 ? topped.mean_excess / topped.shares.too_deep : Length::zero();
    outcome.knocked_out = topped.shares.struck * share(predictors, Predictor::knocked_out);
    return outcome;
}

/// Turning and unloading take as long whatever the speed of lifting: of the usual speed, what its
/// field efficiency leaves.
WorkOutcome work(const Situation& situation, const WorkConstants& constants) {
    WorkOutcome outcome;
    outcome.area_rate = situation.width * situation.lifting_speed;
    const double lifting = 1.0 / outcome.area_rate.si();
    const double besides =
        (1.0 / constants.field_efficiency - 1.0) / (situation.width * situation.usual_speed).si();
    outcome.field_efficiency = lifting / (lifting + besides);
    outcome.fuel = VolumePerArea(constants.fuel_running * (lifting + besides) +
                                 constants.fuel_draft * situation.depth_over_needed_constant +
                                 constants.fuel_cleaning * situation.cleaning_effort +
                                 constants.fuel_rotor * situation.rotor_effort *
                                     (situation.usual_speed / situation.topping.forward_speed));
    return outcome;
}

}  // namespace

double chance_of(double log_odds) {
    return 1.0 / (1.0 + std::exp(-log_odds));
}

Breaks::Breaks(const Predictors& predictors)
    : at_all_{odds(of(predictors, Predictor::break_lifting)),
              odds(of(predictors, Predictor::break_cleaning))},
      slope_per_m_(std::exp(of(predictors, Predictor::break_slope))) {}

namespace {

ToppingConstants topping_constants_of(const Predictors& predictors) {
    return {.follower_error_m = std::exp(of(predictors, Predictor::follower_error)),
            .follower_lag_s = std::exp(of(predictors, Predictor::follower_lag)),
            .tuft_lift = of(predictors, Predictor::tuft_lift),
            .leaf_free_m = std::exp(of(predictors, Predictor::leaf_free)),
            .right_m = std::exp(of(predictors, Predictor::right_depth))};
}

Length remover_height(const Predictors& predictors, const Situation& situation) {
    return std::max(
        situation.topping.leaf_remover_height + Length(of(predictors, Predictor::remover_offset)),
        kThinnest);
}

CutDepths depths_of(const Predictors& predictors, const Situation& situation,
                    const ToppingConstants& constants) {
    ToppingSettings settings = situation.topping;
    settings.cut_thickness = std::max(
        settings.cut_thickness + Length(of(predictors, Predictor::knife_offset)), kThinnest);
    settings.leaf_remover_height = remover_height(predictors, situation);
    return cut_depths_unchecked(situation.crowns, settings, constants);
}

}  // namespace

Topped topped(const Predictors& predictors, const Situation& situation) {
    const ToppingConstants constants = topping_constants_of(predictors);
    return quickly_topped(depths_of(predictors, situation, constants), constants);
}

ToppingShares shares_of(const Predictors& predictors, const Situation& situation) {
    const ToppingConstants constants = topping_constants_of(predictors);
    return quick_shares(depths_of(predictors, situation, constants), constants);
}

double struck(const Predictors& predictors, const Situation& situation) {
    const double off = (remover_height(predictors, situation) - situation.crowns.mean).si();
    const double sd = situation.crowns.sd.si();
    return sd > 0.0 ? normal_cdf(-off / sd) : (off < 0.0 ? 1.0 : 0.0);
}

Outcome outcome(const Predictors& predictors, const Situation& situation,
                const WorkConstants& constants, const Topped& topped) {
    Outcome outcome;
    outcome.standing = situation.standing;
    outcome.topping = topping(predictors, topped);
    outcome.tails = tails(predictors);
    WholeRootOutcome& whole = outcome.whole_roots;
    whole.unlifted = share(predictors, Predictor::unlifted);
    whole.lost_before_cleaning = share(predictors, Predictor::through_rolls);
    whole.lost_through_guards = share(predictors, Predictor::through_guards);
    whole.mass = situation.standing *
                 std::min(outcome.topping.knocked_out + whole.unlifted +
                              constants.lost_root_mass *
                                  (whole.lost_before_cleaning + whole.lost_through_guards),
                          1.0);
    CleaningOutcome& cleaning = outcome.cleaning;
    cleaning.torn_skin = Area(std::exp(of(predictors, Predictor::torn_skin)));
    cleaning.soil_on_beets = SoilPerBeet(std::exp(of(predictors, Predictor::sticking_soil)));
    cleaning.loose_soil = SoilPerBeet(std::exp(of(predictors, Predictor::loose_soil)));
    outcome.work = work(situation, constants);
    return outcome;
}

Outcome outcome(const Predictors& predictors, const Situation& situation,
                const WorkConstants& constants) {
    return outcome(predictors, situation, constants, topped(predictors, situation));
}

}  // namespace beetwright::harvester
