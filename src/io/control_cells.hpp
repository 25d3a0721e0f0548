// Cells that speak of a machine's controls: which, in which unit, how much or which choice.
#pragma once

#include <optional>
#include <string>

#include "base/unit.hpp"
#include "harvester/control.hpp"
#include "io/table.hpp"

namespace beetwright::io {

/// A control as a row names it, whether or not a machine has it.
struct ControlNamed {
    std::string id;  ///< as harvester::Control::id() gives it
    const harvester::ControlTraits* traits = nullptr;
};

// Each gives nothing where the cell is wrong, which is told.

std::optional<ControlNamed> control_in(TableReader& reader, const TableRow& row,
                                       std::size_t column);
/// The unit that a cell names, or the control's usual one where it is empty; a choice has none.
std::optional<Unit> unit_in(TableReader& reader, const TableRow& row, std::size_t column,
                            const ControlNamed& control);
/// A cell of CellKind::number_or_word: SI, or which choice. NaN where it is empty.
std::optional<double> value_in(TableReader& reader, const TableRow& row, std::size_t column,
                               const ControlNamed& control, const Unit& unit);

/// The unit in which a control is written.
Unit usual_unit(const harvester::ControlTraits& traits);

}  // namespace beetwright::io
