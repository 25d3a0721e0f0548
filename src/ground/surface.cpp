#include "ground/surface.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>
#include <numeric>
#include <utility>

#include "base/random.hpp"
#include "ground/kriging.hpp"
#include "ground/plane_area.hpp"
#include "ground/plane_fit.hpp"
#include "num/median.hpp"

namespace beetwright::ground {
namespace {

constexpr std::size_t kMostCells = 1'000'000;
constexpr std::size_t kNearest = 16;
constexpr std::size_t kForVariogram = 1500;  // places; their pairs are a million
constexpr double kVariogramReach_m = 120.0;
constexpr double kVariogramClasses = 15.0;
constexpr double kReach = 1.6;  // of the spacing or the cell: so near to a height ground is known
constexpr std::size_t kFewestPlaces = 20;

/// Heights in the plane, with how sure each is.
struct Heard {
    std::vector<Point> at;
    std::vector<double> height_m;
    double noise_m = 0.0;    ///< of each
    double spacing_m = 0.0;  ///< between those side by side, about
};

/// The least grid along a direction that holds points.
Grid grid_about(const std::vector<Point>& points, double direction_rad, double cell_m) {
    Grid grid{{0.0, 0.0}, direction_rad, cell_m, 0, 0};
    double along_least = std::numeric_limits<double>::infinity();
    double across_least = along_least;
    double along_most = -along_least;
    double across_most = -along_least;
    for (const auto& point : points) {
        const auto [along, across] = grid.along_and_across(point);
        along_least = std::min(along_least, along);
        along_most = std::max(along_most, along);
        across_least = std::min(across_least, across);
        across_most = std::max(across_most, across);
    }
    grid.corner = grid.in_plane(along_least, across_least);
    grid.columns = static_cast<std::size_t>((along_most - along_least) / cell_m) + 1;
    grid.rows = static_cast<std::size_t>((across_most - across_least) / cell_m) + 1;
    return grid;
}

/// Means of the heights in each cell.
std::vector<Measured> means_of(const Heard& heard, const Grid& grid) {
    struct Sum {
        double east = 0.0;
        double north = 0.0;
        double height = 0.0;
        double count = 0.0;
    };
    std::vector<Sum> sums(grid.size());
    for (std::size_t i = 0; i < heard.at.size(); ++i) {
        if (const auto cell = grid.cell_of(heard.at[i])) {
            auto& sum = sums[*cell];
            sum.count += 1.0;
            const double share = 1.0 / sum.count;
            sum.east += share * (heard.at[i].east_m - sum.east);
            sum.north += share * (heard.at[i].north_m - sum.north);
            sum.height += share * (heard.height_m[i] - sum.height);
        }
    }
    std::vector<Measured> means;
    for (const auto& sum : sums) {
        if (sum.count > 0.0) {
            means.push_back(
                {{sum.east, sum.north}, sum.height, heard.noise_m * heard.noise_m / sum.count});
        }
    }
    return means;
}

/// How unlike means are by their distance, once a plane is taken off; of the shapes the one that
/// fits.
Variogram variogram_of(const std::vector<Measured>& means) {
    // Every so-manieth, in an order that follows no row of the field.
    std::vector<Point> places;
    std::vector<double> values;
    const std::size_t step = std::max<std::size_t>(1, means.size() / kForVariogram);
    RandomStream random(1, "heights for a variogram");
    for (std::size_t i = 0; i + step <= means.size(); i += step) {
        const auto& one = means[i + random.below(static_cast<std::uint32_t>(step))];
        places.push_back(one.at);
        values.push_back(one.value);
    }
    // Off with the plane: of a slope the variogram has no sill.
    const auto plane = plane_through(places, values);
    double across2 = 0.0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        values[i] -= plane.at(places[i]);
        const double east = places[i].east_m - plane.middle.east_m;
        const double north = places[i].north_m - plane.middle.north_m;
        across2 += (east * east + north * north) / static_cast<double>(places.size());
    }
    const double reach = std::min(kVariogramReach_m, std::sqrt(across2));
    const auto classes = empirical_variogram(places, values, reach, reach / kVariogramClasses);
    if (classes.size() < 3) {
        return {VariogramShape::exponential, 0.0, 1e-4, std::max(1.0, reach)};
    }
    VariogramFit best = fit_variogram(classes, VariogramShape::spherical);
    for (const auto shape : {VariogramShape::exponential, VariogramShape::matern}) {
        const auto fit = fit_variogram(classes, shape);
        if (fit.misfit < best.misfit) {
            best = fit;
        }
    }
    return best.variogram;
}

/// Cells within a reach of something measured.
std::vector<bool> near_to(const std::vector<Measured>& means, const Grid& grid, double reach_m) {
    std::vector<bool> near(grid.size(), false);
    const auto reach = static_cast<std::ptrdiff_t>(std::ceil(reach_m / grid.cell_m));
    for (const auto& one : means) {
        const auto [along, across] = grid.along_and_across(one.at);
        const auto column = static_cast<std::ptrdiff_t>(along / grid.cell_m);
        const auto row = static_cast<std::ptrdiff_t>(across / grid.cell_m);
        for (std::ptrdiff_t j = std::max<std::ptrdiff_t>(0, row - reach);
             j <= std::min(static_cast<std::ptrdiff_t>(grid.rows) - 1, row + reach); ++j) {
            for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, column - reach);
                 i <= std::min(static_cast<std::ptrdiff_t>(grid.columns) - 1, column + reach);
                 ++i) {
                const double off_along = (static_cast<double>(i) + 0.5) * grid.cell_m - along;
                const double off_across = (static_cast<double>(j) + 0.5) * grid.cell_m - across;
                if (std::hypot(off_along, off_across) <= reach_m) {
                    near[static_cast<std::size_t>(j) * grid.columns + static_cast<std::size_t>(i)] =
                        true;
                }
            }
        }
    }
    return near;
}

