#include "maps/geometry_json.hpp"

#include <cmath>

#include "maps/antimeridian.hpp"

namespace beetwright::maps {
namespace {

using io::Json;

/// Millimetres on the ground; rounding does not move a border further than that.
constexpr double kWritten_deg = 1e-8;

Json ring_json(const ground::Ring& ring) {
    const auto rounded = [](double degrees) {
        return std::round(degrees / kWritten_deg) / std::round(1.0 / kWritten_deg);
    };
    Json list = Json::array();
    for (std::size_t k = 0; k <= ring.size(); ++k) {
        const auto& corner = ring[k % ring.size()];
        list.push_back(Json::array({rounded(corner.longitude_deg), rounded(corner.latitude_deg)}));
    }
    return list;
}

Json polygons_json(const ground::Area& area) {
    Json polygons = Json::array();
    for (const auto& polygon : area) {
        Json rings = Json::array({ring_json(polygon.outer)});
        for (const auto& hole : polygon.holes) {
            rings.push_back(ring_json(hole));
        }
        polygons.push_back(std::move(rings));
    }
    return polygons;
}

}  // namespace

Json geometry_json(const ground::Area& area) {
    const auto cut = cut_at_antimeridian(area);
    auto polygons = polygons_json(cut);
    if (cut.size() == 1) {
        return {{"type", "Polygon"}, {"coordinates", polygons.items().front()}};
    }
    return {{"type", "MultiPolygon"}, {"coordinates", std::move(polygons)}};
}

Json multi_polygon_json(const ground::Area& area) {
    return {{"type", "MultiPolygon"}, {"coordinates", polygons_json(cut_at_antimeridian(area))}};
}

}  // namespace beetwright::maps
