#include "harvester/parameter.hpp"

#include <array>
#include <cmath>

#include "base/contract.hpp"
#include "base/estimate.hpp"

namespace beetwright::harvester {
namespace {

using enum ConstantId;
using P = Predictor;
using T = Term;

constexpr Parameter level(ConstantId constant, Predictor predictor, Stage stage) {
    return {constant, predictor, Term::one, stage};
}
constexpr Parameter slope(ConstantId constant, Predictor predictor, Term term) {
    return {constant, predictor, term, std::nullopt};
}

constexpr std::array kAll{
    level(harvester_break_lifting, P::break_lifting, Stage::lifting_shares),
    slope(harvester_break_shallow, P::break_lifting, T::shallow),
    slope(harvester_break_hard, P::break_lifting, T::hard),
    slope(harvester_break_faster, P::break_lifting, T::faster),
    slope(harvester_break_rushing, P::break_lifting, T::rushing),
    level(harvester_break_cleaning, P::break_cleaning, Stage::turbines),
    slope(harvester_break_thin, P::break_cleaning, T::turbines_thin),
    slope(harvester_break_turbines, P::break_cleaning, T::turbines),
    slope(harvester_break_rolls, P::break_cleaning, T::rolls_thin),
    slope(harvester_break_tined, P::break_cleaning, T::tined),
    slope(harvester_break_reversed, P::break_cleaning, T::reversed),
    slope(harvester_break_slope, P::break_slope, T::one),
    level(harvester_unlifted, P::unlifted, Stage::lifting_shares),
    slope(harvester_unlifted_shallow, P::unlifted, T::shallow),
    slope(harvester_unlifted_faster, P::unlifted, T::faster),
    slope(harvester_unlifted_rushing, P::unlifted, T::rushing),
    level(harvester_through_rolls, P::through_rolls, Stage::roller_bed),
    slope(harvester_rolls_wide, P::through_rolls, T::gap_over_root),
    slope(harvester_bed_high, P::through_rolls, T::bed_height),
    level(harvester_through_guards, P::through_guards, Stage::turbines),
    slope(harvester_guards_tined, P::through_guards, T::tined),
    slope(harvester_guards_high, P::through_guards, T::guard_height),
    slope(harvester_guards_large, P::through_guards, T::root_mass),
    slope(harvester_guards_thin, P::through_guards, T::turbines_thin),
    slope(harvester_knocked_out, P::knocked_out, T::one),
    slope(harvester_knocked_rotor, P::knocked_out, T::rotor),
    level(harvester_torn_skin, P::torn_skin, Stage::turbines),
    slope(harvester_skin_thin, P::torn_skin, T::turbines_thin),
    slope(harvester_skin_turbines, P::torn_skin, T::turbines),
    slope(harvester_skin_rolls, P::torn_skin, T::rolls_thin),
    slope(harvester_skin_hard, P::torn_skin, T::hard),
    slope(harvester_skin_drop, P::torn_skin, T::drop),
    level(harvester_sticking_soil, P::sticking_soil, Stage::roller_bed),
    slope(harvester_soil_wet, P::sticking_soil, T::wet),
    slope(harvester_soil_deep, P::sticking_soil, T::deep_by_wet),
    slope(harvester_soil_turbines, P::sticking_soil, T::turbines_over_flow),
    slope(harvester_soil_rolls, P::sticking_soil, T::rolls_in_wet),
    slope(harvester_soil_tined, P::sticking_soil, T::tined_in_wet),
    slope(harvester_soil_guards_high, P::sticking_soil, T::guards_high_in_wet),
    slope(harvester_soil_bed_high, P::sticking_soil, T::bed_high_in_wet),
    slope(harvester_soil_rolls_wide, P::sticking_soil, T::gap_in_wet),
    slope(harvester_soil_reversed, P::sticking_soil, T::reversed_in_wet),
    level(harvester_loose_soil, P::loose_soil, Stage::roller_bed),
    slope(harvester_loose_cleaned, P::loose_soil, T::cleaning_power),
    slope(harvester_loose_hard, P::loose_soil, T::hard),
    slope(harvester_loose_deep, P::loose_soil, T::deep_by_hard),
    slope(harvester_loose_rolls_wide, P::loose_soil, T::gap),
    level(harvester_knife_offset, P::knife_offset, Stage::scalper),
    level(harvester_remover_offset, P::remover_offset, Stage::leaf_remover),
    slope(harvester_follower_error, P::follower_error, T::one),
    slope(harvester_follower_lag, P::follower_lag, T::one),
    slope(harvester_tuft_lift, P::tuft_lift, T::one),
    slope(harvester_leaf_free_depth, P::leaf_free, T::one),
    slope(harvester_right_depth, P::right_depth, T::one),
    level(harvester_long_stalks, P::long_stalks, Stage::leaf_remover),
    slope(harvester_stalks_limp, P::long_stalks, T::limp),
    slope(harvester_stalks_rotor, P::long_stalks, T::rotor_on_leaf),
    slope(harvester_stalks_tuft, P::long_stalks, T::tuft),
    level(harvester_slanted, P::slanted, Stage::scalper),
    slope(harvester_slanted_faster, P::slanted, T::topping_faster),
    slope(harvester_tails_found, P::tails_found, T::one),
};
static_assert(kAll.size() == kParameters);

constexpr std::size_t count_levels() {
    std::size_t count = 0;
    for (const Parameter& parameter : kAll) {
        count += parameter.level_of.has_value() ? 1U : 0U;
    }
    return count;
}
constexpr auto kLevels = [] {
    std::array<std::size_t, count_levels()> places{};
    std::size_t next = 0;
    for (std::size_t p = 0; p < kAll.size(); ++p) {
        if (kAll[p].level_of.has_value()) {
            places[next++] = p;
        }
    }
    return places;
}();
static_assert(kLevels.size() == kLevelCount);

}  // namespace

std::span<const Parameter> parameters() {
    return kAll;
}

std::span<const std::size_t> levels() {
    return kLevels;
}

Prior prior(const Parameter& parameter, const Catalogue& catalogue) {
    const auto& row = catalogue_rows()[static_cast<std::size_t>(parameter.constant)];
    const auto scale = [&](double value) {
        return row.spread == Spread::lognormal ? std::log(value) : value;
    };
    const double low = scale(catalogue.at_score(parameter.constant, -1.0));
    const double high = scale(catalogue.at_score(parameter.constant, 1.0));
    return {.mean = scale(catalogue.value(parameter.constant)), .sd = 0.5 * (high - low)};
}

Predictors predictors(const Situation& situation, std::span<const double> values) {
    require(values.size() == kParameters, "a value of each parameter");
    Predictors sums{};
    for (std::size_t p = 0; p < kParameters; ++p) {
        sums[static_cast<std::size_t>(kAll[p].predictor)] += values[p] * situation.of(kAll[p].term);
    }
    return sums;
}

}  // namespace beetwright::harvester
