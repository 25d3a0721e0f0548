#include "engine/machine_question.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <span>

#include "base/nearest_name.hpp"
#include "base/sorted.hpp"
#include "engine/harvester_basis.hpp"
#include "harvester/advice.hpp"

namespace beetwright::engine {
namespace {

using harvester::Control;
using harvester::Figure;
using harvester::Outcome;
using harvester::Stage;

constexpr std::array<harvester::FigureTraits, kFlowFigures> kTraits{{
    {"long_stalks", "beets with stalks over 2 cm", UnitKind::fraction},
    {"too_deep", "beets topped too deep", UnitKind::fraction},
    {"knocked_out", "beets knocked out of the row", UnitKind::fraction},
    {"tails_in_lifting", "tails broken in lifting, at over 2 cm", UnitKind::fraction},
    {"unlifted", "beets left in the soil", UnitKind::fraction},
    {"lost_on_the_bed", "beets lost through the rolls", UnitKind::fraction},
    {"tails_in_cleaning", "tails broken in cleaning, at over 2 cm", UnitKind::fraction},
    {"lost_in_cleaning", "beets lost in cleaning", UnitKind::fraction},
    {"torn_skin", "torn skin of a beet", UnitKind::area},
    {"soil", "soil per clean beet", UnitKind::fraction},
    {"reaches_the_bunker", "beets that reach the bunker", UnitKind::fraction},
}};

/// Where it is seen. Two machines clean in two ways, at the same place of the flow.
Stage stage_of(FlowFigure figure, const harvester::Machine& machine) {
    switch (figure) {
        case FlowFigure::long_stalks:
        case FlowFigure::too_deep:
        case FlowFigure::knocked_out: return Stage::scalper;
        case FlowFigure::tails_in_lifting:
        case FlowFigure::unlifted: return Stage::lifting_shares;
        case FlowFigure::lost_on_the_bed: return Stage::roller_bed;
        case FlowFigure::tails_in_cleaning:
        case FlowFigure::lost_in_cleaning:
            return machine.has(Stage::axial_rolls) ? Stage::axial_rolls : Stage::turbines;
        case FlowFigure::torn_skin:
        case FlowFigure::soil:
        case FlowFigure::reaches_the_bunker: return Stage::bunker;
    }
    return Stage::bunker;
}

/// Wider than 2 cm: under that a tail counts as whole.
double broken_at(const harvester::TailOutcome& tails, harvester::TailLies lies) {
    const auto& shares = tails.share[static_cast<std::size_t>(lies)];
    double sum = 0.0;
    for (std::size_t c = 1; c < harvester::kBreakClasses; ++c) {
        sum += shares[c];
    }
    return sum;
}

double amount_of(FlowFigure figure, const Outcome& outcome) {
    const auto& whole = outcome.whole_roots;
    switch (figure) {
        case FlowFigure::long_stalks: return outcome.topping.stalks_over_2cm;
        case FlowFigure::too_deep: return outcome.topping.shares.too_deep;
        case FlowFigure::knocked_out: return outcome.topping.knocked_out;
        case FlowFigure::tails_in_lifting:
            return broken_at(outcome.tails, harvester::TailLies::in_the_soil);
        case FlowFigure::unlifted: return whole.unlifted;
        case FlowFigure::lost_on_the_bed: return whole.lost_before_cleaning;
        case FlowFigure::tails_in_cleaning:
            return broken_at(outcome.tails, harvester::TailLies::on_the_ground);
        case FlowFigure::lost_in_cleaning: return whole.lost_through_guards;
        case FlowFigure::torn_skin: return outcome.cleaning.torn_skin.si();
        case FlowFigure::soil:
            return (outcome.cleaning.soil_on_beets + outcome.cleaning.loose_soil).si();
        case FlowFigure::reaches_the_bunker:
            return std::max(0.0, 1.0 - outcome.topping.knocked_out - whole.unlifted -
                                     whole.lost_before_cleaning - whole.lost_through_guards);
    }
    return 0.0;
}

/// Outcomes of settings, draw by draw.
Result<std::vector<Outcome>> outcomes(const HarvesterBasis& basis,
                                      const harvester::Settings& settings) {
    const auto situation =
        harvester::situation(basis.state->machine, settings, basis.conditions(), basis.catalogue);
    if (!situation) {
        return situation.problems();
    }
    const auto work =
        harvester::work_constants([&](ConstantId id) { return basis.catalogue.value(id); });
    std::vector<Outcome> all;
    all.reserve(HarvesterBasis::kDraws);
    for (std::size_t i = 0; i < HarvesterBasis::kDraws; ++i) {
        all.push_back(basis.outcome(*situation, work, i));
    }
    return all;
}

template <class Amount>
Estimate<double> over(const std::vector<Outcome>& outcomes, Amount&& amount) {
    std::vector<double> draws;
    draws.reserve(outcomes.size());
    for (const Outcome& outcome : outcomes) {
        draws.push_back(amount(outcome));
    }
    return harvester::summary(std::move(draws));
}

StageControl control_of(const HarvesterBasis& basis, const Control& control) {
    const HarvesterState& state = *basis.state;
    const auto& pinned = state.kept_off.pinned;
    return {.now = reading_of(basis, control, *state.settings.find(control.id())),
            .least_text = control.text(control.least),
            .most_text = control.text(control.most),
            .usual_text = control.text(control.usual),
            .least = control.least,
            .most = control.most,
            .usual = control.usual,
            .hands_off = std::ranges::find(pinned, control.id()) != pinned.end(),
            .is_reckoned = harvester::is_reckoned(control.kind)};
}

/// Values to look at: every choice, or steps from end to end of the range and the present one.
std::vector<double> values_of(const Control& control, double now) {
    std::vector<double> values{now};
    if (harvester::traits(control.kind).is_choice()) {
        values = {};
        for (std::size_t i = 0; i < harvester::traits(control.kind).choices.size(); ++i) {
            values.push_back(static_cast<double>(i));
        }
        return values;
    }
    constexpr int kParts = 8;
    for (int i = 0; i <= kParts; ++i) {
        values.push_back(control.least + (control.most - control.least) * i / kParts);
    }
    sort_list(values, std::less<>(), [](double value) { return value; });
    const auto is_near = [&](double one, double other) {
        return std::abs(one - other) < 1e-9 * (control.most - control.least);
    };
    values.erase(std::ranges::unique(values, is_near).begin(), values.end());
    return values;
}

std::vector<std::string> moved_with(const harvester::Machine& machine, const std::string& id) {
    for (const auto& alike : harvester::set_together(machine)) {
        std::vector<std::string> ids;
        for (const Control* control : alike) {
            ids.push_back(control->id());
        }
        if (std::ranges::find(ids, id) != ids.end()) {
            return ids;
        }
    }
    return {id};
}

Problem no_control(const harvester::Machine& machine, const std::string& id) {
    std::set<std::string> known;
    for (const Control& control : machine.controls) {
        known.insert(control.id());
    }
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = "control"},
            machine.name + " has no control called \"" + id + "\"",
            did_you_mean(id, known) + "docs/methods/harvester_controls.md lists them all"};
}

}  // namespace

