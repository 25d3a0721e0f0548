#include "maps/iso11783_grid.hpp"

#include <algorithm>

#include "base/counted.hpp"

namespace beetwright::maps {
namespace {

constexpr std::int64_t kMostAcross = 100'000;
constexpr std::int64_t kMostCells = 16'000'000;
constexpr std::int64_t kMostCode = 254;
constexpr int kOfZones = 1;
constexpr int kOfValues = 2;

std::int32_t little_endian(std::string_view bytes) {
    std::uint32_t number = 0;
    for (std::size_t k = 0; k < 4; ++k) {
        number |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[k])) << (8 * k);
    }
    return static_cast<std::int32_t>(number);
}

/// What a grid of values has in each cell: what its zone has, in that order.
std::optional<std::vector<std::uint16_t>> identifiers_of(ElementReader& reader,
                                                         const GridElement& grid,
                                                         std::span<const TreatmentZone> zones) {
    const auto found = std::ranges::find(zones, *grid.zone, &TreatmentZone::code);
    if (found == zones.end() || found->values.empty()) {
        reader.wrong(*grid.element, "J",
                     found == zones.end() ? "the task has no zone " + std::to_string(*grid.zone)
                                          : "zone " + std::to_string(*grid.zone) + " has no values",
                     "name a TZN whose PDV say what each cell has values of");
        return std::nullopt;
    }
    std::vector<std::uint16_t> identifiers;
    for (const auto& value : found->values) {
        identifiers.push_back(value.identifier);
    }
    return identifiers;
}

}  // namespace

std::optional<GridElement> read_grid_element(ElementReader& reader, const XmlElement& element) {
    const auto south = reader.decimal(element, "A", -90.0, 90.0);
    const auto west = reader.decimal(element, "B", -180.0, 180.0);
    const auto north_size = reader.decimal(element, "C", 1e-9, 1.0);
    const auto east_size = reader.decimal(element, "D", 1e-9, 1.0);
    const auto columns = reader.whole(element, "E", 1, kMostAcross);
    const auto rows = reader.whole(element, "F", 1, kMostAcross);
    auto file = reader.file_name(element, "G", "GRD");
    const auto type = reader.whole(element, "I", kOfZones, kOfValues);
    if (!south || !west || !north_size || !east_size || !columns || !rows || !file || !type) {
        return std::nullopt;
    }
    if (*columns * *rows > kMostCells) {
        reader.wrong(element, "E", "the grid has " + std::to_string(*columns * *rows) + " cells",
                     "make it of " + std::to_string(kMostCells) + " cells at most");
        return std::nullopt;
    }
    GridElement grid{.element = &element, .file = std::move(*file), .grid = {}};
    grid.grid.south_west = {*south, *west};
    grid.grid.cell_north_deg = *north_size;
    grid.grid.cell_east_deg = *east_size;
    grid.grid.columns = static_cast<std::uint32_t>(*columns);
    grid.grid.rows = static_cast<std::uint32_t>(*rows);
    grid.type = static_cast<int>(*type);
    if (grid.type == kOfValues) {
        const auto zone = reader.whole(element, "J", 0, kMostCode);
        if (!zone) {
            return std::nullopt;
        }
        grid.zone = static_cast<int>(*zone);
    }
    return grid;
}

std::optional<TreatmentGrid> read_grid_cells(ElementReader& reader, GridElement grid,
                                             const NamedFile& cells,
                                             std::span<const TreatmentZone> zones,
                                             io::ProblemList& problems) {
    std::size_t bytes_of_a_cell = 1;
    if (grid.type == kOfValues) {
        auto identifiers = identifiers_of(reader, grid, zones);
        if (!identifiers) {
            return std::nullopt;
        }
        grid.grid.identifiers = std::move(*identifiers);
        bytes_of_a_cell = 4 * grid.grid.identifiers.size();
    }
    const auto wanted = std::size_t{grid.grid.columns} * grid.grid.rows * bytes_of_a_cell;
    if (cells.bytes.size() != wanted) {
        problems.add({.file = cells.name, .line = 0, .field = ""},
                     "the grid's file has " + counted(cells.bytes.size(), "byte", "bytes") + "; " +
                         std::to_string(grid.grid.rows) + " by " +
                         std::to_string(grid.grid.columns) + " cells with " +
                         counted(bytes_of_a_cell, "byte", "bytes") + " each want " +
                         std::to_string(wanted),
                     "copy the file again; it was cut off, or belongs to another task");
        return std::nullopt;
    }
    const std::string_view bytes(cells.bytes);
    if (grid.type == kOfZones) {
        for (const char code : bytes) {
            grid.grid.zone_codes.push_back(static_cast<std::uint8_t>(code));
        }
    } else {
        grid.grid.steps.reserve(wanted / 4);
        for (std::size_t at = 0; at < bytes.size(); at += 4) {
            grid.grid.steps.push_back(little_endian(bytes.substr(at, 4)));
        }
    }
    return std::move(grid.grid);
}

}  // namespace beetwright::maps
