#include "maps/iso11783_cells.hpp"

#include <geodesic.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>
#include <numbers>

#include "base/number_text.hpp"
#include "io/decimal.hpp"

namespace beetwright::maps {
namespace {

// WGS 84.
constexpr double kEquator_m = 6378137.0;
constexpr double kFlattening = 1.0 / 298.257223563;

constexpr double kMostAcross = 10'000.0;
constexpr double kMostCells = 1'000'000.0;
constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();
constexpr int kDegreePlaces = 9;
constexpr int kSizeDigits = 10;

struct Bounds {
    ground::Position least{90.0, 180.0};
    ground::Position most{-90.0, -180.0};

    void take(const ground::Position& at) {
        least.latitude_deg = std::min(least.latitude_deg, at.latitude_deg);
        least.longitude_deg = std::min(least.longitude_deg, at.longitude_deg);
        most.latitude_deg = std::max(most.latitude_deg, at.latitude_deg);
        most.longitude_deg = std::max(most.longitude_deg, at.longitude_deg);
    }
};

/// Metres along a degree north and a degree east.
struct DegreeLengths {
    double north_m;
    double east_m;
};
DegreeLengths degree_lengths(double latitude_deg) {
    constexpr double kDegree = std::numbers::pi / 180.0;
    constexpr double kSquared = kFlattening * (2.0 - kFlattening);
    const double sine = std::sin(latitude_deg * kDegree);
    const double root = std::sqrt(1.0 - kSquared * sine * sine);
    return {kEquator_m * (1.0 - kSquared) / (root * root * root) * kDegree,
            kEquator_m / root * std::cos(latitude_deg * kDegree) * kDegree};
}

/// The multiple of the last place that is written at or below a number of degrees.
double floored(double degrees) {
    constexpr double kPerDegree = 1e9;
    return read_number(degrees_text(std::floor(degrees * kPerDegree) / kPerDegree));
}

/// Where a polygon's rings cross the parallel of a row, from the west: inside lies between the
/// first and the second, the third and the fourth, and so on.
std::vector<double> crossings(const ground::Polygon& polygon, double latitude_deg) {
    std::vector<double> east;
    const auto add = [&](const ground::Ring& ring) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const auto& a = ring[k];
            const auto& b = ring[(k + 1) % ring.size()];
            if ((a.latitude_deg > latitude_deg) != (b.latitude_deg > latitude_deg)) {
                const double along =
                    (latitude_deg - a.latitude_deg) / (b.latitude_deg - a.latitude_deg);
                east.push_back(a.longitude_deg + along * (b.longitude_deg - a.longitude_deg));
            }
        }
    };
    add(polygon.outer);
    std::ranges::for_each(polygon.holes, add);
    std::ranges::sort(east);
    return east;
}

/// Gives a zone the cells whose middles lie in a polygon of it.
void lay(const ground::Polygon& polygon, std::size_t zone, ZoneCells& cells) {
    const auto& grid = cells.grid;
    for (std::uint32_t row = 0; row < grid.rows; ++row) {
        const auto east = crossings(polygon, grid.middle(0, row).latitude_deg);
        std::size_t passed = 0;
        for (std::uint32_t column = 0; column < grid.columns && passed < east.size(); ++column) {
            const double middle = grid.middle(column, row).longitude_deg;
            while (passed < east.size() && east[passed] <= middle) {
                ++passed;
            }
            auto& of = cells.zone_of[std::size_t{row} * grid.columns + column];
            if (passed % 2 == 1 && of == kNone) {
                of = zone;
            }
        }
    }
}

