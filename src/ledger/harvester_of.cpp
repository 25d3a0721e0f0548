#include "ledger/harvester_of.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "harvester/settings.hpp"

namespace beetwright::ledger {
namespace {

using harvester::Control;
using harvester::NamedControl;

Problem problem(ProblemKind kind, std::string field, std::string what, std::string fix) {
    return {
        kind, {.file = "", .line = 0, .field = std::move(field)}, std::move(what), std::move(fix)};
}

/// The last of this kind where the build numbers them; null where it has none, or just one.
const Control* last_numbered(const harvester::Machine& machine, harvester::ControlKind kind) {
    const Control* last = nullptr;
    for (const Control& control : machine.controls) {
        if (control.kind == kind && control.place > 0) {
            last = &control;
        }
    }
    return last;
}

/// After the others of its stage, so that they stay in the order in which a beet meets them.
void add_to_its_stage(Control control, harvester::Machine& machine) {
    const auto stage = harvester::traits(control.kind).stage;
    const auto last = std::ranges::find_if(
        machine.controls.rbegin(), machine.controls.rend(),
        [&](const Control& other) { return harvester::traits(other.kind).stage == stage; });
    machine.controls.insert(last.base(), std::move(control));
}

/// The control of this name, one more where the build numbers them; null where there is none.
Control* find_or_add(const NamedControl& named, harvester::Machine& machine) {
    const auto find = [&] {
        return std::ranges::find_if(machine.controls, [&](const Control& control) {
            return NamedControl{control.kind, control.place} == named;
        });
    };
    auto found = find();
    if (found == machine.controls.end()) {
        const Control* last = last_numbered(machine, named.kind);
        if (last == nullptr || named.place == 0) {
            return nullptr;
        }
        Control another = *last;
        another.place = named.place;
        add_to_its_stage(std::move(another), machine);
        found = find();
    }
    return &*found;
}

void put_in(const OwnControl& own, Control& control) {
    int said = 0;
    const auto put = [&](double value, double& into) {
        if (!std::isnan(value)) {
            into = value;
            ++said;
        }
    };
    put(own.least, control.least);
    put(own.most, control.most);
    put(own.step, control.step);
    put(own.usual, control.usual);
    constexpr int kAll = 4;
    if (said == kAll) {
        control.how = HowKnown::measured;
        control.source = "its owner";
    } else if (said > 0) {
        control.source = "its owner; what that leaves open: " + control.source;
    }
}

/// Whether the owner says that it is not fitted. A guard goes with its turbine, unless something is
/// said of it.
bool is_taken_off(const Control& control, const Machine& machine) {
    const OwnControl* own = machine.find(control.id());
    const bool is_of_guard = control.kind == harvester::ControlKind::turbine_guard ||
                             control.kind == harvester::ControlKind::guard_clearance;
    if (own == nullptr && is_of_guard) {
        Control turbine;
        turbine.kind = harvester::ControlKind::turbine_speed;
        turbine.place = control.place;
        own = machine.find(turbine.id());
    }
    return own != nullptr && !own->fitted;
}

}  // namespace

Result<harvester::Machine> harvester_of(const Machine& machine) {
    if (!machine.build) {
        return problem(
            ProblemKind::missing, "build",
            "\"" + machine.name + "\" has no build, so what can be set on it is not known",
            "write turbines, axial_rolls or two_stage under build in machines.csv");
    }
    harvester::Machine made = harvester::ready_made(*machine.build);
    made.name = machine.name;
    if (machine.rows > 0) {
        made.rows = machine.rows;
    }
    Problems problems;
    for (const OwnControl& own : machine.controls) {
        const auto named = harvester::find_control_kind(own.control);
        Control* control = named ? find_or_add(*named, made) : nullptr;
        if (control == nullptr) {
            problems.push_back(problem(ProblemKind::conflict, own.control,
                                       "machines of this build (" +
                                           std::string(words(*machine.build)) + ") have no " +
                                           own.control,
                                       "leave it out, or correct the build in machines.csv"));
        } else {
            put_in(own, *control);
        }
    }
    // Last, for those that are fitted may be made after their likes.
    std::erase_if(made.controls,
                  [&](const Control& control) { return is_taken_off(control, machine); });
    for (Problem& found : harvester::problems_of(made)) {
        problems.push_back(std::move(found));
    }
    if (!problems.empty()) {
        return problems;
    }
    return made;
}

Result<harvester::Dial> dial_of(const Control& control, const OwnControl& own) {
    if (!own.has_dial()) {
        return problem(ProblemKind::missing, control.id(), "no display is bound to it",
                       "measure at two of the display's numbers and write both into dials.csv");
    }
    if (std::isnan(own.display_step)) {
        return problem(ProblemKind::missing, control.id(), "the step of its display is not said",
                       "write display_step, the smallest change that it shows, in controls.csv");
    }
    return harvester::Dial::make(
        control, own.display_step,
        std::vector<harvester::DialPoint>(own.dial.begin(), own.dial.end()));
}

Problems problems_of(std::span<const check::SetControl> controls,
                     const harvester::Machine& machine) {
    // On a machine of these controls alone nothing is missing.
    harvester::Machine of_these{.name = machine.name, .rows = machine.rows, .controls = {}};
    harvester::Settings settings;
    harvester::Settings strange;
    for (const auto& set : controls) {
        const Control* control = machine.find(set.control);
        if (control != nullptr) {
            of_these.controls.push_back(*control);
        }
        (control == nullptr ? strange : settings).values[set.control] = set.value;
    }
    Problems problems = harvester::check(settings, of_these);
    if (!strange.values.empty()) {
        for (Problem& problem : harvester::check(strange, machine)) {
            if (problem.kind != ProblemKind::missing) {
                problems.push_back(std::move(problem));
            }
        }
    }
    return problems;
}

}  // namespace beetwright::ledger
