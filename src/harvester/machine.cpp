#include "harvester/machine.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace beetwright::harvester {
namespace {

Problem problem(ProblemKind kind, std::string field, std::string what, std::string fix) {
    return {
        kind, {.file = "", .line = 0, .field = std::move(field)}, std::move(what), std::move(fix)};
}

void look_at_range(const Control& control, Problems& problems) {
    const std::string id = control.id();
    const bool finite = std::isfinite(control.least) && std::isfinite(control.most) &&
                        std::isfinite(control.step) && std::isfinite(control.usual);
    if (!finite) {
        problems.push_back(problem(ProblemKind::input, id, "a number of its range is not one",
                                   "give least, most, step and usual value"));
        return;
    }
    if (traits(control.kind).is_choice()) {
        const auto last = static_cast<double>(traits(control.kind).choices.size() - 1);
        if (control.least != 0.0 || control.most != last || control.step != 1.0) {
            problems.push_back(problem(ProblemKind::input, id, "its choices have no other range",
                                       "give 0 to " + std::to_string(static_cast<int>(last)) +
                                           " in steps of 1, or leave the control out"));
        }
    } else if (!(control.least < control.most)) {
        problems.push_back(problem(ProblemKind::input, id,
                                   "its least, " + control.text(control.least) +
                                       ", is not below its most, " + control.text(control.most),
                                   "give the lower end first"));
        return;
    } else if (!(control.step > 0.0 && control.step <= control.most - control.least)) {
        problems.push_back(problem(ProblemKind::input, id,
                                   "a step of " + control.text(control.step) + " cannot be",
                                   "give the smallest change that is made, over 0 and within "
                                   "the range"));
    }
    if (!control.is_within(control.usual)) {
        problems.push_back(problem(
            ProblemKind::input, id,
            "its usual value, " + control.text(control.usual) + ", is outside its range",
            "give one from " + control.text(control.least) + " to " + control.text(control.most)));
    }
}

}  // namespace

const Control* Machine::find(std::string_view id) const {
    const auto named = find_control_kind(id);
    if (!named) {
        return nullptr;
    }
    const auto found = std::ranges::find_if(controls, [&](const Control& control) {
        return NamedControl{control.kind, control.place} == *named;
    });
    return found == controls.end() ? nullptr : &*found;
}

bool Machine::has(Stage stage) const {
    return std::ranges::any_of(
        controls, [&](const Control& control) { return traits(control.kind).stage == stage; });
}

int Machine::count(ControlKind kind) const {
    return static_cast<int>(std::ranges::count(controls, kind, &Control::kind));
}

std::vector<std::vector<const Control*>> set_together(const Machine& machine) {
    std::vector<std::vector<const Control*>> groups;
    for (const Control& control : machine.controls) {
        const auto same = std::ranges::find_if(groups, [&](const auto& group) {
            return group.front()->kind == control.kind &&
                   control.kind != ControlKind::forward_speed;
        });
        if (same == groups.end()) {
            groups.push_back({&control});
        } else {
            same->push_back(&control);
        }
    }
    return groups;
}

Problems problems_of(const Machine& machine) {
    Problems problems;
    if (machine.rows < 1 || machine.rows > 24) {
        problems.push_back(problem(ProblemKind::input, "rows",
                                   std::to_string(machine.rows) + " rows cannot be",
                                   "give the rows lifted at once, 1 to 24"));
    }
    std::set<std::string> seen;
    for (const Control& control : machine.controls) {
        const std::string id = control.id();
        if (!seen.insert(id).second) {
            problems.push_back(problem(ProblemKind::conflict, id, "it stands twice",
                                       "give one of them another place, or take it out"));
        }
        if (control.place < 0) {
            problems.push_back(problem(ProblemKind::input, id, "its place is below 0",
                                       "number from 1, or 0 where there is one"));
        }
        look_at_range(control, problems);
        if (control.kind == ControlKind::turbine_guard ||
            control.kind == ControlKind::guard_clearance) {
            Control turbine;
            turbine.kind = ControlKind::turbine_speed;
            turbine.place = control.place;
            if (machine.find(turbine.id()) == nullptr) {
                problems.push_back(problem(ProblemKind::missing, id,
                                           "there is no turbine for this guard",
                                           "add " + turbine.id() + ", or take the guard out"));
            }
        }
    }
    if (machine.controls.empty()) {
        problems.push_back(problem(ProblemKind::missing, "controls", "the machine has none",
                                   "list what can be set on it"));
    }
    return problems;
}

std::string_view words(MachineKind kind) {
    switch (kind) {
        case MachineKind::six_row_turbines: return "six rows, self-propelled, turbines";
        case MachineKind::six_row_axial_rolls: return "six rows, self-propelled, axial rolls";
        case MachineKind::two_stage: return "topper first, lifter after";
    }
    return "";
}

}  // namespace beetwright::harvester
