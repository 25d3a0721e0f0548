#include "engine/zones_question.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <map>

#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "base/random.hpp"
#include "base/sorted.hpp"
#include "engine/harvester_basis.hpp"
#include "engine/lie_beliefs.hpp"
#include "engine/zone_worth.hpp"
#include "ground/prominence.hpp"
#include "harvester/entry.hpp"

namespace beetwright::engine {
namespace {

using ground::Lie;

/// As wide as so many passes, so that some of them lie in it whole.
constexpr double kPassesWide = 3.0;
/// As long as is driven in so many seconds, so that a crew has time to look up.
constexpr double kLeastStretch_s = 10.0;
constexpr double kCellsLong = 4.0;
/// Differences of so small a share of the least relief are none.
constexpr double kNone = 0.1;
/// Ground stands out where it does by so many times what is not known of a height.
constexpr double kSure = 3.0;
/// Prime to the number of draws.
constexpr std::size_t kStride = 467;

/// A patch with what is known of its worth.
struct Weighed {
    const ground::Patch* patch = nullptr;
    ZoneFound found;
    std::vector<double> gains;  ///< [money], draw by draw
};

ground::Position middle_of(const ground::Surface& surface, const std::vector<std::size_t>& cells) {
    ground::Point sum;
    for (const auto cell : cells) {
        const auto at = surface.grid.middle(cell);
        sum.east_m += at.east_m / static_cast<double>(cells.size());
        sum.north_m += at.north_m / static_cast<double>(cells.size());
    }
    return surface.plane.to_earth(sum);
}

Area area_of(const ground::Surface& surface, std::size_t cells) {
    return Area(static_cast<double>(cells) * surface.grid.cell_m * surface.grid.cell_m);
}

/// Level ground everywhere that is known, and each patch under its number from 2.
ground::ZoneLayer layer_of(const ground::Surface& surface,
                           const std::vector<const ground::Patch*>& patches) {
    ground::ZoneLayer zones(surface.grid.size(), 0);
    for (std::size_t cell = 0; cell < zones.size(); ++cell) {
        zones[cell] = std::isfinite(surface.height_m[cell]) ? 1 : 0;
    }
    for (std::size_t i = 0; i < patches.size(); ++i) {
        for (const auto cell : patches[i]->cells) {
            zones[cell] = static_cast<int>(i) + 2;
        }
    }
    return zones;
}

Estimate<Money> money_of(const std::vector<double>& draws) {
    const auto plain = harvester::summary(draws);
    return {Money(plain.value), Money(plain.low), Money(plain.high)};
}

double chance_of(const std::vector<double>& gains) {
    const auto better = std::ranges::count_if(gains, [](double gain) { return gain > 0.0; });
    return static_cast<double>(better) / static_cast<double>(gains.size());
}

/// Of each control that differs from those of the field at large its reading; of the field at large
/// all.
LieSettings settings_on(Lie lie, const harvester::Settings& settings,
                        const harvester::Settings& everywhere, const HarvesterBasis& basis) {
    LieSettings on{
        .lie = lie, .settings = settings, .controls = {}, .readings = {}, .field_values = {}};
    for (const auto& control : basis.state->machine.controls) {
        const double value = *settings.find(control.id());
        const double field = *everywhere.find(control.id());
        if (lie == Lie::level || value != field) {
            on.controls.push_back(control);
            on.readings.push_back(reading_of(basis, control, value));
            on.field_values.push_back(field);
        }
    }
    return on;
}

/// What each patch would gain by settings of its own, less the time of switching to them and back;
/// the one that gains most first.
std::vector<Weighed> weighed_of(const ground::Surface& surface,
                                const std::vector<ground::Patch>& patches,
                                const std::map<Lie, LieWorth>& worths, const Catalogue& catalogue,
                                double width_m, double stretch_m) {
    std::vector<const ground::Patch*> all;
    for (const auto& patch : patches) {
        all.push_back(&patch);
    }
    const auto tried = ground::lanes_of(surface.grid, layer_of(surface, all), width_m, stretch_m);
    std::vector<Weighed> weighed;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        const auto& patch = patches[i];
        const auto& on = worths.at(patch.lie);
        const int number = static_cast<int>(i) + 2;
        Weighed one{.patch = &patch, .found = {}, .gains = on.gains};
        one.found.lie = patch.lie;
        one.found.middle = middle_of(surface, patch.cells);
        one.found.area = area_of(surface, patch.cells.size());
        one.found.stands_out_m = patch.peak_m;
        one.found.switches = static_cast<std::size_t>(
            std::ranges::count_if(tried.transitions, [&](const ground::Transition& transition) {
                return transition.from == number || transition.to == number;
            }));
        const double area_m2 = tried.area_m2(number);
        const auto draws = one.gains.size();
        for (std::size_t k = 0; k < draws; ++k) {
            // The time of a switch by strata, in an order of its own.
            const double share =
                (static_cast<double>((k * kStride) % draws) + 0.5) / static_cast<double>(draws);
            const double switch_s =
                catalogue.at_score(ConstantId::ground_switch_time, normal_quantile(share));
            one.gains[k] = one.gains[k] * area_m2 -
                           static_cast<double>(one.found.switches) * switch_s * on.hour_cost;
        }
        one.found.gain = money_of(one.gains);
        one.found.chance_better = chance_of(one.gains);
        weighed.push_back(std::move(one));
    }
    sort_list(weighed, std::greater<>(), [](const Weighed& one) { return one.found.gain.value; });
    return weighed;
}

/// Why a patch is not given settings of its own; empty where it is.
std::string why_not(const ZoneFound& found, bool is_set_alike, std::size_t zones) {
    if (is_set_alike) {
        return "what is set in the field at large is best here, too";
    }
    if (found.gain.value <= Money::zero()) {
        return "what it gains is less than switching costs";
    }
    if (found.chance_better < harvester::kLeastChance) {
        return "it is not sure enough to gain";
    }
    if (zones >= kMostZones) {
        return "others gain more, and " + std::to_string(kMostZones) +
               " zones are as many as a crew keeps in mind";
    }
    return {};
}

/// Of the pass that is driven slowest [m/s].
double slowest(const harvester::Machine& machine, const harvester::Settings& settings) {
    double least = std::numeric_limits<double>::infinity();
    for (const auto& control : machine.controls) {
        if (control.kind == harvester::ControlKind::forward_speed) {
            least = std::min(least, settings.find(control.id()).value_or(least));
        }
    }
    return std::isfinite(least) ? least : 0.0;
}

ZonesReason reason_of(const ZonesAnswer& answer) {
    if (answer.zones.size() > 1) {
        return ZonesReason::some_pay;
    }
    return answer.left_out.empty() ? ZonesReason::none_stands_out : ZonesReason::none_pays;
}

/// [m]: as it was asked, else the machine's rows.
Result<double> width_of(const ZonesQuestion& question, const ledger::Machine& owner) {
    const double width_m =
        question.width ? question.width->si() : owner.rows * owner.row_spacing.si();
    if (!(width_m >= 0.3 && width_m <= 30.0)) {
        return Problem{ProblemKind::input,
                       {{}, 0, "width"},
                       std::isfinite(width_m)
                           ? "a working width of " + fixed_text(width_m, 2) + " m"
                           : "nobody has said how wide " + owner.name + " works",
                       "give a width from 0.3 to 30 m, or the machine's rows and their spacing"};
    }
    return width_m;
}

/// The settings that a crew would enter the field at large with.
Result<harvester::Settings> settings_everywhere(const HarvesterBasis& basis) {
    const harvester::Worth worth = basis.what_is_earned();
    const harvester::Ground ground{basis.state->machine, basis.conditions(), basis.catalogue,
                                   basis.draws, worth};
    auto entry = harvester::entry_settings(ground, basis.state->kept_off);
    if (!entry) {
        return entry.problems();
    }
    return std::move(entry->settings);
}

/// What stands out of the ground and is large enough to work in; how much must, and how much does,
/// is noted in the answer.
std::vector<ground::Patch> pieces_of(const ground::Surface& surface, const HarvesterBasis& basis,
                                     double width_m, double stretch_m, ZonesAnswer& answer) {
    answer.unsure = Length(surface.median_deviation_m());
    answer.least_relief = Length(std::max(basis.catalogue.value(ConstantId::ground_least_relief),
                                          kSure * answer.unsure.si()));
    const auto prominence = ground::prominence_of(
        surface.grid, surface.height_m, basis.catalogue.value(ConstantId::ground_relief_reach),
        kNone * answer.least_relief.si());
    double most = 0.0;
    for (const double out : prominence) {
        most = std::isfinite(out) ? std::max(most, std::abs(out)) : most;
    }
    answer.most_relief = Length(most);
    return ground::patches_of(surface.grid, prominence,
                              {answer.least_relief.si(), kPassesWide * width_m, stretch_m});
}

/// Puts what pays among the zones, all else among what was left out; gives the patches of the
/// zones.
std::vector<const ground::Patch*> choose(std::vector<Weighed> weighed,
                                         const std::map<Lie, LieWorth>& worths,
                                         const harvester::Settings& everywhere,
                                         ZonesAnswer& answer) {
    std::vector<const ground::Patch*> kept;
    std::vector<double> together;
    for (auto& one : weighed) {
        const auto& own = worths.at(one.found.lie).settings;
        one.found.why = why_not(one.found, own.values == everywhere.values, kept.size() + 1);
        if (!one.found.why.empty()) {
            answer.left_out.push_back(std::move(one.found));
            continue;
        }
        kept.push_back(one.patch);
        one.found.number = static_cast<int>(kept.size()) + 1;
        together.resize(one.gains.size(), 0.0);
        for (std::size_t k = 0; k < together.size(); ++k) {
            together[k] += one.gains[k];
        }
        answer.zones.push_back(std::move(one.found));
    }
    if (!together.empty()) {
        answer.gain = money_of(together);
    }
    return kept;
}

/// What is left of the field when its other zones are taken out.
ZoneFound field_at_large(const ground::Surface& surface, const ZonesAnswer& answer) {
    std::vector<std::size_t> cells;
    for (std::size_t cell = 0; cell < answer.zone_of.size(); ++cell) {
        if (answer.zone_of[cell] == 1) {
            cells.push_back(cell);
        }
    }
    ZoneFound found{.number = 1, .lie = Lie::level};
    found.middle = middle_of(surface, cells);
    found.area = area_of(surface, cells.size());
    found.switches = answer.lanes.transitions.size();
    return found;
}

}  // namespace

