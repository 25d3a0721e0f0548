#include "demo_season/standing.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "demo_season/chance.hpp"
#include "demo_season/reading.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;

constexpr int kBeetsMeasured = 20;
constexpr int kDaysFromMidAugust = 36;  // to the campaign's first day
constexpr double kSpotRoot = 0.2;       // scatter of one dug spot about its field, a share
constexpr double kSpotPol_percent = 0.7;
// A hand digs where beets stand; a field has gaps, tracks and headlands as well.
constexpr double kDugOverStanding = 1.18;
constexpr std::array kLeafSteps{0.0, 0.05, 0.10, 0.25, 0.50, 0.75};

/// How far a trait has come of all that it gains, when its rate falls evenly to nothing.
double gained(double day, double turn_day) {
    const double share = std::clamp(day / turn_day, 0.0, 1.0);
    return share * (2.0 - share);
}

/// What is in the ground on a day, reckoned back from what will be lifted. Days from mid-August.
struct Crop {
    CleanMassPerArea roots;
    SugarContent pol;
    double salts = 1.0;  ///< over what they are when it is lifted
};

Crop crop_on(const FieldTruth& truth, double day) {
    constexpr double kRootsTurn = 129.0;
    constexpr double kSugarTurn = 84.0;
    constexpr auto kRootsGain = 50.0 * unit::t_clean_per_ha;  // by the turn
    constexpr auto kPolGain = 1.3 * unit::percent_sugar;
    constexpr double kSaltsLoss = 0.2;
    const double lifted = kDaysFromMidAugust + truth.lifted.number();
    const double roots = gained(lifted, kRootsTurn) - gained(day, kRootsTurn);
    const double sugar = gained(lifted, kSugarTurn) - gained(day, kSugarTurn);
    return {.roots = kDugOverStanding * truth.standing - roots * kRootsGain,
            .pol = truth.pol - sugar * kPolGain,
            .salts = 1.0 + kSaltsLoss * sugar};
}

void dig(const Look& look, Visit visit, double day, RandomStream& chances,
         check::StandingLook& seen) {
    const Reader reader(look.units);
    const Crop crop = crop_on(look.truth, day);
    // Half as many again on a large field; each spot is three metres of two rows.
    seen.spots = look.plan.area_ha > 15.0 ? 6 : 4;
    const double of_mean = 1.0 / std::sqrt(seen.spots);
    seen.area = reader.read(seen.spots * 2.7 * unit::m2, scale::strip_area);
    const auto roots = factor(chances, kSpotRoot * of_mean) * crop.roots * seen.area;
    seen.roots = reader.read(roots, scale::strip_mass);
    seen.pol = reader.read(
        crop.pol + kSpotPol_percent * of_mean * chances.normal() * unit::percent_sugar, scale::pol);
    const auto analysed = [&](AmountContent lifted, double log_sd) {
        return reader.read(factor(chances, log_sd) * crop.salts * lifted, scale::amount);
    };
    seen.potassium = analysed(look.truth.potassium, 0.08);
    seen.sodium = analysed(look.truth.sodium, 0.15);
    seen.amino_nitrogen = analysed(look.truth.amino_nitrogen, 0.12);
    if (visit == Visit::september) {
        const bool is_sick = look.plan.happening == Happening::leaf_disease;
        const std::size_t step = is_sick ? 4 : chances.below(3);
        seen.leaf_sick = reader.read(kLeafSteps[step], scale::percent);
    }
}

void measure(const Look& look, Day day, RandomStream& chances, check::StandingLook& seen) {
    const Reader reader(look.units);
    for (int i = 0; i < kBeetsMeasured; ++i) {
        const Length height =
            look.truth.crown_height + chances.normal() * look.truth.crown_height_sd;
        seen.crowns.push_back(reader.read(height, scale::crown));
    }
    if (day >= kFrostBegins.on(kFirstDay)) {
        seen.leaf_frozen = check::Seen::yes;
    }
}

Day day_of(const Look& look, Visit visit, RandomStream& clock) {
    const Day mid_august = kFirstDay - days(kDaysFromMidAugust);
    const auto late = days(clock.below(4));
    switch (visit) {
        case Visit::august: return mid_august + late;
        case Visit::september: return mid_august + days(30) + late;
        case Visit::before_lifting: break;
    }
    const int before = look.truth.lifted.number() - 3;
    return CampaignDay(std::min(before, kToldOn.number() - 1)).on(kFirstDay);
}

}  // namespace

check::StandingLook observed_standing(const Look& look, Visit visit) {
    const int number = static_cast<int>(visit);
    auto clock = stream_of(look, "demo time standing", number);
    auto chances = stream_of(look, "demo standing", number);
    const Day day = day_of(look, visit, clock);
    check::StandingLook seen;
    seen.at = day + hours(9) + minutes(clock.below(420));
    seen.id = id_at(look, "standing", number, seen.at);
    seen.field = look.plan.name;
    if (visit == Visit::before_lifting) {
        measure(look, day, chances, seen);
    } else {
        const Day mid_august = kFirstDay - days(kDaysFromMidAugust);
        dig(look, visit, static_cast<double>((day - mid_august).count()), chances, seen);
    }
    return seen;
}

}  // namespace beetwright::demo
