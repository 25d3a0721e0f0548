#include "maps/geotiff.hpp"

#include <optional>

#include "maps/height_grid.hpp"
#include "maps/tiff_picture.hpp"

namespace beetwright::maps {
namespace {

using namespace std::string_view_literals;

/// The keys of OGC 19-008 that say where the grid is.
enum Key : std::uint16_t {
    kModelType = 1024,
    kRasterType = 1025,
    kGeographicSystem = 2048,
    kProjectedSystem = 3072,
    kVerticalSystem = 4096,
    kVerticalUnit = 4099,
};
constexpr int kGeographicModel = 2;
constexpr int kRasterIsPoints = 2;
constexpr int kUsersOwn = 32767;

/// The number of a key that stands in the directory itself; 0 where it is not there.
int key_of(const TiffPicture& picture, Key wanted) {
    constexpr std::size_t kEntry = 4;  // key, where its value stands, how many, value
    for (std::size_t at = kEntry; at + kEntry <= picture.geo_keys.size(); at += kEntry) {
        if (picture.geo_keys[at] == wanted && picture.geo_keys[at + 1] == 0) {
            return picture.geo_keys[at + 3];
        }
    }
    return 0;
}

Problem fault(const std::string& file, std::string field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = std::move(field)},
            std::move(what),
            std::move(fix)};
}

/// Puts the grid where the file says; a problem where it does not say, or the grid is turned.
std::optional<Problem> place(const TiffPicture& picture, const std::string& file,
                             HeightGrid& grid) {
    constexpr std::size_t kTiePoint = 6;  // column, row, 0, east, north, 0
    double column = 0.0;
    double row = 0.0;
    if (picture.pixel_scale.size() >= 2 && picture.tie_points.size() >= kTiePoint) {
        grid.step_east = picture.pixel_scale[0];
        grid.step_north = -picture.pixel_scale[1];
        column = -picture.tie_points[0];
        row = -picture.tie_points[1];
        grid.first_east = picture.tie_points[3];
        grid.first_north = picture.tie_points[4];
    } else if (picture.transformation.size() == 16) {
        // Two rows of a matrix: east and north of column, row, 0, 1.
        const auto& m = picture.transformation;
        if (m[1] != 0.0 || m[4] != 0.0) {
            return fault(file, "ModelTransformation", "the grid is turned against east and north",
                         "save it with rows from west to east");
        }
        grid.step_east = m[0];
        grid.step_north = m[5];
        grid.first_east = m[3];
        grid.first_north = m[7];
    } else {
        return fault(file, "ModelTiepoint", "the picture does not say where it is",
                     "save it as GeoTIFF, with its place");
    }
    if (grid.step_east == 0.0 || grid.step_north == 0.0) {
        return fault(file, "ModelPixelScale", "a cell has no size", "save the file again");
    }
    // What was said is of a cell's corner, unless the file says that cells are points.
    const double half = key_of(picture, kRasterType) == kRasterIsPoints ? 0.0 : 0.5;
    grid.first_east += (column + half) * grid.step_east;
    grid.first_north += (row + half) * grid.step_north;
    return std::nullopt;
}

Result<Crs> system_of(const TiffPicture& picture, const HeightGrid& grid, const std::string& file,
                      const MapFacts& facts, std::vector<std::string>& notes) {
    const Where where{.file = file, .line = 0, .field = "crs"};
    if (!facts.crs.empty()) {
        return Crs::from_text(facts.crs, where);
    }
    if (picture.geo_keys.empty()) {
        return crs_supposed(grid, file, notes);
    }
    const int code =
        key_of(picture, key_of(picture, kModelType) == kGeographicModel ? kGeographicSystem
                                                                        : kProjectedSystem);
    if (code == 0 || code == kUsersOwn) {
        return fault(file, "crs", "its coordinate system is none of EPSG's",
                     "save it in one with an EPSG code, such as EPSG:25832, or say which it is");
    }
    return Crs::from_epsg(code, where);
}

ground::HeightOver heights_over(const TiffPicture& picture) {
    const int code = key_of(picture, kVerticalSystem);
    // The first GeoTIFF's own codes for heights over ellipsoids; all others are over a geoid.
    constexpr int kFirstEllipsoid = 5001;
    constexpr int kLastEllipsoid = 5033;
    if (code == 0 || code == kUsersOwn) {
        return ground::HeightOver::unknown;
    }
    return code >= kFirstEllipsoid && code <= kLastEllipsoid ? ground::HeightOver::ellipsoid
                                                             : ground::HeightOver::sea_level;
}

Result<double> unit_of_heights(const TiffPicture& picture, const std::string& file,
                               const MapFacts& facts) {
    if (!facts.height_unit.empty()) {
        return height_unit_m(facts, file);
    }
    switch (const int code = key_of(picture, kVerticalUnit)) {
        case 0:
        case kUsersOwn:
        case 9001: return 1.0;
        case 9002: return 0.3048;
        case 9003: return 1200.0 / 3937.0;  // US survey foot
        default:
            return fault(file, "VerticalUnits",
                         "its unit of heights, EPSG:" + std::to_string(code) + ", is not read",
                         "save heights in metres or feet");
    }
}

}  // namespace

bool looks_like_tiff(std::string_view bytes) {
    for (const auto start : {"II*\0"sv, "MM\0*"sv, "II+\0"sv, "MM\0+"sv}) {
        if (bytes.starts_with(start)) {
            return true;
        }
    }
    return false;
}

Result<ground::Heights> read_geotiff(std::string_view bytes, const std::string& file,
                                     const MapFacts& facts) {
    auto picture = read_tiff(bytes, file, kMostCells);
    if (!picture) {
        return picture.problems();
    }
    HeightGrid grid;
    grid.columns = picture->columns;
    grid.rows = picture->rows;
    grid.heights = std::move(picture->numbers);
    if (auto problem = place(*picture, file, grid)) {
        return *problem;
    }
    const auto metres = unit_of_heights(*picture, file, facts);
    if (!metres) {
        return metres.problems();
    }
    grid.metres = *metres;
    std::vector<std::string> notes;
    const auto crs = system_of(*picture, grid, file, facts, notes);
    if (!crs) {
        return crs.problems();
    }
    auto known = facts;
    if (known.heights_over == ground::HeightOver::unknown) {
        known.heights_over = heights_over(*picture);
    }
    return heights_of(grid, *crs, file, known, std::move(notes));
}

}  // namespace beetwright::maps
