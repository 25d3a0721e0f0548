#include "engine/harvester_state.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <variant>

#include "base/sorted.hpp"
#include "engine/ground_days.hpp"
#include "engine/looks_of.hpp"
#include "ledger/harvester_of.hpp"
#include "ledger/outcome_worth.hpp"

namespace beetwright::engine {
namespace {

using harvester::Look;
using harvester::SoilFeel;
using harvester::Stage;

// Where nobody looked. The catalogue's rows say what they rest on.
constexpr double kUsualPlants = 9.0;  ///< 90,000 a hectare; NL 70 to 90, UK 100 thousand [V]
constexpr Length kUsualRowSpacing(0.5);
constexpr Length kUsualCrownHeight(0.05);

/// Spread of heights that goes with a judgement by eye: about the limits of the three classes.
Length spread_of(check::Evenness evenness, const Catalogue& catalogue) {
    const double even = catalogue.value(ConstantId::crop_heights_even);
    const double uneven = catalogue.value(ConstantId::crop_heights_uneven);
    switch (evenness) {
        case check::Evenness::even: return Length(0.7 * even);
        case check::Evenness::uneven: return Length(1.2 * uneven);
        case check::Evenness::fair:
        case check::Evenness::not_judged: return Length(0.5 * (even + uneven));
    }
    return Length(0.5 * (even + uneven));
}

SoilFeel feel_of(check::SoilInHand soil) {
    switch (soil) {
        case check::SoilInHand::hard: return SoilFeel::hard;
        case check::SoilInHand::plastic: return SoilFeel::plastic;
        case check::SoilInHand::sticky: return SoilFeel::sticky;
        case check::SoilInHand::crumbly:
        case check::SoilInHand::not_judged: return SoilFeel::crumbly;
    }
    return SoilFeel::crumbly;
}
SoilFeel feel_of(weather::Consistency consistency) {
    switch (consistency) {
        case weather::Consistency::hard: return SoilFeel::hard;
        case weather::Consistency::crumbly: return SoilFeel::crumbly;
        case weather::Consistency::plastic: return SoilFeel::plastic;
        case weather::Consistency::sticky: return SoilFeel::sticky;
    }
    return SoilFeel::crumbly;
}

void measure(const std::vector<Length>& heights, harvester::CrownStand& crowns) {
    const double n = static_cast<double>(heights.size());
    double mean = 0.0;
    double square = 0.0;
    double steps = 0.0;
    for (const Length height : heights) {
        mean += height.si() / n;
    }
    for (std::size_t i = 0; i < heights.size(); ++i) {
        square += (heights[i].si() - mean) * (heights[i].si() - mean) / (n - 1.0);
        if (i > 0) {
            const double step = heights[i].si() - heights[i - 1].si();
            steps += step * step / (n - 1.0);
        }
    }
    crowns.mean = Length(mean);
    crowns.sd = Length(std::sqrt(square));
    // A sample's steps may by chance be larger than any stand's are.
    crowns.neighbour_step = Length(std::min(std::sqrt(steps), 2.0 * std::sqrt(square)));
}

/// The last look that says something, by what it says.
template <class Says>
const check::StandingLook* last_look(const ledger::Season& season, const std::string& field,
                                     Instant now, Says&& says) {
    const check::StandingLook* last = nullptr;
    for (const check::StandingLook& look : season.standing) {
        if (look.field == field && look.at <= now && says(look) &&
            (last == nullptr || last->at <= look.at)) {
            last = &look;
        }
    }
    return last;
}

}  // namespace

FieldConditions conditions_of(const ledger::Season& season, const ledger::Field& field,
                              const ledger::Machine& machine, CleanMassPerArea expected,
                              const Catalogue& catalogue, GroundDays& ground, Instant now) {
    FieldConditions found;
    auto& conditions = found.conditions;
    const auto last = [&](auto&& says) { return last_look(season, field.name, now, says); };
    const auto saw = [&](const check::StandingLook& look, const std::string& what) {
        found.seen.push_back(what + ", seen on " +
                             to_text(std::chrono::floor<std::chrono::days>(look.at)));
    };

    // Soil: in the hand, else by the weather.
    if (const auto* look = last([](const check::StandingLook& one) {
            return one.soil_in_hand != check::SoilInHand::not_judged;
        })) {
        conditions.soil.feel = feel_of(look->soil_in_hand);
        saw(*look, "soil in the hand");
    } else if (const auto then = ground.by(field, field.lifted)) {
        conditions.soil.feel = feel_of(then->consistency);
        found.seen.push_back("soil by the weather up to " + to_text(then->day));
    } else {
        conditions.soil.feel = SoilFeel::crumbly;
        found.assumptions.emplace_back("nobody has said what the soil is like: crumbly is assumed");
    }

    // Crowns: measured, and by eye where that is the later word, or the only one.
    auto& crowns = conditions.crowns;
    const auto* measured =
        last([](const check::StandingLook& one) { return one.crowns.size() >= 5; });
    const auto* height =
        last([](const check::StandingLook& one) { return one.crown_height.is_known(); });
    const auto* evenness = last(
        [](const check::StandingLook& one) { return one.evenness != check::Evenness::not_judged; });
    const auto counts = [&](const check::StandingLook* by_eye) {
        return by_eye != nullptr && (measured == nullptr || by_eye->at > measured->at);
    };
    if (measured != nullptr) {
        measure(measured->crowns, crowns);
        if (!counts(height) || !counts(evenness)) {
            saw(*measured, std::to_string(measured->crowns.size()) + " crowns measured");
        }
    } else {
        crowns.mean = kUsualCrownHeight;
    }
    if (counts(height)) {
        crowns.mean = height->crown_height;
        saw(*height, "height of crowns by eye");
    } else if (measured == nullptr) {
        found.assumptions.emplace_back("crowns are assumed to stand 50 mm out of the ground");
    }
    if (counts(evenness) || measured == nullptr) {
        crowns.sd = spread_of(
            evenness != nullptr ? evenness->evenness : check::Evenness::not_judged, catalogue);
        crowns.neighbour_step = harvester::step_of_strangers(crowns.sd);
    }
    if (counts(evenness)) {
        saw(*evenness, "evenness of crowns by eye");
    } else if (measured == nullptr) {
        found.assumptions.emplace_back("crowns are assumed to be fairly even");
    }

    const auto* plants = last([](const check::StandingLook& one) { return one.plants.is_known(); });
    const auto* mass =
        last([](const check::StandingLook& one) { return one.root_mass.is_known(); });
    auto& roots = conditions.roots;
    roots.mass_spread = catalogue.value(ConstantId::root_mass_cv);
    if (plants == nullptr && mass != nullptr) {
        roots.mean_mass = mass->root_mass;
        roots.beets = expected / mass->root_mass;
    } else {
        roots.beets = plants != nullptr ? plants->plants : BeetsPerArea(kUsualPlants);
        roots.mean_mass = mass != nullptr ? mass->root_mass : expected / roots.beets;
        if (plants == nullptr) {
            found.assumptions.emplace_back("90,000 beets a hectare are assumed");
        }
    }
    const Length row = machine.row_spacing.is_known() ? machine.row_spacing : kUsualRowSpacing;
    crowns.spacing = 1.0 / (roots.beets * row);

    const auto* sick =
        last([](const check::StandingLook& one) { return !std::isnan(one.leaf_sick); });
    const auto* frozen = last(
        [](const check::StandingLook& one) { return one.leaf_frozen != check::Seen::not_judged; });
    constexpr double kSoundLeaf = 0.05;
    conditions.leaf.dead_share = sick != nullptr ? sick->leaf_sick : kSoundLeaf;
    conditions.leaf.frozen_share =
        frozen != nullptr && frozen->leaf_frozen == check::Seen::yes ? 1.0 : 0.0;
    if (sick != nullptr) {
        saw(*sick, "leaf");
    }
    if (sick == nullptr && frozen == nullptr) {
        found.assumptions.emplace_back("leaf is assumed to be sound");
    }
    return found;
}

namespace {

struct Checked {
    std::string field;
    Look look;
};
struct Event {
    Instant at{};
    std::variant<Checked, const check::SettingsNote*, const check::PartChange*> what;
};

/// Everything about one machine, in the order in which it happened.
std::vector<Event> events_of(const ledger::Season& season, const std::string& machine,
                             const Catalogue& catalogue, Instant now) {
    std::set<std::string> its_fields;
    for (const ledger::Field& field : season.fields) {
        if (field.machine == machine) {
            its_fields.insert(field.name);
        }
    }
    const auto is_its = [&](const std::string& named, const std::string& field) {
        return named.empty() ? its_fields.contains(field) : named == machine;
    };
    std::vector<Event> events;
    for (const auto& sheet : season.beet_sheets) {
        if (is_its(sheet.machine, sheet.field)) {
            events.push_back({sheet.at, Checked{sheet.field, look_of(sheet, catalogue)}});
        }
    }
    for (const auto& strip : season.strips) {
        if (is_its(strip.machine, strip.field)) {
            events.push_back({strip.at, Checked{strip.field, look_of(strip)}});
        }
    }
    for (const auto& tare : season.tares) {
        if (its_fields.contains(tare.field)) {
            events.push_back({tare.at, Checked{tare.field, look_of(tare)}});
        }
    }
    for (const auto& note : season.settings) {
        if (note.machine == machine) {
            events.push_back({note.at, &note});
        }
    }
    for (const auto& parts : season.parts) {
        if (parts.machine == machine) {
            events.push_back({parts.at, &parts});
        }
    }
    std::erase_if(events, [&](const Event& event) { return event.at > now; });
    // Of one instant, notes come first: they say how what is seen was set.
    sort_list(events, [](const Event& one, const Event& other) {
        return one.at != other.at ? one.at < other.at : one.what.index() > other.what.index();
    });
    return events;
}

Stage stage_of(check::MachineStage stage) {
    switch (stage) {
        case check::MachineStage::leaf_remover: return Stage::leaf_remover;
        case check::MachineStage::scalper: return Stage::scalper;
        case check::MachineStage::lifting_shares: return Stage::lifting_shares;
        case check::MachineStage::roller_bed: return Stage::roller_bed;
        case check::MachineStage::transfer: return Stage::transfer;
        case check::MachineStage::turbines:
        case check::MachineStage::axial_rolls: return Stage::turbines;
    }
    return Stage::transfer;
}

}  // namespace

Result<HarvesterState> harvester_state(const ledger::Season& season, const ledger::Field& field,
                                       std::span<const CleanMassPerArea> standing,
                                       const Catalogue& catalogue, Instant now,
                                       HarvesterMemory& memory) {
    const auto owner = std::ranges::find(season.machines, field.machine, &ledger::Machine::name);
    if (field.machine.empty() || owner == season.machines.end()) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "machine"},
                       "nobody has said which machine lifts \"" + field.name + "\"",
                       "name it among the fields"};
    }
    auto machine = ledger::harvester_of(*owner);
    if (!machine) {
        return machine.problems();
    }
    const MachineStart start{
        &catalogue, harvester::sight_constants(catalogue, ledger::loss_of_breaks(catalogue))};
    HarvesterState state{.owner = &*owner,
                         .machine = std::move(*machine),
                         .settings = {},
                         .set_at = {},
                         .conditions = {},
                         .belief = harvester::Belief(catalogue),
                         .sight = start.sight,
                         .kept_off = {}};
    state.settings = harvester::usual_settings(state.machine);
    for (const ledger::OwnControl& own : owner->controls) {
        if (own.hands_off) {
            state.kept_off.pinned.push_back(own.control);
        }
    }

    const bool has_weather = season.weather != nullptr && season.weather->observed.has_value();
    GroundDays ground(season, catalogue,
                      has_weather ? memory.suns(*season.weather->observed)
                                  : std::span<const weather::SunPosition>());
    std::map<std::string, FieldConditions> conditions;
    std::set<SoilFeel> soils_seen;
    const auto conditions_in = [&](const std::string& name) -> const FieldConditions& {
        const auto known = conditions.find(name);
        if (known != conditions.end()) {
            return known->second;
        }
        const auto place = std::ranges::find(season.fields, name, &ledger::Field::name);
        const auto number = static_cast<std::size_t>(place - season.fields.begin());
        return conditions
            .emplace(name, conditions_of(season, *place, *owner, standing[number], catalogue,
                                         ground, now))
            .first->second;
    };
    std::vector<MachineStep> steps;
    std::optional<Instant> before;
    // As it was set here last: a machine that went on to other fields is set for those by now.
    struct SetHere {
        harvester::Settings settings;
        Instant at{};
    };
    std::optional<SetHere> set_here;
    bool is_in_field = false;
    for (const Event& event : events_of(season, owner->name, catalogue, now)) {
        constexpr std::chrono::days kDay{1};
        MachineStep step;
        step.at = event.at;
        if (before && event.at - *before >= kDay) {
            step.kind = StepKind::wait;
            step.wait = Duration(std::chrono::duration<double>(event.at - *before).count());
            steps.push_back(step);
            before = event.at;
        } else if (!before) {
            before = event.at;
        }
        if (const auto* note = std::get_if<const check::SettingsNote*>(&event.what)) {
            for (const check::SetControl& set : (*note)->controls) {
                const auto stood = state.settings.values.find(set.control);
                if (stood == state.settings.values.end()) {
                    continue;
                }
                if ((*note)->answer != check::Answer::declined) {
                    stood->second = set.value;
                } else if ((*note)->field == field.name) {
                    state.kept_off.declined.push_back({set.control, set.value > stood->second});
                }
            }
            state.set_at = event.at;
            is_in_field = (*note)->field.empty() ? is_in_field : (*note)->field == field.name;
            if (is_in_field) {
                set_here = {state.settings, event.at};
            }
        } else if (const auto* parts = std::get_if<const check::PartChange*>(&event.what)) {
            step.kind = StepKind::parts;
            step.stage = stage_of((*parts)->stage);
            steps.push_back(std::move(step));
        } else {
            const auto& checked = std::get<Checked>(event.what);
            const harvester::Conditions& here = conditions_in(checked.field).conditions;
            auto in = harvester::situation(state.machine, state.settings, here, catalogue);
            if (!in || checked.look.is_empty()) {
                continue;
            }
            step.kind = StepKind::check;
            step.field = checked.field;
            step.look = checked.look;
            step.situation = std::move(*in);
            steps.push_back(std::move(step));
            soils_seen.insert(here.soil.feel);
            const bool is_here = checked.field == field.name;
            (is_here ? state.checks_here : state.checks_elsewhere) += 1;
            state.beets_here += is_here ? beets_of(checked.look) : 0.0;
        }
    }
    if (set_here) {
        state.settings = std::move(set_here->settings);
        state.set_at = set_here->at;
    }
    const auto known = memory.after(owner->name, start, std::move(steps));
    state.belief = known->belief;
    state.belief.enter(field.name);
    state.wear = known->levels.wear(catalogue);
    state.conditions = conditions_in(field.name);
    state.assumptions = state.conditions.assumptions;
    if (!state.set_at) {
        state.assumptions.push_back("nobody has noted how " + owner->name +
                                    " is set: its usual settings are assumed");
    }
    if (!soils_seen.contains(state.conditions.conditions.soil.feel)) {
        state.assumptions.push_back(
            "no check of " + owner->name +
            " was made in such soil yet: what soil does is as published, and wide");
    }
    return state;
}

}  // namespace beetwright::engine
