#include "maps/geojson.hpp"

#include <array>
#include <optional>

#include "io/json_read.hpp"
#include "maps/area_intake.hpp"
#include "maps/geometry_json.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

using io::Json;

// A corner takes three values; a map of a large farm has some ten thousand corners.
constexpr io::JsonLimits kLimits{.deepest = 32, .most_values = 1'000'000};

/// Names under which the systems go that have WGS 84's own degrees, before 2016 written into files.
bool is_wgs84(std::string_view name) {
    constexpr std::array<std::string_view, 5> kNames{"urn:ogc:def:crs:OGC:1.3:CRS84",
                                                     "urn:ogc:def:crs:OGC::CRS84", "OGC:CRS84",
                                                     "urn:ogc:def:crs:EPSG::4326", "EPSG:4326"};
    for (const auto known : kNames) {
        if (name == known) {
            return true;
        }
    }
    return false;
}

class Reader {
 public:
    explicit Reader(AreaIntake& intake) : intake_(intake) {}

    void document(const Json& document) {
        if (!document.is_object()) {
            tell("", "GeoJSON is one object", "write { \"type\": \"FeatureCollection\", ... }");
            return;
        }
        if (!is_in_wgs84(document, "")) {
            return;
        }
        const auto type = type_of(document, "");
        if (!type) {
            return;
        }
        if (*type == "FeatureCollection") {
            const Json* features = list(document, "features", "features");
            for (std::size_t k = 0; features != nullptr && k < features->items().size(); ++k) {
                feature(features->items()[k], "features[" + std::to_string(k) + "]");
            }
        } else if (*type == "Feature") {
            feature(document, "");
        } else {
            NamedArea area;
            geometry(document, "", area);
            hand_over(std::move(area), "");
        }
    }

 private:
    void tell(const std::string& field, std::string what, std::string fix) {
        intake_.problems().add({.file = intake_.file(), .line = 0, .field = field}, std::move(what),
                               std::move(fix));
    }

    static std::string member(const std::string& path, const std::string& name) {
        return path.empty() ? name : path + "." + name;
    }

    /// Whether the old member for other coordinate systems is not there, or names WGS 84.
    bool is_in_wgs84(const Json& object, const std::string& path) {
        const Json* crs = object.find("crs");
        if (crs == nullptr || crs->is_null()) {
            return true;
        }
        const Json* properties = crs->find("properties");
        const Json* name = properties != nullptr ? properties->find("name") : nullptr;
        const std::string* words = name != nullptr ? name->text() : nullptr;
        if (words != nullptr && is_wgs84(*words)) {
            return true;
        }
        tell(member(path, "crs"),
             "the file is in another coordinate system" +
                 (words != nullptr ? ", " + *words : std::string()),
             "save it in WGS 84 (EPSG:4326): GeoJSON has no other since 2016");
        return false;
    }

    std::optional<std::string> type_of(const Json& object, const std::string& path) {
        const Json* type = object.find("type");
        if (type == nullptr || type->text() == nullptr) {
            tell(member(path, "type"), "this object does not say what it is",
                 "write a type: FeatureCollection, Feature, Polygon or MultiPolygon");
            return std::nullopt;
        }
        return *type->text();
    }

    const Json* list(const Json& object, const char* name, const std::string& path) {
        const Json* found = object.find(name);
        if (found == nullptr || !found->is_array()) {
            tell(path, found == nullptr ? "this member is missing" : "this is not a list",
                 "write [ ... ] here");
            return nullptr;
        }
        return found;
    }

    void feature(const Json& feature, const std::string& path) {
        if (!feature.is_object()) {
            tell(path, "this is not an object", "write a Feature here");
            return;
        }
        const auto type = type_of(feature, path);
        if (!type) {
            return;
        }
        if (!is_in_wgs84(feature, path)) {
            return;
        }
        if (*type != "Feature") {
            tell(member(path, "type"), "'" + *type + "' is not a Feature",
                 "put the geometry into a Feature");
            return;
        }
        const Json* shape = feature.find("geometry");
        if (shape == nullptr || shape->is_null()) {
            intake_.pass_over("Feature without geometry");
            return;
        }
        NamedArea area;
        properties(feature, area);
        geometry(*shape, member(path, "geometry"), area);
        hand_over(std::move(area), member(path, "geometry"));
    }

    static void properties(const Json& feature, NamedArea& area) {
        const Json* properties = feature.find("properties");
        if (properties != nullptr) {
            for (const auto& [name, value] : properties->members()) {
                if (!value.is_null()) {
                    area.said[name] = value.text() != nullptr ? *value.text() : value.line();
                }
            }
        }
        area.name = name_among(area.said);
    }

