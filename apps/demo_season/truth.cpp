#include "demo_season/truth.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "beet/tip.hpp"
#include "demo_season/chance.hpp"

namespace beetwright::demo {
namespace {

using check::Topping;

/// What a field's truth is made from.
struct Setting {
    const FieldPlan& plan;
    double clay;
    double dry;
    double wet;
    double coldest_celsius;  ///< night up to its lifting
    std::uint64_t seed;

    [[nodiscard]] bool has(Happening happening) const { return plan.happening == happening; }
    [[nodiscard]] RandomStream stream(std::string_view purpose) const {
        return {seed, purpose, plan.name};
    }
};

double& share(FieldTruth& truth, Topping topping) {
    return truth.topping[static_cast<std::size_t>(topping)];
}

Length& scar(FieldTruth& truth, Topping topping) {
    return truth.scars.mean[static_cast<std::size_t>(topping)];
}

void set_crop(const Setting& at, FieldTruth& truth) {
    auto stream = at.stream("demo crop");
    const int day = at.plan.lifting_day;
    // Light soils ran dry in summer; growth goes on until early November.
    const double soil_t_per_ha = -26.0 * (at.clay - 0.55) * (at.clay - 0.55);
    const double grown_t_per_ha = 0.3 * (std::min(day, 45) - 28);
    double yield = 84.0 + soil_t_per_ha + grown_t_per_ha + 6.5 * stream.normal();
    double pol = 17.0 + 0.032 * std::min(day, 50) - 1.0 * at.wet + 0.35 * stream.normal();
    if (at.has(Happening::leaf_disease)) {
        yield -= 12.0;
        pol -= 1.7;
    }
    truth.standing = std::clamp(yield, 56.0, 104.0) * unit::t_clean_per_ha;
    truth.pol = std::clamp(pol, 15.2, 18.9) * unit::percent_sugar;
    const double leaf_regrowth = at.has(Happening::leaf_disease) ? 1.25 : 1.0;
    truth.potassium =
        (3.5 + 0.9 * at.clay) * factor(stream, 0.08) * leaf_regrowth * unit::mmol_per_100g;
    truth.sodium = 0.45 * factor(stream, 0.25) * leaf_regrowth * unit::mmol_per_100g;
    truth.amino_nitrogen =
        (1.3 + 0.3 * at.wet) * factor(stream, 0.18) * leaf_regrowth * unit::mmol_per_100g;
}

/// The share below z of a normal distribution, between two limits.
double between(double low, double high, double mean, double sd) {
    return normal_cdf((high - mean) / sd) - normal_cdf((low - mean) / sd);
}

// The topper follows the crowns with an error of its own and part of their unevenness; where it
// cuts, in mm below the leaf bases, is normal. Limits are where a judge would draw them.
void set_topping(const Setting& at, FieldTruth& truth) {
    auto stream = at.stream("demo topping");
    const bool tall = at.has(Happening::leaf_disease);
    const double height_mm = (tall ? 95.0 : 52.0) * factor(stream, 0.08);
    const double height_sd_mm = (tall ? 26.0 : 13.0 + 4.0 * at.dry) * factor(stream, 0.08);
    truth.crown_height = height_mm * unit::mm;
    truth.crown_height_sd = height_sd_mm * unit::mm;

    const double sd_mm = std::hypot(5.0, 0.4 * height_sd_mm);
    const double cut_mm =
        operator_of(at.plan).topper_bias_mm + 1.5 * at.dry + 0.8 * stream.normal();
    const MachinePlan& machine = machine_of(at.plan);
    const bool blunt = CampaignDay(at.plan.lifting_day) < kNewKnives;
    const double slanted = (blunt ? machine.slanted_share_blunt : machine.slanted_share) *
                           (tall ? 1.8 : 1.0) * gamma_about(stream, 1.0, 20.0);
    const double rest = 1.0 - slanted;
    constexpr double kFar = 1e3;
    share(truth, Topping::slanted) = slanted;
    share(truth, Topping::too_deep) = rest * between(11.0, kFar, cut_mm, sd_mm);
    share(truth, Topping::correct) = rest * between(-8.0, 11.0, cut_mm, sd_mm);
    share(truth, Topping::petioles_short) = rest * between(-12.0, -8.0, cut_mm, sd_mm);
    share(truth, Topping::petioles_long) = rest * between(-kFar, -12.0, cut_mm, sd_mm);
    truth.topping_concentration = 25.0;

    truth.scars.mean.fill(Length::zero());
    scar(truth, Topping::correct) = (tall ? 4.6 : 3.9) * unit::cm;
    scar(truth, Topping::too_deep) = (tall ? 9.2 : 8.8) * unit::cm;
    scar(truth, Topping::slanted) = 5.2 * unit::cm;
    truth.scars.sd = 0.8 * unit::cm;
}

void set_lifting(const Setting& at, FieldTruth& truth) {
    auto stream = at.stream("demo lifting");
    const double hand = operator_of(at.plan).break_factor;
    truth.tails.whole_share = std::clamp(0.16 + 0.1 * at.dry - 0.06 * at.wet, 0.0, 1.0);
    truth.tails.mean =
        (2.1 - 0.35 * at.dry + 0.4 * at.wet) * hand * factor(stream, 0.08) * unit::cm;
    truth.tails.spot_log_sd = 0.10;
    truth.skin_damage = (9.0 + 12.0 * at.wet) * hand * gamma_about(stream, 1.0, 25.0) * unit::cm2;
    const double worn = machine_of(at.plan).whole_root_factor;
    const double whole = 0.5 * worn * (1.0 + 0.4 * at.dry + 0.3 * at.clay);
    truth.whole_roots = gamma_about(stream, whole, 4.0) * unit::t_clean_per_ha;
    truth.pieces = gamma_about(stream, 0.26 * (1.0 + 0.4 * at.wet), 6.0) * unit::t_clean_per_ha;
}

void set_health(const Setting& at, FieldTruth& truth) {
    auto stream = at.stream("demo health");
    const bool nest = at.has(Happening::rot_nest);
    truth.rotten = (nest ? 0.09 : 0.004) * gamma_about(stream, 1.0, 12.0);
    // A nest: most spots are clean, a few are full of it.
    truth.rot_concentration = nest ? 1.5 : 30.0;
    // The crown in the ground feels about a third of the night's cold; from the curve of Wyse 1978
    // (8 % of cells hurt at -1 °C, 14 % at -2, 39 % at -3), a fifteenth of beets per kelvin below
    // -1 °C comes close enough for a story.
    const double crown_celsius = at.coldest_celsius / 3.0;
    truth.frosted =
        std::clamp(-1.0 - crown_celsius, 0.0, 3.0) / 15.0 * gamma_about(stream, 1.0, 12.0);
    truth.frost_concentration = 12.0;
}

void set_tare(const Setting& at, FieldTruth& truth) {
    auto stream = at.stream("demo tare");
    // Moisture rules soil tare, and clay makes it worse; in the dry it is clods.
    const double clods = 0.035 * at.clay * at.dry;
    const double smear = at.wet * (0.035 + 0.12 * at.clay);
    truth.soil =
        std::clamp((0.042 + 0.015 * at.clay + clods + smear) * factor(stream, 0.12), 0.03, 0.25);
    const double uncut = share(truth, Topping::petioles_long);
    truth.tops = (0.011 + 0.06 * uncut) * factor(stream, 0.15);
}

}  // namespace

LossPhysics loss_physics(const Catalogue& catalogue) {
    const auto get = [&](ConstantId id) { return catalogue.value(id); };
    const auto tip = beet::tip_constants(get);
    return {.tail_loss_at_5cm = tip.loss_at_5cm,
            .tail_exponent = tip.exponent,
            .scars = beet::scar_constants(get),
            .slanted_cut = beet::loss_of_slanted_cut(get),
            .piled = Density(get(ConstantId::pile_bulk_density))};
}

double ToppingScars::loss_of_deep_cut(const beet::ScarConstants& constants) const {
    // The mean over the scars' normal distribution, by the midpoint rule.
    constexpr int kSteps = 200;
    constexpr double kFar = 5.0;
    const Length middle = mean[static_cast<std::size_t>(Topping::too_deep)];
    double above = 0.0;
    double weight = 0.0;
    for (int i = 0; i < kSteps; ++i) {
        const double z = kFar * ((2.0 * i + 1.0) / kSteps - 1.0);
        const double density = std::exp(-0.5 * z * z);
        above += density * beet::crown_above_scar((middle + z * sd).si() / constants.widest_m);
        weight += density;
    }
    return beet::over_topping_loss_of_scars(above / weight, constants);
}

double TailBreaks::moment(double exponent) const {
    const double about_mean =
        std::exp(std::lgamma(shape + exponent) - std::lgamma(shape) - exponent * std::log(shape));
    const double spots =
        std::exp(0.5 * spot_log_sd * spot_log_sd * (exponent * exponent - exponent));
    return (1.0 - whole_share) * std::pow(mean / (5.0 * unit::cm), exponent) * about_mean * spots;
}

Area TailBreaks::open_area() const {
    return std::numbers::pi / 4.0 * moment(2.0) * (5.0 * unit::cm) * (5.0 * unit::cm);
}

FieldTruth field_truth(const FieldPlan& plan, const Weather& weather, std::uint64_t seed,
                       const LossPhysics& physics) {
    FieldTruth truth;
    truth.field = plan.name;
    truth.lifted = CampaignDay(plan.lifting_day);
    truth.dryness = weather.dryness(truth.lifted);
    truth.wetness = weather.wetness(truth.lifted);
    const Setting at{.plan = plan,
                     .clay = clay_of(plan.soil),
                     .dry = truth.dryness,
                     .wet = truth.wetness,
                     .coldest_celsius = weather.coldest_night_celsius(truth.lifted),
                     .seed = seed};
    set_crop(at, truth);
    set_topping(at, truth);
    set_lifting(at, truth);
    set_health(at, truth);
    set_tare(at, truth);
    truth.over_topped_share =
        share(truth, Topping::too_deep) * truth.scars.loss_of_deep_cut(physics.scars) +
        share(truth, Topping::slanted) * physics.slanted_cut;
    truth.tail_share = physics.tail_loss_at_5cm * truth.tails.moment(physics.tail_exponent);
    return truth;
}

std::vector<FieldTruth> season_truth(const Weather& weather, std::uint64_t seed,
                                     const LossPhysics& physics) {
    std::vector<FieldTruth> all;
    for (const auto& plan : field_plans()) {
        all.push_back(field_truth(plan, weather, seed, physics));
    }
    return all;
}

}  // namespace beetwright::demo
