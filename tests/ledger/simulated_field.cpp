#include "ledger/simulated_field.hpp"

#include <cmath>
#include <numbers>
#include <string>

#include "beet/topping.hpp"

namespace beetwright::ledger::simulated {
namespace {

double between(RandomStream& random, double low, double high) {
    return low + (high - low) * random.uniform();
}

double lognormal_of_mean_one(RandomStream& random, double cv) {
    const double variance = std::log1p(cv * cv);
    return std::exp(std::sqrt(variance) * random.normal() - 0.5 * variance);
}

// A spot's own share about the field's: beta with the given intra-spot correlation.
double spot_share(RandomStream& random, double share, double alikeness) {
    if (alikeness <= 0.0) {
        return share;
    }
    const double size = 1.0 / alikeness - 1.0;
    return random.beta(share * size, (1.0 - share) * size);
}

/// Break diameters vary less by spot than what they cost, which goes with about their square.
double break_level_cv(double alikeness) {
    return 0.5 * std::sqrt(alikeness);
}

/// E[L^power] of a lognormal L of mean one.
double lognormal_moment(double cv, double power) {
    return std::exp(0.5 * power * (power - 1.0) * std::log1p(cv * cv));
}

check::Seen seen(RandomStream& random, double share) {
    return random.chance(share) ? check::Seen::yes : check::Seen::no;
}

void count_beets(check::BeetSheet& sheet, const FieldTruth& truth, const Looking& looking,
                 RandomStream& random) {
    const double alikeness = truth.alikeness;
    for (int spot = 1; spot <= looking.spots; ++spot) {
        const double deep = spot_share(random, truth.deep_share, alikeness);
        const double slanted = spot_share(random, truth.slanted_share, alikeness);
        const double petioles = spot_share(random, truth.long_petioles, alikeness);
        const double rotten = spot_share(random, truth.rotten, alikeness);
        const double frosted = spot_share(random, truth.frosted, alikeness);
        const double whole_tails = spot_share(random, truth.whole_tail_share, alikeness);
        const double break_level = lognormal_of_mean_one(random, break_level_cv(alikeness));
        const double level = lognormal_of_mean_one(random, std::sqrt(alikeness));
        for (int b = 0; b < looking.beets_per_spot; ++b) {
            check::CountedBeet beet;
            beet.spot = spot;
            // One class a beet; the classes are rare enough to be drawn one after another, each
            // scaled so that its share over all beets is the truth.
            const double u = random.uniform();
            beet.topping = u < deep                        ? check::Topping::too_deep
                           : u < deep + slanted            ? check::Topping::slanted
                           : u < deep + slanted + petioles ? check::Topping::petioles_long
                                                           : check::Topping::correct;
            const bool whole = random.chance(whole_tails);
            const double diameter =
                whole ? 0.0 : truth.break_scale_m * break_level * random.gamma(truth.break_shape);
            beet.tip = check::TipBreak::measured(Length(diameter));
            beet.skin_damage =
                Area(truth.skin_damage_m2 * level * random.gamma(kSkinShape) / kSkinShape);
            const bool is_deep = beet.topping == check::Topping::too_deep;
            const double mean_scar_m = is_deep ? truth.deep_scar_m : truth.scar_m;
            beet.scar = Length(mean_scar_m * random.gamma(kScarShape) / kScarShape);
            beet.rot = seen(random, rotten);
            beet.frost = seen(random, frosted);
            sheet.beets.push_back(beet);
        }
    }
}

}  // namespace

double FieldTruth::tail_moment(double exponent) const {
    // E[X^p] of a gamma distribution: scale^p G(shape + p) / G(shape).
    const double relative_scale = break_scale_m / 0.05;
    return (1.0 - whole_tail_share) * std::pow(relative_scale, exponent) *
           lognormal_moment(break_level_cv(alikeness), exponent) *
           std::exp(std::lgamma(break_shape + exponent) - std::lgamma(break_shape));
}

double FieldTruth::tail_break_area_m2() const {
    const double square = break_scale_m * break_scale_m * break_shape * (break_shape + 1.0);
    return (1.0 - whole_tail_share) * 0.25 * std::numbers::pi * square *
           lognormal_moment(break_level_cv(alikeness), 2.0);
}

double FieldTruth::scar_area_m2() const {
    const double square =
        (1.0 - deep_share) * scar_m * scar_m + deep_share * deep_scar_m * deep_scar_m;
    return 0.25 * std::numbers::pi * square * (1.0 + 1.0 / kScarShape);
}

double FieldTruth::deep_scars(double widest_m) const {
    // The gamma distribution's density by the midpoint rule, out to five of its means.
    constexpr int kSteps = 2000;
    const double step = 5.0 / kSteps;
    double sum = 0.0;
    for (int i = 0; i < kSteps; ++i) {
        const double x = (i + 0.5) * step;
        const double log_density = kScarShape * std::log(kScarShape) - std::lgamma(kScarShape) +
                                   (kScarShape - 1.0) * std::log(x) - kScarShape * x;
        sum += step * std::exp(log_density) * beet::crown_above_scar(deep_scar_m * x / widest_m);
    }
    return sum;
}

FieldTruth draw_truth(RandomStream& random, double usual_alikeness) {
    FieldTruth t;
    t.alikeness = usual_alikeness * lognormal_of_mean_one(random, 0.5);
    t.deep_share = between(random, 0.04, 0.25);
    t.slanted_share = between(random, 0.03, 0.15);
    t.long_petioles = between(random, 0.03, 0.20);
    t.break_shape = between(random, 1.5, 4.0);
    t.break_scale_m = between(random, 0.012, 0.030) / t.break_shape;
    t.whole_tail_share = between(random, 0.1, 0.5);
    t.skin_damage_m2 = between(random, 5e-4, 40e-4);
    t.rotten = between(random, 0.01, 0.06);
    t.frosted = between(random, 0.01, 0.06);
    t.scar_m = between(random, 0.025, 0.055);
    t.deep_scar_m = between(random, 0.06, 0.09);
    t.standing_kg_m2 = between(random, 5.5, 10.5);
    t.whole_roots_kg_m2 = between(random, 0.02, 0.2);
    t.pieces_kg_m2 = between(random, 0.01, 0.08);
    t.soil = between(random, 0.04, 0.20);
    t.tops = between(random, 0.01, 0.04);
    t.pol = between(random, 0.155, 0.19);
    t.potassium = between(random, 0.030, 0.050);
    t.sodium = between(random, 0.002, 0.010);
    t.amino_nitrogen = between(random, 0.008, 0.025);
    return t;
}

void observe(Season& season, const std::string& name, const FieldTruth& truth,
             double delivered_kg_m2, const Looking& looking, RandomStream& random,
             const Catalogue& catalogue) {
    const Day lifted = season.first_day + std::chrono::days(20);
    const Instant at = lifted + std::chrono::hours(9);
    Field field;
    field.name = name;
    field.area = 10.0 * unit::ha;
    field.destination = season.destinations.front().name;
    field.haul = 20.0 * unit::km;
    field.lifted = lifted;
    field.sliced = lifted + std::chrono::days(80);
    season.fields.push_back(field);
    const auto id = [&](std::uint64_t number) {
        return Uuid::version7(at, stable_hash(name), number);
    };

    check::BeetSheet sheet;
    sheet.id = id(1);
    sheet.field = name;
    sheet.at = at;
    count_beets(sheet, truth, looking, random);
    season.beet_sheets.push_back(std::move(sheet));

    // How far samples of a field differ is the catalogue's usual spread, known as well as the
    // catalogue says: as from this many degrees of freedom, so its variance is scaled inverse
    // chi-squared.
    const double freedom = catalogue.value(ConstantId::check_usual_spread_weight);
    const auto usually = [&](ConstantId spread) {
        return catalogue.value(spread) * std::sqrt(freedom / (2.0 * random.gamma(0.5 * freedom)));
    };
    const double strip_cv = usually(ConstantId::check_strip_cv);
    const double tare_cv = usually(ConstantId::check_tare_cv);
    const double pol_sd = usually(ConstantId::check_pol_sd);
    const double potassium_cv = usually(ConstantId::check_potassium_cv);
    const double sodium_cv = usually(ConstantId::check_sodium_cv);
    const double amino_nitrogen_cv = usually(ConstantId::check_amino_nitrogen_cv);
    for (int s = 0; s < looking.strips; ++s) {
        check::DugStrip strip;
        strip.id = id(100 + static_cast<std::uint64_t>(s));
        strip.field = name;
        strip.at = at;
        strip.area = 60.0 * unit::m2;
        strip.whole_roots =
            CleanMass(60.0 * truth.whole_roots_kg_m2 * lognormal_of_mean_one(random, strip_cv));
        strip.pieces =
            CleanMass(60.0 * truth.pieces_kg_m2 * lognormal_of_mean_one(random, strip_cv));
        strip.tails = CleanMass::zero();
        season.strips.push_back(strip);
    }
    for (int s = 0; s < looking.tares; ++s) {
        check::TareSample tare;
        tare.id = id(200 + static_cast<std::uint64_t>(s));
        tare.field = name;
        tare.at = at;
        const double clean_kg = 20.0;
        tare.soil = Mass(clean_kg * truth.soil * lognormal_of_mean_one(random, tare_cv));
        tare.tops = Mass(clean_kg * truth.tops * lognormal_of_mean_one(random, tare_cv));
        tare.gross = MassWithSoil(clean_kg + tare.soil.si() + tare.tops.si());
        season.tares.push_back(tare);
    }
    for (int s = 0; s < looking.labs; ++s) {
        check::LabSample lab;
        lab.id = id(300 + static_cast<std::uint64_t>(s));
        lab.field = name;
        lab.at = at;
        lab.pol = SugarContent(truth.pol + pol_sd * random.normal());
        lab.potassium =
            AmountContent(truth.potassium * lognormal_of_mean_one(random, potassium_cv));
        lab.sodium = AmountContent(truth.sodium * lognormal_of_mean_one(random, sodium_cv));
        lab.amino_nitrogen =
            AmountContent(truth.amino_nitrogen * lognormal_of_mean_one(random, amino_nitrogen_cv));
        season.labs.push_back(lab);
    }
    Load load;
    load.id = id(400);
    load.field = name;
    load.at = at;
    load.destination = field.destination;
    const double error = catalogue.value(ConstantId::weighing_error) * random.normal();
    load.gross = MassWithSoil(field.area.si() * delivered_kg_m2 * (1.0 + truth.soil + truth.tops) *
                              (1.0 + error));
    season.loads.push_back(load);
}

}  // namespace beetwright::ledger::simulated