const harvester::FigureTraits& traits(FlowFigure figure) {
    return kTraits[static_cast<std::size_t>(figure)];
}

Result<MachineAnswer> ask_machine(const ledger::Season& season, const HarvesterQuestion& question,
                                  HarvesterMemory* memory) {
    const auto made = harvester_basis(season, question, memory);
    if (!made) {
        return made.problems();
    }
    const HarvesterBasis& basis = **made;
    const HarvesterState& state = *basis.state;
    const auto came = outcomes(basis, state.settings);
    if (!came) {
        return came.problems();
    }
    MachineAnswer answer{.field = question.field,
                         .machine = state.owner->name,
                         .at = basis.now,
                         .soil = words_of(basis.conditions().soil.feel),
                         .seen = state.conditions.seen,
                         .set_at = state.set_at,
                         .stages = {},
                         .wear = state.wear,
                         .checks_here = state.checks_here,
                         .checks_elsewhere = state.checks_elsewhere,
                         .assumptions = basis.assumptions,
                         .cautions = cautions_of_looking()};
    for (std::uint8_t s = 0; s <= static_cast<std::uint8_t>(Stage::bunker); ++s) {
        const auto stage = static_cast<Stage>(s);
        StageOfMachine part{.stage = stage, .figures = {}, .controls = {}};
        for (const Control& control : state.machine.controls) {
            if (harvester::traits(control.kind).stage == stage) {
                part.controls.push_back(control_of(basis, control));
            }
        }
        for (std::uint8_t f = 0; f < kFlowFigures; ++f) {
            const auto figure = static_cast<FlowFigure>(f);
            if (stage_of(figure, state.machine) == stage) {
                part.figures.push_back({figure, over(*came, [&](const Outcome& outcome) {
                                            return amount_of(figure, outcome);
                                        })});
            }
        }
        if (!part.controls.empty() || !part.figures.empty()) {
            answer.stages.push_back(std::move(part));
        }
    }
    return answer;
}

Result<ResponseAnswer> ask_response(const ledger::Season& season, const ResponseQuestion& question,
                                    HarvesterMemory* memory) {
    const auto made = harvester_basis(season, question.about, memory);
    if (!made) {
        return made.problems();
    }
    const HarvesterBasis& basis = **made;
    const HarvesterState& state = *basis.state;
    const Control* control = state.machine.find(question.control);
    if (control == nullptr) {
        return no_control(state.machine, question.control);
    }
    const double now = *state.settings.find(question.control);
    const auto as_set = outcomes(basis, state.settings);
    if (!as_set) {
        return as_set.problems();
    }
    ResponseAnswer answer{.field = question.about.field,
                          .machine = state.owner->name,
                          .at = basis.now,
                          .now = reading_of(basis, *control, now),
                          .is_choice = harvester::traits(control->kind).is_choice(),
                          .together = moved_with(state.machine, question.control),
                          .points = {},
                          .checks_here = state.checks_here,
                          .checks_elsewhere = state.checks_elsewhere};
    for (const double value : values_of(*control, now)) {
        harvester::Settings settings = state.settings;
        for (const std::string& id : answer.together) {
            // What moves together keeps its own distance, as far as its range lets it.
            const Control& other = *state.machine.find(id);
            const double moved = answer.is_choice ? value : settings.values.at(id) + (value - now);
            settings.values.at(id) = std::clamp(moved, other.least, other.most);
        }
        const auto come = outcomes(basis, settings);
        if (!come) {
            continue;  // values that cannot go together with how the rest is set
        }
        ResponsePoint point{
            .reading = reading_of(basis, *control, value), .figures = {}, .gain = {}};
        for (std::size_t f = 0; f < harvester::kFigures; ++f) {
            point.figures[f] = over(*come, [&](const Outcome& outcome) {
                return harvester::figure(outcome, static_cast<Figure>(f));
            });
        }
        std::vector<double> gains;
        for (std::size_t i = 0; i < come->size(); ++i) {
            gains.push_back((*basis.worth)((*come)[i], i).total() -
                            (*basis.worth)((*as_set)[i], i).total());
        }
        point.gain = money(harvester::summary(std::move(gains)));
        answer.points.push_back(std::move(point));
    }
    return answer;
}

}  // namespace beetwright::engine
