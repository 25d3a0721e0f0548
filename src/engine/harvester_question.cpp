#include "engine/harvester_question.hpp"

#include <algorithm>
#include <cmath>

#include "base/sorted.hpp"
#include "engine/harvester_basis.hpp"

namespace beetwright::engine {
namespace {

using harvester::Control;
using harvester::ControlKind;
using harvester::Figure;
using harvester::Outcome;
using harvester::SoilFeel;

/// A change that is expected to gain less is not worth leaving the seat for.
constexpr MoneyPerArea kLeastGain = 2.0 * unit::money_per_ha;
/// Ten minutes of looking, on the hectares that an hour lifts.
constexpr double kLook_h = 1.0 / 6.0;

/// The outcome with one kind of fault undone.
Outcome without(Outcome outcome, Figure figure) {
    switch (figure) {
        case Figure::long_stalks: outcome.topping.stalks_over_2cm = 0.0; break;
        case Figure::too_deep: outcome.topping.over_topped = Length::zero(); break;
        case Figure::tails_broken:
            for (auto& place : outcome.tails.share) {
                place.fill(0.0);
            }
            break;
        case Figure::whole_roots: outcome.whole_roots.mass = CleanMassPerArea::zero(); break;
        case Figure::torn_skin: outcome.cleaning.torn_skin = Area::zero(); break;
        case Figure::soil:
            outcome.cleaning.soil_on_beets = harvester::SoilPerBeet::zero();
            outcome.cleaning.loose_soil = harvester::SoilPerBeet::zero();
            break;
        case Figure::area_rate:
        case Figure::fuel: break;
    }
    return outcome;
}

OnTheWay on_the_way(const HarvesterBasis& basis, const harvester::Settings& settings) {
    OnTheWay way{.lifted = basis.question.lifted, .sliced = basis.question.sliced, .costs = {}};
    const auto& conditions = basis.state->conditions.conditions;
    const auto situation =
        harvester::situation(basis.state->machine, settings, conditions, basis.catalogue);
    if (!situation) {
        return way;
    }
    const auto work =
        harvester::work_constants([&](ConstantId id) { return basis.catalogue.value(id); });
    constexpr std::array kFaults{Figure::long_stalks, Figure::too_deep,  Figure::tails_broken,
                                 Figure::whole_roots, Figure::torn_skin, Figure::soil};
    std::array<std::vector<double>, kFaults.size()> costs;
    for (std::size_t i = 0; i < HarvesterBasis::kDraws; ++i) {
        const Outcome out = basis.outcome(*situation, work, i);
        const double earned = (*basis.worth)(out, i).total();
        for (std::size_t f = 0; f < kFaults.size(); ++f) {
            costs[f].push_back((*basis.worth)(without(out, kFaults[f]), i).total() - earned);
        }
    }
    for (std::size_t f = 0; f < kFaults.size(); ++f) {
        way.costs.push_back({kFaults[f], money(harvester::summary(std::move(costs[f])))});
    }
    sort_list(way.costs, std::greater<>(), [](const FaultCost& cost) { return cost.cost.value; });
    return way;
}

/// By the limits at which stands of measured crowns are told apart.
check::Evenness evenness_of(Length sd, const HarvesterBasis& basis) {
    if (sd.si() < basis.catalogue.value(ConstantId::crop_heights_even)) {
        return check::Evenness::even;
    }
    return sd.si() > basis.catalogue.value(ConstantId::crop_heights_uneven)
               ? check::Evenness::uneven
               : check::Evenness::fair;
}

/// The sentence that goes with a control and the figures it is for.
std::string reason_of(const HarvesterBasis& basis, const harvester::Reason& reason) {
    const auto& conditions = basis.state->conditions.conditions;
    const auto named = harvester::find_control_kind(reason.control);
    const bool is_wet =
        conditions.soil.feel == SoilFeel::plastic || conditions.soil.feel == SoilFeel::sticky;
    const bool is_more = reason.value > reason.usual;
    const std::string soil = words_of(conditions.soil.feel) + " soil";
    switch (named->kind) {
        case ControlKind::share_depth:
            return is_more ? "deeper: " + soil + " lets tails break where shares are shallow"
                           : "shallower: each centimetre brings more " + soil + " along";
        case ControlKind::roller_bed_height:
            return is_more ? "higher, so that " + soil + " falls through before the bed"
                           : "close to the ground, so that no beet is lost under it";
        case ControlKind::roller_speed:
            if (!is_more) {
                return "slower: beets meet bare rolls here";
            }
            return is_wet ? "faster: " + soil + " wants it, and cushions the beets"
                          : "faster, so that clods and loose soil fall through";
        case ControlKind::roller_gap:
            return is_more ? "wider gaps let " + soil + " through"
                           : "larger rolls with narrow gaps hold small beets";
        case ControlKind::last_roller_reversed: return "takes " + soil + " off once more";
        case ControlKind::turbine_guard:
            return reason.value == static_cast<double>(harvester::Guard::closed)
                       ? "closed guards keep small beets and tails; there is little soil to let out"
                       : "tined guards let " + soil + " out";
        case ControlKind::guard_clearance:
            return is_more ? "raised guards let " + soil + " out; beets are large enough to stay"
                           : "lower, so that small beets stay in";
        case ControlKind::turbine_speed:
        case ControlKind::axial_roll_speed:
            return is_more ? "faster, for what flows through here"
                           : "slower: the flow is thin, and beets meet the bars hard";
        case ControlKind::leaf_remover_height:
            return is_more ? "higher: crowns stand higher, or less evenly, than usual"
                           : "lower, to take more leaf off before the knife";
        case ControlKind::leaf_remover_speed:
            return is_more ? "faster: limp leaf does not come off otherwise"
                           : "slower: leaf is sound, and a slow rotor knocks out fewer beets";
        case ControlKind::scalper_thickness:
            return is_more ? "thicker: too much leaf would be left"
                           : "thinner: crown cut away is beet that nobody pays for";
        case ControlKind::forward_speed: return "slower to begin with";
        case ControlKind::unloading_drop: return "beets fall less far, and tear less skin";
        default: return is_wet ? "for wet soil" : "for dry soil";
    }
}

/// What to look at after a change, to see whether it did what it should.
std::string confirm_of(ControlKind kind) {
    switch (harvester::traits(kind).stage) {
        case harvester::Stage::leaf_remover:
        case harvester::Stage::scalper:
            return "thirty crowns in the row, topped, before the shares";
        case harvester::Stage::lifting_shares:
            return "the furrow behind the shares for tails, and thirty beets on the roller bed";
        case harvester::Stage::driving: return "crowns in the row, and tails behind the machine";
        case harvester::Stage::roller_bed:
        case harvester::Stage::transfer: return "beets lost under the bed, and soil in the tank";
        case harvester::Stage::turbines:
        case harvester::Stage::axial_rolls: return "fifty tails in the tank, and soil with them";
        case harvester::Stage::bunker: return "skins where the beets were tipped";
    }
    return "";
}

ChangeTried tried_of(const HarvesterBasis& basis, const harvester::Settings& from,
                     const harvester::Tried& tried) {
    ChangeTried result{.changes = {},
                       .confirm = {},
                       .gain = money(tried.gain),
                       .chance_better = tried.chance_better,
                       .figures = tried.figures};
    for (const harvester::Change& change : tried.changes) {
        ChangeLine line;
        for (const std::string& id : change.controls) {
            const Control& control = *basis.state->machine.find(id);
            line.from.push_back(reading_of(basis, control, *from.find(id)));
            line.to.push_back(reading_of(basis, control, *tried.settings.find(id)));
            line.confirm = confirm_of(control.kind);
        }
        if (std::ranges::find(result.confirm, line.confirm) == result.confirm.end()) {
            result.confirm.push_back(line.confirm);
        }
        result.changes.push_back(std::move(line));
    }
    return result;
}

}  // namespace

Result<SetupAnswer> ask_setup(const ledger::Season& season, const HarvesterQuestion& question,
                              HarvesterMemory* memory) {
    const auto made = harvester_basis(season, question, memory);
    if (!made) {
        return made.problems();
    }
    const HarvesterBasis& basis = **made;
    const HarvesterState& state = *basis.state;
    const harvester::Worth worth = basis.what_is_earned();
    const harvester::Ground ground{state.machine, state.conditions.conditions, basis.catalogue,
                                   basis.draws, worth};
    const auto entry = harvester::entry_settings(ground, state.kept_off);
    if (!entry) {
        return entry.problems();
    }
    SetupAnswer answer{.field = question.field,
                       .machine = state.owner->name,
                       .at = basis.now,
                       .soil = words_of(state.conditions.conditions.soil.feel),
                       .conditions = state.conditions.conditions,
                       .evenness = evenness_of(state.conditions.conditions.crowns.sd, basis),
                       .seen = state.conditions.seen,
                       .lines = {},
                       .figures = entry->figures,
                       .gain = money(entry->gain),
                       .on_the_way = on_the_way(basis, entry->settings),
                       .checks_elsewhere = state.checks_elsewhere,
                       .assumptions = basis.assumptions,
                       .cautions = cautions_of_looking()};
    for (const Control& control : state.machine.controls) {
        SetupLine line{.reading = reading_of(basis, control, *entry->settings.find(control.id())),
                       .usual = control.usual,
                       .usual_text = control.text(control.usual),
                       .cost_of_usual = {MoneyPerArea(0.0), MoneyPerArea(0.0), MoneyPerArea(0.0)},
                       .reasons = {}};
        for (const harvester::Reason& reason : entry->reasons) {
            const auto named = harvester::find_control_kind(reason.control);
            if (named->kind == control.kind && line.reading.value != control.usual) {
                line.reasons.push_back(reason_of(basis, reason));
                line.cost_of_usual = money(reason.cost_of_usual);
            }
        }
        if (control.kind == ControlKind::forward_speed) {
            line.reasons.emplace_back(
                "begin slowly; raise rolls and turbines with the volume as speed goes up");
        }
        answer.lines.push_back(std::move(line));
    }
    return answer;
}

Result<AdviceAnswer> ask_advice(const ledger::Season& season, const HarvesterQuestion& question,
                                HarvesterMemory* memory) {
    const auto made = harvester_basis(season, question, memory);
    if (!made) {
        return made.problems();
    }
    const HarvesterBasis& basis = **made;
    const HarvesterState& state = *basis.state;
    const auto& conditions = state.conditions.conditions;
    const harvester::Worth worth = basis.what_is_earned();
    const harvester::Ground ground{state.machine, conditions, basis.catalogue, basis.draws, worth};
    harvester::KeptOff kept_off = state.kept_off;
    kept_off.is_begun = state.checks_here > 0;
    const auto advice = harvester::advise(state.settings, ground, kept_off, kLeastGain.si());
    if (!advice) {
        return advice.problems();
    }
    const auto situation =
        harvester::situation(state.machine, state.settings, conditions, basis.catalogue);
    std::vector<harvester::Tried> options = advice->others;
    if (advice->change) {
        options.push_back(*advice->change);
    }
    const auto looks =
        harvester::worth_of_looks(*situation, ground, options, state.sight, basis.season.seed);

    AdviceAnswer answer{.field = question.field,
                        .machine = state.owner->name,
                        .at = basis.now,
                        .soil = words_of(conditions.soil.feel),
                        .seen = state.conditions.seen,
                        .settings = {},
                        .set_at = state.set_at,
                        .now = advice->now,
                        .change = {},
                        .others = {},
                        .looks = {},
                        .on_the_way = on_the_way(basis, state.settings),
                        .wear = state.wear,
                        .checks_here = state.checks_here,
                        .checks_elsewhere = state.checks_elsewhere,
                        .beets_here = state.beets_here,
                        .assumptions = basis.assumptions,
                        .cautions = cautions_of_looking()};
    for (const Control& control : state.machine.controls) {
        answer.settings.push_back(reading_of(basis, control, *state.settings.find(control.id())));
    }
    if (advice->change) {
        answer.change = tried_of(basis, state.settings, *advice->change);
    }
    for (const harvester::Tried& other : advice->others) {
        answer.others.push_back(tried_of(basis, state.settings, other));
    }
    for (const auto& look : looks) {
        answer.looks.push_back({look.look, MoneyPerArea(look.worth)});
    }
    // A look costs ten minutes, once, and what it leads to is gained on all that is still to lift.
    const Area area = basis.field().area;
    const double hour = std::isnan(state.owner->hour_cost.si())
                            ? basis.catalogue.value(ConstantId::harvester_hour_cost)
                            : state.owner->hour_cost.si();
    const double cost_of_look = hour * 3600.0 * kLook_h / area.si();
    const double best_look = looks.empty() ? 0.0 : looks.front().worth;
    const double gain = advice->change ? advice->change->gain.value : 0.0;
    if (best_look > cost_of_look && best_look > gain) {
        answer.verdict = Verdict::look;
    } else {
        answer.verdict = advice->change ? Verdict::change : Verdict::leave;
    }
    return answer;
}

}  // namespace beetwright::engine