    void geometry(const Json& shape, const std::string& path, NamedArea& area) {
        if (!shape.is_object()) {
            tell(path, "this is not an object", "write a Polygon or MultiPolygon here");
            return;
        }
        const auto type = type_of(shape, path);
        if (!type) {
            return;
        }
        if (!is_in_wgs84(shape, path)) {
            return;
        }
        if (*type == "GeometryCollection") {
            const Json* parts = list(shape, "geometries", member(path, "geometries"));
            for (std::size_t k = 0; parts != nullptr && k < parts->items().size(); ++k) {
                geometry(parts->items()[k],
                         member(path, "geometries") + "[" + std::to_string(k) + "]", area);
            }
            return;
        }
        const bool is_many = *type == "MultiPolygon";
        if (!is_many && *type != "Polygon") {
            if (*type == "Point" || *type == "MultiPoint" || *type == "LineString" ||
                *type == "MultiLineString") {
                intake_.pass_over(*type);
            } else {
                tell(member(path, "type"), "'" + *type + "' is not known here",
                     "write Polygon or MultiPolygon");
            }
            return;
        }
        const std::string at = member(path, "coordinates");
        const Json* coordinates = list(shape, "coordinates", at);
        if (coordinates == nullptr) {
            return;
        }
        if (!is_many) {
            polygon(*coordinates, at, area);
            return;
        }
        for (std::size_t k = 0; k < coordinates->items().size(); ++k) {
            polygon(coordinates->items()[k], at + "[" + std::to_string(k) + "]", area);
        }
    }

    void polygon(const Json& rings, const std::string& path, NamedArea& area) {
        if (!rings.is_array()) {
            tell(path, "this is not a list", "write a list of rings here");
            return;
        }
        ground::Polygon polygon;
        for (std::size_t k = 0; k < rings.items().size(); ++k) {
            auto& to = k == 0 ? polygon.outer : polygon.holes.emplace_back();
            if (!ring(rings.items()[k], path + "[" + std::to_string(k) + "]", to)) {
                return;
            }
        }
        if (!rings.items().empty()) {  // an empty polygon is none
            area.area.push_back(std::move(polygon));
        }
    }

    bool ring(const Json& positions, const std::string& path, ground::Ring& to) {
        if (!positions.is_array()) {
            tell(path, "this is not a list", "write a list of positions here");
            return false;
        }
        for (std::size_t k = 0; k < positions.items().size(); ++k) {
            const auto numbers = positions.items()[k].items();
            const auto east = numbers.size() >= 2 ? numbers[0].number() : std::nullopt;
            const auto north = numbers.size() >= 2 ? numbers[1].number() : std::nullopt;
            if (!east || !north) {
                tell(path + "[" + std::to_string(k) + "]", "this is not a position",
                     "write [longitude, latitude] in degrees");
                return false;
            }
            to.push_back({.latitude_deg = *north, .longitude_deg = *east});
        }
        return true;
    }

    void hand_over(NamedArea area, const std::string& path) {
        if (!area.area.empty()) {
            intake_.take(std::move(area), {.file = "", .line = 0, .field = path});
        }
    }

    AreaIntake& intake_;
};

Json feature_json(Json properties, const ground::Area& area) {
    return {{"type", "Feature"},
            {"properties", std::move(properties)},
            {"geometry", geometry_json(area)}};
}

std::string collection(Json features) {
    const Json document{{"type", "FeatureCollection"}, {"features", std::move(features)}};
    return document.line() + "\n";
}

}  // namespace

Result<AreasReading> read_geojson(std::string_view bytes, const std::string& file) {
    const auto document = io::parse_json(bytes, file, kLimits);
    if (!document) {
        return document.problems();
    }
    AreaIntake intake(file, NumberOrder::longitude_first);
    Reader(intake).document(*document);
    return std::move(intake).finish();
}

std::string write_geojson(const ZonePlan& plan) {
    Json features = Json::array({feature_json(
        {{"kind", "field"}, {"name", plan.field}, {"season", plan.season}}, plan.boundary)});
    for (const auto& zone : plan.zones) {
        Json settings = Json::object();
        for (const auto& [control, value, shown] : zone.settings) {
            settings[control.id()] = control.text(value);
        }
        features.push_back(feature_json({{"kind", "zone"},
                                         {"name", zone_name(zone)},
                                         {"zone", zone.number},
                                         {"words", zone.words},
                                         {"settings", std::move(settings)}},
                                        zone.area));
    }
    return collection(std::move(features));
}

std::string write_geojson(std::span<const NamedArea> areas) {
    Json features = Json::array();
    for (const auto& area : areas) {
        Json properties = Json::object();
        for (const auto& [name, value] : area.said) {
            properties[name] = value;
        }
        properties["name"] = area.name;
        features.push_back(feature_json(std::move(properties), area.area));
    }
    return collection(std::move(features));
}

}  // namespace beetwright::maps
