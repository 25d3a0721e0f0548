#include "harvester/settings.hpp"

#include <cmath>
#include <set>
#include <utility>

#include "base/nearest_name.hpp"

namespace beetwright::harvester {
namespace {

Problem problem(ProblemKind kind, std::string_view id, std::string what, std::string fix) {
    return {
        kind, {.file = "", .line = 0, .field = std::string(id)}, std::move(what), std::move(fix)};
}

/// A control whose name is right, but which this machine has not.
Problem not_on_this_machine(std::string_view id, const NamedControl& named,
                            const Machine& machine) {
    const ControlTraits& of = traits(named.kind);
    const int others = machine.count(named.kind);
    std::string what = "this machine has no " + std::string(words(of.stage));
    std::string fix = "leave it out";
    if (others > 0) {
        Control asked;
        asked.kind = named.kind;
        asked.place = named.place;
        what = "this machine has no " + asked.words();
        for (const Control& control : machine.controls) {
            if (control.kind == named.kind) {
                asked.place = control.place;  // the last of them
            }
        }
        fix = others == 1 ? "name it " + asked.id()
                          : "it has " + std::to_string(others) + ", up to " + asked.id();
    } else if (machine.has(of.stage)) {
        what = "on this machine this cannot be set: " + std::string(of.words);
    }
    return problem(ProblemKind::conflict, id, std::move(what), std::move(fix));
}

Problem unknown(std::string_view id, const Machine& machine) {
    if (const auto named = find_control_kind(id)) {
        return not_on_this_machine(id, *named, machine);
    }
    std::set<std::string> known;
    for (const Control& control : machine.controls) {
        known.insert(control.id());
    }
    return problem(ProblemKind::input, id, "no control has this name",
                   did_you_mean(id, known) + "the machine lists its controls");
}

void look_at_value(const Control& control, double value, Problems& problems) {
    const ControlTraits& of = traits(control.kind);
    if (!std::isfinite(value)) {
        problems.push_back(problem(ProblemKind::input, control.id(), "this is not a number",
                                   "give the " + control.words()));
    } else if (of.is_choice()) {
        if (!control.is_within(value) || value != std::floor(value)) {
            std::string choices;
            for (const std::string_view choice : of.choices) {
                choices += (choices.empty() ? "" : " or ") + std::string(choice);
            }
            problems.push_back(problem(ProblemKind::input, control.id(),
                                       control.text(value) + " is none of its choices",
                                       "choose " + choices));
        }
    } else if (!control.is_within(value)) {
        problems.push_back(problem(
            ProblemKind::limit, control.id(),
            control.text(value) + " is outside what this machine can",
            "it goes from " + control.text(control.least) + " to " + control.text(control.most)));
    }
}

/// The follower must come lower than the leaf remover, or the knife meets no crown that the leaf
/// remover has spared.
void look_at_follower(const Settings& settings, const Machine& machine, Problems& problems) {
    const auto remover = settings.find("leaf_remover.height");
    const auto lowest = settings.find("follower.lowest");
    const Control* control = machine.find("follower.lowest");
    if (remover && lowest && control != nullptr && *lowest >= *remover) {
        problems.push_back(problem(ProblemKind::conflict, "follower.lowest",
                                   control->text(*lowest) + " is not below the leaf remover, " +
                                       control->text(*remover) + ": the knife would meet no crown",
                                   "let the follower lower, or raise the leaf remover"));
    }
}

}  // namespace

std::optional<double> Settings::find(std::string_view id) const {
    const auto found = values.find(id);
    return found == values.end() ? std::nullopt : std::optional(found->second);
}

Settings usual_settings(const Machine& machine) {
    Settings settings;
    for (const Control& control : machine.controls) {
        settings.values[control.id()] = control.usual;
    }
    return settings;
}

Problems check(const Settings& settings, const Machine& machine) {
    Problems problems;
    for (const auto& [id, value] : settings.values) {
        if (const Control* control = machine.find(id)) {
            look_at_value(*control, value, problems);
        } else {
            problems.push_back(unknown(id, machine));
        }
    }
    for (const Control& control : machine.controls) {
        if (!settings.values.contains(control.id())) {
            problems.push_back(problem(
                ProblemKind::missing, control.id(), "it has no value",
                "give the " + control.words() + "; usual is " + control.text(control.usual)));
        }
    }
    look_at_follower(settings, machine, problems);
    return problems;
}

}  // namespace beetwright::harvester
