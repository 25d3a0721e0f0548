// How a table's columns of numbers are described.
#pragma once

#include "io/table.hpp"

namespace beetwright::io {

/// Bounds in SI.
constexpr Column number_column(std::string_view name, Presence presence, UnitKind kind,
                               std::string_view metric, std::string_view us, double least,
                               double most, std::string_view words) {
    return {.name = name,
            .kind = CellKind::number,
            .presence = presence,
            .words = words,
            .unit_kind = kind,
            .metric_unit = metric,
            .us_unit = us,
            .least = least,
            .most = most};
}

}  // namespace beetwright::io
