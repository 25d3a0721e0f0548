#include "maps/map_file.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "base/lower_case.hpp"
#include "base/trimmed.hpp"
#include "maps/ascii_grid.hpp"
#include "maps/geojson.hpp"
#include "maps/geotiff.hpp"
#include "maps/nmea.hpp"
#include "maps/point_table.hpp"
#include "maps/shapefile.hpp"

namespace beetwright::maps {
namespace {

constexpr std::string_view kMark = "\xEF\xBB\xBF";  // with which some programs begin UTF-8

/// Whether the headings of a table have a column that says where.
bool looks_like_point_table(std::string_view text) {
    constexpr std::size_t kMostOfHead = 10'000;
    text = text.substr(0, kMostOfHead);
    while (text.starts_with('#') || text.starts_with('\n') || text.starts_with('\r')) {
        text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
    }
    text = text.substr(0, text.find('\n'));
    while (!text.empty()) {
        const auto cell = text.substr(0, text.find_first_of(",;\t"));
        text.remove_prefix(std::min(cell.size() + 1, text.size()));
        const auto name = lower_case(trimmed(cell.substr(0, cell.find('[')), " \"\r"));
        if (name == "latitude" || name == "longitude" || name == "east" || name == "north") {
            return true;
        }
    }
    return false;
}

/// "fields" and ".shp" of "north/fields.shp"; the ending in small letters.
struct SplitName {
    std::string stem;
    std::string ending;
};

SplitName split(const std::string& name) {
    const auto dot = name.rfind('.');
    if (dot == std::string::npos) {
        return {name, ""};
    }
    return {name.substr(0, dot), lower_case(std::string_view(name).substr(dot))};
}

/// The bytes of the file that stands beside this one under another ending; empty where none does.
std::string_view beside(std::span<const MapFile> files, const MapFile& of,
                        std::string_view ending) {
    const auto stem = split(of.name).stem;
    for (const auto& file : files) {
        const auto name = split(file.name);
        if (name.stem == stem && name.ending == ending) {
            return file.bytes;
        }
    }
    return {};
}

Problem not_known(const MapFile& file) {
    const auto text = file.bytes;
    std::string what = "this is no file of a map that is read here";
    if (text.starts_with("PK\x03\x04")) {
        what = "this is an archive";
    } else if (trimmed(text.substr(0, 1000), " \t\r\n\xEF\xBB\xBF").starts_with('<')) {
        what = "XML, such as KML and GPX, is not read here";
    } else if (text.empty()) {
        what = "the file is empty";
    }
    return {ProblemKind::input,
            {.file = file.name, .line = 0, .field = ""},
            std::move(what),
            "borders of fields come as GeoJSON or as a shapefile's .shp, .dbf and .prj; tracks as "
            "NMEA 0183 or as a table with latitude and longitude; heights as GeoTIFF or as a grid "
            "of text"};
}

/// The same answer, as one of the kinds of maps.
template <class Reading>
Result<MapReading> as_map(Result<Reading> reading) {
    if (!reading) {
        return reading.problems();
    }
    return MapReading(std::move(reading).value());
}

}  // namespace

MapKind kind_of(const MapFile& file) {
    auto bytes = file.bytes;
    if (looks_like_shapefile(bytes)) {
        // Its index begins in the same way.
        return split(file.name).ending == ".shx" ? MapKind::unknown : MapKind::shapefile;
    }
    if (looks_like_tiff(bytes)) {
        return MapKind::geotiff;
    }
    if (bytes.starts_with(kMark)) {
        bytes.remove_prefix(kMark.size());
    }
    constexpr std::size_t kBlanks = 1000;
    if (trimmed(bytes.substr(0, kBlanks), " \t\r\n").starts_with('{')) {
        return MapKind::geojson;
    }
    if (looks_like_ascii_grid(bytes)) {
        return MapKind::ascii_grid;
    }
    if (looks_like_point_table(bytes)) {
        return MapKind::point_table;
    }
    return looks_like_nmea(bytes) ? MapKind::nmea : MapKind::unknown;
}

bool is_companion(const MapFile& file) {
    constexpr std::array<std::string_view, 10> kEndings{".dbf", ".prj", ".cpg", ".shx", ".sbn",
                                                        ".sbx", ".qix", ".qpj", ".xml", ".tfw"};
    return std::ranges::find(kEndings, split(file.name).ending) != kEndings.end() &&
           kind_of(file) == MapKind::unknown;
}

Result<MapReading> read_map_file(std::span<const MapFile> files, const MapFacts& facts) {
    std::vector<const MapFile*> maps;
    for (const auto& file : files) {
        if (!is_companion(file)) {
            maps.push_back(&file);
        }
    }
    if (maps.empty()) {
        return files.empty() ? Problem{ProblemKind::missing, {}, "no file was given", "choose one"}
                             : not_known(files.front());
    }
    if (maps.size() > 1) {
        return Problem{ProblemKind::input,
                       {.file = maps[1]->name, .line = 0, .field = ""},
                       "this is a second map, beside " + maps[0]->name,
                       "give one at a time; of a shapefile its .shp, .dbf, .prj and .cpg"};
    }
    const MapFile& map = *maps.front();
    MapFacts known = facts;
    if (known.crs.empty()) {
        known.crs = std::string(beside(files, map, ".prj"));
    }
    switch (kind_of(map)) {
        case MapKind::geojson: return as_map(read_geojson(map.bytes, map.name));
        case MapKind::shapefile:
            return as_map(read_shapefile({.shp = map.bytes,
                                          .dbf = beside(files, map, ".dbf"),
                                          .prj = beside(files, map, ".prj"),
                                          .cpg = beside(files, map, ".cpg")},
                                         map.name, facts));
        case MapKind::nmea: return as_map(read_nmea(map.bytes, map.name, facts.first_day));
        case MapKind::point_table: return as_map(read_point_table(map.bytes, map.name, known));
        case MapKind::ascii_grid: return as_map(read_ascii_grid(map.bytes, map.name, known));
        case MapKind::geotiff: return as_map(read_geotiff(map.bytes, map.name, facts));
        case MapKind::unknown: break;
    }
    return not_known(map);
}

}  // namespace beetwright::maps