Result<ZonesAnswer> ask_zones(const ledger::Season& season, const ground::Surface& surface,
                              const ZonesQuestion& question, HarvesterMemory* memory) {
    const auto made = harvester_basis(
        season,
        {.field = question.field, .slice_after_days = question.slice_after_days, .at = question.at},
        memory);
    if (!made) {
        return made.problems();
    }
    const HarvesterBasis& basis = **made;
    const auto width_m = width_of(question, *basis.state->owner);
    if (!width_m) {
        return width_m.problems();
    }
    const auto everywhere = settings_everywhere(basis);
    if (!everywhere) {
        return everywhere.problems();
    }
    ZonesAnswer answer{.field = question.field,
                       .machine = basis.state->owner->name,
                       .at = basis.now,
                       .width = Length(*width_m),
                       .known = Area(surface.field_m2()),
                       .zones = {},
                       .left_out = {},
                       .settings = {},
                       .zone_of = {},
                       .lanes = {},
                       .reason = {},
                       .expected = {},
                       .notes = surface.notes,
                       .assumptions = basis.assumptions,
                       .cautions = cautions_of_looking()};
    const double stretch_m = std::max(kCellsLong * surface.grid.cell_m,
                                      kLeastStretch_s * slowest(basis.state->machine, *everywhere));
    const auto patches = pieces_of(surface, basis, *width_m, stretch_m, answer);
    const auto beliefs =
        lie_beliefs(basis.season, question.field, surface, patches, basis.catalogue);
    answer.expected = beliefs.expected();
    std::map<Lie, LieWorth> worths;
    for (const auto& patch : patches) {
        if (!worths.contains(patch.lie)) {
            auto on = worth_on(patch.lie, basis, *everywhere, beliefs);
            if (!on) {
                return on.problems();
            }
            worths.emplace(patch.lie, std::move(*on));
        }
    }
    const auto kept =
        choose(weighed_of(surface, patches, worths, basis.catalogue, *width_m, stretch_m), worths,
               *everywhere, answer);
    answer.zone_of = layer_of(surface, kept);
    answer.lanes = ground::lanes_of(surface.grid, answer.zone_of, *width_m, stretch_m);
    answer.zones.insert(answer.zones.begin(), field_at_large(surface, answer));
    answer.settings.push_back(settings_on(Lie::level, *everywhere, *everywhere, basis));
    for (const auto& [lie, on] : worths) {
        answer.settings.push_back(settings_on(lie, on.settings, *everywhere, basis));
    }
    answer.reason = reason_of(answer);
    return answer;
}

}  // namespace beetwright::engine
