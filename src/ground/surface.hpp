// A field's ground as a grid of heights with how sure each is: from a machine's track, or from
// heights that somebody else measured. docs/methods/relief.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "ground/area.hpp"
#include "ground/cleaning.hpp"
#include "ground/drift.hpp"
#include "ground/grid.hpp"
#include "ground/local_plane.hpp"
#include "ground/variogram.hpp"

namespace beetwright::ground {

struct SurfaceWish {
    double cell_m = 5.0;
    /// The field; absent: where the track went.
    std::optional<Area> boundary = std::nullopt;
    /// In which it is driven, counter-clockwise from east; absent: as the track was.
    std::optional<double> direction_rad = std::nullopt;
};

struct Surface {
    LocalPlane plane;
    Grid grid;
    PlaneArea boundary;      ///< empty where none was given
    Layer height_m;          ///< NaN outside the field
    Layer deviation_m;       ///< standard deviation of what is not known of it
    Layer yield_kg_m2 = {};  ///< of beet as harvested, where the log says it; else empty
    Variogram variogram;
    Drift drift;                  ///< that was taken out; of a grid of heights none
    double spacing_m = kNotSaid;  ///< between passes
    double speed_m_s = kNotSaid;
    std::vector<std::string> notes;

    [[nodiscard]] double field_m2() const;            ///< of the cells that are known
    [[nodiscard]] double median_deviation_m() const;  ///< of those; 0 where there is none
};

/// Problems: those of clean(); a track without heights; a boundary that the track does not reach;
/// more than a million cells.
Result<Surface> surface_of(const Track& track, const SurfaceWish& wish = {});
Result<Surface> surface_of(const Heights& heights, const SurfaceWish& wish = {});

}  // namespace beetwright::ground
