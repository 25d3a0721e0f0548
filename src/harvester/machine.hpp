// A harvester as the controls it has, in the order of its stages.
// docs/methods/harvester_controls.md.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "harvester/control.hpp"

namespace beetwright::harvester {

struct Machine {
    std::string name;  ///< its owner's word, or that of its kind
    int rows = 6;
    std::vector<Control> controls;

    /// Null where it has no such control.
    [[nodiscard]] const Control* find(std::string_view id) const;
    [[nodiscard]] bool has(Stage stage) const;
    /// How many of this kind it has.
    [[nodiscard]] int count(ControlKind kind) const;
};

/// Controls of a kind that are set alike, in the machine's order; passes over the field are not.
std::vector<std::vector<const Control*>> set_together(const Machine& machine);

/// What is wrong with a machine that somebody described: controls named twice, ranges that are
/// none, guards without their turbine. Empty where all is well.
Problems problems_of(const Machine& machine);

enum class MachineKind : std::uint8_t {
    six_row_turbines,     ///< self-propelled, cleans by three turbines
    six_row_axial_rolls,  ///< self-propelled, cleans by axial rolls
    two_stage,            ///< a topper goes first, a lifter follows
};
inline constexpr std::size_t kMachineKinds = 3;
std::string_view words(MachineKind kind);

/// A machine of that kind as it is before its owner has said more.
Machine ready_made(MachineKind kind);

}  // namespace beetwright::harvester
