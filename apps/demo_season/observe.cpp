#include "demo_season/observe.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "demo_season/chance.hpp"

namespace beetwright::demo {
namespace {

using check::Seen;
using check::Topping;
using std::chrono::hours;
using std::chrono::minutes;

constexpr int kBeetsPerSpot = 10;
constexpr double kHectaresPerDay = 14.0;

/// In working hours, two observations of a kind to a day, as long as the field is being lifted.
Instant moment(const Look& look, std::string_view kind, int number, hours first_hour) {
    const int days = static_cast<int>(std::ceil(look.plan.area_ha / kHectaresPerDay));
    const int day = std::min(number / 2, days - 1);
    const int turn = number - 2 * day;
    auto clock = stream_of(look, std::string("demo time ").append(kind), number);
    return (look.truth.lifted + day).on(kFirstDay) + first_hour + hours(3) * turn +
           minutes(clock.below(60));
}

/// What the beets of one spot have in common.
struct Spot {
    std::vector<double> topping;
    double tails = 1.0;
    double skin = 1.0;
    double rotten = 0.0;
    double frosted = 0.0;
};

Spot spot_about(const FieldTruth& truth, RandomStream& stream) {
    return {.topping = shares_about(stream, truth.topping, truth.topping_concentration),
            .tails = factor(stream, truth.tails.spot_log_sd),
            .skin = factor(stream, 0.2),
            .rotten = share_about(stream, truth.rotten, truth.rot_concentration),
            .frosted = share_about(stream, truth.frosted, truth.frost_concentration)};
}

using Limits = std::array<double, 6>;
constexpr Limits kClasses_cm{0.0, 2.0, 4.0, 6.0, 8.0, 12.0};
constexpr Limits kClasses_in{0.0, 0.75, 1.5, 2.5, 3.0, 5.0};

check::TipBreak in_class(Length diameter, const Reader& reader) {
    const Limits& limits = reader.is_us() ? kClasses_in : kClasses_cm;
    const Length unit = reader.is_us() ? unit::inch : unit::cm;
    std::size_t upper = 1;
    while (upper + 1 < limits.size() && diameter > limits[upper] * unit) {
        ++upper;
    }
    return {limits[upper - 1] * unit, limits[upper] * unit};
}

check::TipBreak seen_tail(const Look& look, const Spot& spot, const Reader& reader,
                          RandomStream& stream) {
    const TailBreaks& tails = look.truth.tails;
    if (stream.chance(tails.whole_share)) {
        return check::TipBreak::measured(Length::zero());
    }
    const Length diameter = gamma_about(stream, spot.tails, tails.shape) * tails.mean;
    if (look.plan.sampling.tails == TailsRead::in_classes) {
        return in_class(diameter, reader);
    }
    return check::TipBreak::measured(reader.read(diameter, scale::break_diameter));
}

Length seen_scar(const FieldTruth& truth, Topping topping, const Reader& reader,
                 RandomStream& stream) {
    const Length mean = truth.scars.mean[static_cast<std::size_t>(topping)];
    if (mean == Length::zero()) {
        return mean;
    }
    const Length scar = mean + stream.normal() * truth.scars.sd;
    return reader.read(std::max(scar, 1.0 * unit::cm), scale::scar_diameter);
}

constexpr double kSkinShape = 1.2;  // a few beets carry most of the torn skin

check::CountedBeet counted_beet(const Look& look, const Spot& spot, RandomStream& stream) {
    const Reader reader(look.units);
    const Sampling& sampling = look.plan.sampling;
    const bool measures = sampling.tails == TailsRead::measured;
    check::CountedBeet beet;
    beet.topping = static_cast<Topping>(pick(stream, spot.topping));
    beet.tip = seen_tail(look, spot, reader, stream);
    if (measures) {
        beet.scar = seen_scar(look.truth, beet.topping, reader, stream);
        beet.skin_damage = reader.read(
            gamma_about(stream, spot.skin, kSkinShape) * look.truth.skin_damage, scale::skin);
    }
    beet.rot = stream.chance(spot.rotten) ? Seen::yes : Seen::no;
    if (look.truth.lifted >= kFrostBegins) {
        beet.frost = stream.chance(spot.frosted) ? Seen::yes : Seen::no;
    }
    return beet;
}

}  // namespace

check::BeetSheet observed_sheet(const Look& look, int number) {
    auto chances = stream_of(look, "demo beets", number);
    check::BeetSheet sheet;
    sheet.at = moment(look, "sheet", number, hours(8));
    sheet.id = id_at(look, "sheet", number, sheet.at);
    sheet.field = look.plan.name;
    sheet.machine = look.plan.machine;
    sheet.operator_name = look.plan.operator_name;
    sheet.seen_at = look.plan.sampling.seen_at;
    for (int s = 1; s <= look.plan.sampling.spots; ++s) {
        const Spot spot = spot_about(look.truth, chances);
        for (int k = 0; k < kBeetsPerSpot; ++k) {
            auto beet = counted_beet(look, spot, chances);
            beet.spot = s;
            sheet.beets.push_back(beet);
        }
    }
    return sheet;
}

check::DugStrip observed_strip(const Look& look, int number) {
    auto chances = stream_of(look, "demo strip", number);
    const Reader reader(look.units);
    const MachinePlan& machine = machine_of(look.plan);
    constexpr double kRows = 6.0;
    const Area area =
        reader.is_us()
            ? kRows * (machine.row_spacing_in * unit::inch) * (machine.strip_ft * unit::foot)
            : kRows * (machine.row_spacing_cm * unit::cm) * (machine.strip_m * unit::m);
    // Whole roots come one at a time and in groups: a Poisson count about a place's own mean.
    constexpr double kRoot_kg = 0.85;
    constexpr double kPiece_kg = 0.15;
    const auto found = [&](CleanMassPerArea mean, double piece_kg, double place_shape) {
        const double expected = gamma_about(chances, (mean * area).si() / piece_kg, place_shape);
        const auto count = chances.poisson(expected);
        return count == 0 ? 0.0 : gamma_about(chances, count * piece_kg, 6.0 * count);
    };
    check::DugStrip strip;
    strip.at = moment(look, "strip", number, hours(9));
    strip.id = id_at(look, "strip", number, strip.at);
    strip.field = look.plan.name;
    strip.machine = look.plan.machine;
    strip.area = reader.read(area, scale::strip_area);
    const auto weigh = [&](double kg) { return reader.read(CleanMass(kg), scale::strip_mass); };
    strip.whole_roots = weigh(found(look.truth.whole_roots, kRoot_kg, 4.0));
    strip.pieces = weigh(found(look.truth.pieces, kPiece_kg, 6.0));
    // A search finds the tails near the surface, under half of them.
    strip.tails = weigh((0.4 * look.truth.tails_lost() * area).si() * factor(chances, 0.3));
    return strip;
}

check::TareSample observed_tare(const Look& look, int number) {
    auto chances = stream_of(look, "demo tare sample", number);
    const Reader reader(look.units);
    const double clean_kg = 24.0 + 2.0 * chances.normal();
    const double soil_kg = clean_kg * gamma_about(chances, look.truth.soil, 16.0);
    const double tops_kg = clean_kg * gamma_about(chances, look.truth.tops, 9.0);
    check::TareSample tare;
    tare.at = moment(look, "tare", number, hours(10));
    tare.id = id_at(look, "tare", number, tare.at);
    tare.field = look.plan.name;
    tare.gross = reader.read(MassWithSoil(clean_kg + soil_kg + tops_kg), scale::tare_mass);
    tare.soil = reader.read(Mass(soil_kg), scale::tare_mass);
    const bool sorts_tops = number % 2 == 0;  // it takes time: every other sample
    if (sorts_tops) {
        tare.tops = reader.read(Mass(tops_kg), scale::tare_mass);
    }
    return tare;
}

check::LabSample observed_lab(const Look& look, int number) {
    auto chances = stream_of(look, "demo lab sample", number);
    const Reader reader(look.units);
    check::LabSample lab;
    lab.at = moment(look, "lab", number, hours(11));
    lab.id = id_at(look, "lab", number, lab.at);
    lab.field = look.plan.name;
    // Samples within a field differ more than a laboratory's repeats: SD 0.3 % together.
    lab.pol =
        reader.read(look.truth.pol + 0.3 * chances.normal() * unit::percent_sugar, scale::pol);
    const auto analysed = [&](AmountContent truth, double log_sd) {
        return reader.read(factor(chances, log_sd) * truth, scale::amount);
    };
    const bool pol_only = number == 2;
    if (!pol_only) {
        lab.potassium = analysed(look.truth.potassium, 0.06);
        lab.sodium = analysed(look.truth.sodium, 0.12);
        lab.amino_nitrogen = analysed(look.truth.amino_nitrogen, 0.10);
    }
    return lab;
}

Correction corrected(const Look& look, const check::BeetSheet& sheet) {
    Correction both{.wrong = sheet, .right = sheet};
    for (auto& beet : both.wrong.beets) {
        if (beet.topping == Topping::petioles_short) {
            beet.topping = Topping::too_deep;
        } else if (beet.topping == Topping::too_deep) {
            beet.topping = Topping::petioles_short;
        }
    }
    constexpr int kCorrection = 1000;  // a number no other sheet of the field has
    both.right.at = sheet.at + hours(9);
    both.right.id = id_at(look, "sheet", kCorrection, both.right.at);
    both.right.supersedes = both.wrong.id;
    return both;
}

}  // namespace beetwright::demo
