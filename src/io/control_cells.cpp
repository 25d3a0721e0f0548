#include "io/control_cells.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string_view>

#include "base/contract.hpp"
#include "base/nearest_name.hpp"

namespace beetwright::io {
namespace {

std::string joined(const std::string& list, std::string_view one, std::string_view between) {
    return (list.empty() ? list : list + std::string(between)) + std::string(one);
}

std::string units_of(UnitKind kind) {
    std::string list;
    for (const Unit& unit : all_units()) {
        if (unit.kind == kind) {
            list = joined(list, unit.symbol, ", ");
        }
    }
    return list;
}

std::string choices_of(const harvester::ControlTraits& traits) {
    std::string list;
    for (const std::string_view choice : traits.choices) {
        list = joined(list, choice, " or ");
    }
    return list;
}

}  // namespace

std::optional<ControlNamed> control_in(TableReader& reader, const TableRow& row,
                                       std::size_t column) {
    const auto named = harvester::find_control_kind(row.view(column));
    if (!named) {
        std::set<std::string> known;
        for (const auto& traits : harvester::control_kinds()) {
            known.emplace(traits.id);
        }
        reader.fail(column, "no control is called \"" + row.text(column) + "\"",
                    did_you_mean(row.view(column), known) +
                        "docs/methods/harvester_controls.md lists them");
        return std::nullopt;
    }
    harvester::Control control;
    control.kind = named->kind;
    control.place = named->place;
    return ControlNamed{control.id(), &harvester::traits(named->kind)};
}

std::optional<Unit> unit_in(TableReader& reader, const TableRow& row, std::size_t column,
                            const ControlNamed& control) {
    const auto& traits = *control.traits;
    if (!row.has(column)) {
        return usual_unit(traits);
    }
    if (traits.is_choice()) {
        reader.fail(column, control.id + " is chosen, and a choice has no unit", "leave it empty");
        return std::nullopt;
    }
    const auto unit = find_unit(row.view(column));
    if (!unit || unit->kind != traits.unit_kind()) {
        reader.fail(column, "'" + row.text(column) + "' is not a unit of " + control.id,
                    "write one of: " + units_of(traits.unit_kind()));
        return std::nullopt;
    }
    return unit;
}

std::optional<double> value_in(TableReader& reader, const TableRow& row, std::size_t column,
                               const ControlNamed& control, const Unit& unit) {
    const auto& traits = *control.traits;
    if (!row.has(column)) {
        return std::numeric_limits<double>::quiet_NaN();
    }
    const double number = row.number(column);
    if (!traits.is_choice()) {
        if (std::isnan(number)) {
            reader.fail(column,
                        control.id + " is an amount, and '" + row.text(column) + "' is none",
                        "write a number");
            return std::nullopt;
        }
        return unit.to_si(number);
    }
    const auto choice = std::ranges::find(traits.choices, row.view(column));
    if (choice == traits.choices.end()) {
        reader.fail(column, "'" + row.text(column) + "' is not a choice of " + control.id,
                    "write " + choices_of(traits));
        return std::nullopt;
    }
    return static_cast<double>(choice - traits.choices.begin());
}

Unit usual_unit(const harvester::ControlTraits& traits) {
    const auto unit = find_unit(traits.unit);
    require(unit.has_value(), "a control is read in a unit that is known");
    return *unit;
}

}  // namespace beetwright::io
