#include "maps/ground_json.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/harvester_basis.hpp"
#include "ground/local_plane.hpp"
#include "ground/plane_area.hpp"
#include "io/machine_json.hpp"
#include "io/zones_text.hpp"
#include "ledger/harvester_of.hpp"
#include "maps/geometry_json.hpp"

namespace beetwright::maps {
namespace {

using io::Json;

Json position_json(const ground::Position& position) {
    return Json::array({position.longitude_deg, position.latitude_deg});
}

/// Of the whole grid, outermost, in the order in which they stand around it.
Json corners_json(const ground::Surface& surface) {
    const auto& grid = surface.grid;
    const double along_m = static_cast<double>(grid.columns) * grid.cell_m;
    const double across_m = static_cast<double>(grid.rows) * grid.cell_m;
    Json corners = Json::array();
    for (const auto& [along, across] :
         {ground::Point{0.0, 0.0}, ground::Point{along_m, 0.0}, ground::Point{along_m, across_m},
          ground::Point{0.0, across_m}}) {
        corners.push_back(position_json(surface.plane.to_earth(grid.in_plane(along, across))));
    }
    return corners;
}

}  // namespace

double area_ha(const ground::Area& area) {
    if (area.empty()) {
        return 0.0;
    }
    const ground::LocalPlane plane(ground::middle_of(area));
    return ground::size_m2(plane.to_plane(area)) / 1e4;
}

Json border_json(const ground::Area& border) {
    return {{"area_ha", area_ha(border)}, {"geometry", multi_polygon_json(border)}};
}

Json zones_kept_json(const KeptZones& kept, const ledger::Machine* machine) {
    Result<harvester::Machine> built = harvester::Machine{};
    if (machine != nullptr) {
        built = ledger::harvester_of(*machine);
    }
    Json zones = Json::array();
    for (const auto& zone : kept.zones) {
        Json controls = Json::array();
        for (const auto& [id, value] : zone.controls) {
            const auto* control = built ? built->find(id) : nullptr;
            if (control != nullptr) {
                controls.push_back(io::reading_json(engine::reading_of(*machine, *control, value)));
            }
        }
        zones.push_back({{"number", zone.number},
                         {"lie", ground::words(zone.lie)},
                         {"area_ha", area_ha(zone.area)},
                         {"geometry", multi_polygon_json(zone.area)},
                         {"controls", std::move(controls)}});
    }
    return {{"at", to_text(kept.at)}, {"machine", kept.machine}, {"zones", std::move(zones)}};
}

std::string relief_json(const std::string& field, const ground::Surface& surface) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    Json heights = Json::array();
    for (const double height : surface.height_m) {
        if (std::isfinite(height)) {
            low = std::min(low, height);
            high = std::max(high, height);
            heights.push_back(static_cast<std::int64_t>(std::lround(100.0 * height)));
        } else {
            heights.push_back(nullptr);
        }
    }
    const Json json{{"field", field},
                    {"columns", surface.grid.columns},
                    {"rows", surface.grid.rows},
                    {"cell_m", surface.grid.cell_m},
                    {"corners", corners_json(surface)},
                    {"low_m", low},
                    {"high_m", high},
                    {"height_sd_m", surface.median_deviation_m()},
                    {"notes", surface.notes},
                    {"heights_cm", std::move(heights)}};
    return json.line() + "\n";
}

std::string zones_worked_out_json(const engine::ZonesAnswer& answer, const ZonePlan& plan,
                                  const std::string& currency) {
    auto json = io::zones_answer_json(answer, currency);
    Json outlines = Json::array();
    for (std::size_t k = 0; k < plan.zones.size(); ++k) {
        outlines.push_back({{"number", plan.zones[k].number},
                            {"lie", ground::words(answer.zones[k].lie)},
                            {"geometry", multi_polygon_json(plan.zones[k].area)}});
    }
    json["outlines"] = std::move(outlines);
    return json.line() + "\n";
}

}  // namespace beetwright::maps