/// Gives cells that have no zone that of their nearest neighbour, counted in steps from cell to
/// cell.
void fill_outside(ZoneCells& cells) {
    const std::size_t columns = cells.grid.columns;
    auto& zone_of = cells.zone_of;
    std::deque<std::size_t> edge;
    for (std::size_t cell = 0; cell < zone_of.size(); ++cell) {
        if (zone_of[cell] != kNone) {
            edge.push_back(cell);
        }
    }
    while (!edge.empty()) {
        const auto cell = edge.front();
        edge.pop_front();
        const auto give = [&](bool is_there, std::size_t to) {
            if (is_there && zone_of[to] == kNone) {
                zone_of[to] = zone_of[cell];
                edge.push_back(to);
            }
        };
        give(cell % columns > 0, cell - 1);
        give(cell % columns + 1 < columns, cell + 1);
        give(cell >= columns, cell - columns);
        give(cell + columns < zone_of.size(), cell + columns);
    }
}

Where at_cells() {
    return {.file = "", .line = 0, .field = "cell"};
}

}  // namespace

std::string degrees_text(double degrees) {
    return fixed_text(degrees, kDegreePlaces);
}

double area_m2(const ground::Area& area) {
    geod_geodesic earth{};
    geod_init(&earth, kEquator_m, kFlattening);
    const auto of_ring = [&](const ground::Ring& ring) {
        geod_polygon polygon{};
        geod_polygon_init(&polygon, 0);
        for (const auto& corner : ring) {
            geod_polygon_addpoint(&earth, &polygon, corner.latitude_deg, corner.longitude_deg);
        }
        double signed_m2 = 0.0;
        constexpr int kEitherWay = 0;
        constexpr int kSigned = 1;
        geod_polygon_compute(&earth, &polygon, kEitherWay, kSigned, &signed_m2, nullptr);
        return std::abs(signed_m2);
    };
    double sum = 0.0;
    for (const auto& polygon : area) {
        sum += of_ring(polygon.outer);
        for (const auto& hole : polygon.holes) {
            sum -= of_ring(hole);
        }
    }
    return sum;
}

ZoneCells zone_cells(const ZonePlan& plan, double cell_m, io::ProblemList& problems) {
    Bounds bounds;
    for (const auto& zone : plan.zones) {
        for (const auto& polygon : zone.area) {
            std::ranges::for_each(polygon.outer, [&](const auto& at) { bounds.take(at); });
        }
    }
    const auto lengths =
        degree_lengths(0.5 * (bounds.least.latitude_deg + bounds.most.latitude_deg));
    ZoneCells cells;
    auto& grid = cells.grid;
    grid.cell_north_deg = io::rounded_to_digits(cell_m / lengths.north_m, kSizeDigits);
    grid.cell_east_deg = io::rounded_to_digits(cell_m / lengths.east_m, kSizeDigits);
    grid.south_west = {floored(bounds.least.latitude_deg), floored(bounds.least.longitude_deg)};
    const double rows =
        std::ceil((bounds.most.latitude_deg - grid.south_west.latitude_deg) / grid.cell_north_deg);
    const double columns =
        std::ceil((bounds.most.longitude_deg - grid.south_west.longitude_deg) / grid.cell_east_deg);
    if (!(rows >= 1.0 && columns >= 1.0 && rows <= kMostAcross && columns <= kMostAcross &&
          rows * columns <= kMostCells)) {
        problems.add(at_cells(),
                     "cells of " + shortest_text(cell_m) + " m would be more than " +
                         fixed_text(kMostCells, 0) + ", or more than " +
                         fixed_text(kMostAcross, 0) + " in a row",
                     "make them larger, or send the zones themselves");
        return cells;
    }
    grid.rows = static_cast<std::uint32_t>(rows);
    grid.columns = static_cast<std::uint32_t>(columns);
    cells.zone_of.assign(std::size_t{grid.rows} * grid.columns, kNone);
    for (std::size_t z = 0; z < plan.zones.size(); ++z) {
        for (const auto& polygon : plan.zones[z].area) {
            lay(polygon, z, cells);
        }
        if (std::ranges::find(cells.zone_of, z) == cells.zone_of.end()) {
            problems.add(at_cells(),
                         "zone " + std::to_string(plan.zones[z].number) +
                             " has the middle of no cell of " + shortest_text(cell_m) + " m in it",
                         "make the cells smaller, or send the zones themselves");
        }
    }
    fill_outside(cells);
    return cells;
}

}  // namespace beetwright::maps