/// A surface of which nothing is known yet.
Surface bare(const LocalPlane& plane, const std::vector<std::string>& notes) {
    return {.plane = plane,
            .grid = {},
            .boundary = {},
            .height_m = {},
            .deviation_m = {},
            .yield_kg_m2 = {},
            .variogram = {},
            .drift = {},
            .notes = notes};
}

Result<Done> spread(const Heard& heard, double direction_rad, const SurfaceWish& wish,
                    const std::string& name, Surface& surface) {
    if (heard.at.size() < kFewestPlaces) {
        return Problem{ProblemKind::input,
                       {name, 0, "height"},
                       "only " + std::to_string(heard.at.size()) + " of its heights can be used",
                       "give a log or a grid with heights over the whole field"};
    }
    std::vector<Point> corners = heard.at;
    if (wish.boundary) {
        surface.boundary = surface.plane.to_plane(*wish.boundary);
        corners.clear();
        for (const auto& polygon : surface.boundary) {
            corners.insert(corners.end(), polygon.outer.begin(), polygon.outer.end());
        }
    }
    surface.grid = grid_about(corners, wish.direction_rad.value_or(direction_rad), wish.cell_m);
    const Grid& grid = surface.grid;
    if (grid.columns > kMostCells || grid.rows > kMostCells || grid.size() > kMostCells) {
        return Problem{ProblemKind::limit,
                       {name, 0, {}},
                       "the ground would be more than a million cells",
                       "give a boundary of the field, or larger cells"};
    }
    const auto means = means_of(heard, grid);
    if (means.size() < kFewestPlaces) {
        return Problem{ProblemKind::conflict,
                       {name, 0, {}},
                       "fewer than 20 cells of the field have a height in them",
                       "give the boundary and the log of the same field"};
    }
    surface.variogram = variogram_of(means);
    surface.height_m.assign(grid.size(), kNotSaid);
    surface.deviation_m.assign(grid.size(), kNotSaid);
    const double reach_m = kReach * std::max(heard.spacing_m, grid.cell_m);
    const auto near = near_to(means, grid, reach_m);
    // What means differ by over no distance at all is error too, as far as it is more than noise.
    auto measured = means;
    for (auto& one : measured) {
        one.variance = std::max(one.variance, surface.variogram.nugget);
    }
    const Kriging kriging(std::move(measured), surface.variogram, kNearest);
    std::size_t wanted = 0;
    std::size_t known = 0;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        const auto middle = grid.middle(cell);
        if (wish.boundary && !contains(surface.boundary, middle)) {
            continue;
        }
        ++wanted;
        if (!near[cell]) {
            continue;
        }
        ++known;
        const auto [value, variance] = kriging.at(middle);
        surface.height_m[cell] = value;
        surface.deviation_m[cell] = std::sqrt(variance);
    }
    if (wish.boundary && 2 * known < wanted) {
        return Problem{
            ProblemKind::conflict,
            {name, 0, {}},
            "heights reach only " + std::to_string(100 * known / std::max<std::size_t>(1, wanted)) +
                " % of the field",
            "give the boundary and the log of the same field, or a log of the whole of it"};
    }
    if (wish.boundary && known < wanted) {
        const auto missing = static_cast<double>(wanted - known) * grid.cell_m * grid.cell_m / 1e4;
        if (missing >= 0.05) {
            surface.notes.push_back("no height is near a part of the field: " +
                                    std::to_string(std::lround(10.0 * missing)) +
                                    " tenths of a hectare are left out");
        }
    }
    return Done{};
}

