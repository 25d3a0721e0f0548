// How a machine is set: a value for each of its controls.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "harvester/machine.hpp"

namespace beetwright::harvester {

struct Settings {
    /// By a control's id; SI, or which of the choices.
    std::map<std::string, double, std::less<>> values;

    [[nodiscard]] std::optional<double> find(std::string_view id) const;
};

/// Each control at its usual value.
Settings usual_settings(const Machine& machine);

/// What is wrong with these settings on this machine: values outside its range, controls that it
/// has not or that have no value, and values that cannot go together. Empty where all is well.
Problems check(const Settings& settings, const Machine& machine);

}  // namespace beetwright::harvester