/// Mean yields of the cells whose height is known; empty where no sample says one.
Layer yields_of(const std::vector<Sample>& samples, const Surface& surface) {
    Layer sums(surface.grid.size(), 0.0);
    Layer counts(surface.grid.size(), 0.0);
    bool is_any = false;
    for (const auto& sample : samples) {
        // Turns and ways there harvest nothing.
        const auto cell = sample.pass >= 0 && std::isfinite(sample.yield_kg_m2)
                              ? surface.grid.cell_of(sample.at)
                              : std::nullopt;
        if (cell && std::isfinite(surface.height_m[*cell])) {
            sums[*cell] += sample.yield_kg_m2;
            counts[*cell] += 1.0;
            is_any = true;
        }
    }
    if (!is_any) {
        return {};
    }
    for (std::size_t cell = 0; cell < sums.size(); ++cell) {
        sums[cell] = counts[cell] > 0.0 ? sums[cell] / counts[cell] : kNotSaid;
    }
    return sums;
}

}  // namespace

double Surface::field_m2() const {
    const auto known =
        std::ranges::count_if(height_m, [](double height) { return std::isfinite(height); });
    return static_cast<double>(known) * grid.cell_m * grid.cell_m;
}

double Surface::median_deviation_m() const {
    std::vector<double> known;
    std::ranges::copy_if(deviation_m, std::back_inserter(known),
                         [](double deviation) { return std::isfinite(deviation); });
    return known.empty() ? 0.0 : num::median_of(known);
}

Result<Surface> surface_of(const Track& track, const SurfaceWish& wish) {
    const auto plane =
        wish.boundary ? Result<LocalPlane>(LocalPlane(middle_of(*wish.boundary))) : plane_of(track);
    if (!plane) {
        return plane.problems();
    }
    auto cleaned = clean(track, *plane);
    if (!cleaned) {
        return cleaned.problems();
    }
    Surface surface = bare(*plane, track.notes);
    surface.notes.insert(surface.notes.end(), cleaned->notes.begin(), cleaned->notes.end());
    surface.spacing_m = cleaned->spacing_m;
    surface.speed_m_s = cleaned->speed_m_s;
    surface.drift = drift_of(cleaned->samples, cleaned->spacing_m);
    Heard heard;
    heard.noise_m = surface.drift.noise_m;
    heard.spacing_m = std::isfinite(cleaned->spacing_m) ? cleaned->spacing_m : wish.cell_m;
    for (const auto& sample : cleaned->samples) {
        if (std::isfinite(sample.height_m)) {
            heard.at.push_back(sample.at);
            heard.height_m.push_back(sample.height_m - surface.drift.at(sample.since_s));
        }
    }
    const auto done = spread(heard, cleaned->direction_rad, wish, track.name, surface);
    if (!done) {
        return done.problems();
    }
    surface.yield_kg_m2 = yields_of(cleaned->samples, surface);
    return surface;
}

Result<Surface> surface_of(const Heights& heights, const SurfaceWish& wish) {
    if (heights.points.empty() && !wish.boundary) {
        return Problem{ProblemKind::missing,
                       {heights.name, 0, {}},
                       "it holds no heights",
                       "give a grid with heights"};
    }
    Area corners;
    if (!wish.boundary) {
        auto& polygon = corners.emplace_back();
        for (const auto& point : heights.points) {
            polygon.outer.push_back(point.position);
        }
    }
    Surface surface =
        bare(LocalPlane(middle_of(wish.boundary ? *wish.boundary : corners)), heights.notes);
    Heard heard;
    heard.spacing_m = std::isfinite(heights.spacing_m) ? heights.spacing_m : wish.cell_m;
    for (const auto& point : heights.points) {
        heard.at.push_back(surface.plane.to_plane(point.position));
        heard.height_m.push_back(point.height_m);
    }
    const auto done = spread(heard, 0.0, wish, heights.name, surface);
    if (!done) {
        return done.problems();
    }
    return surface;
}

}  // namespace beetwright::ground
