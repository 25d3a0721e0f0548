// Task data between us and another reader and writer of it: tests/maps/isoxml_test.mjs.
//   task_data_exchange write FOLDER   zones.zip and grid.zip of an invented plan, plan.json of what
//   is
//                                     in it, identifiers.json of the data identifiers known here
//   task_data_exchange read FILE      task data from an archive, as JSON
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "../small_plan.hpp"
#include "maps/ddi.hpp"
#include "maps/iso11783_read.hpp"
#include "maps/iso11783_write.hpp"

using namespace beetwright;
using nlohmann::json;

namespace {

void save(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

json ring_json(const ground::Ring& ring) {
    json corners = json::array();
    for (const auto& corner : ring) {
        corners.push_back({corner.longitude_deg, corner.latitude_deg});
    }
    corners.push_back(corners.front());
    return corners;
}

/// As GeoJSON has a MultiPolygon.
json area_json(const ground::Area& area) {
    json polygons = json::array();
    for (const auto& polygon : area) {
        json rings = json::array({ring_json(polygon.outer)});
        for (const auto& hole : polygon.holes) {
            rings.push_back(ring_json(hole));
        }
        polygons.push_back(rings);
    }
    return polygons;
}

/// A plan with all that goes out: values, words in a name, words in comments.
maps::ZonePlan plan_that_goes_out() {
    using enum harvester::ControlKind;
    auto plan = maps::small_plan();
    plan.zones[0].settings.push_back(maps::set(share_depth, 0.07));
    plan.zones[1].settings.push_back(maps::set(share_depth, 0.06));
    return plan;
}

int write(const std::string& folder) {
    const auto plan = plan_that_goes_out();
    const auto zones = maps::write_task_data(plan, {.version = "1.2.3"});
    const auto grid =
        maps::write_task_data(plan, {.form = maps::TaskDataForm::grid, .cell_m = 5.0});
    if (!zones || !grid) {
        return 1;
    }
    save(folder + "/zones.zip", zones->zip);
    save(folder + "/grid.zip", grid->zip);
    json told = {{"season", plan.season},
                 {"field", plan.field},
                 {"boundary", area_json(plan.boundary)},
                 {"zones", json::array()}};
    for (const auto& zone : plan.zones) {
        json settings;
        for (const auto& [control, value, shown] : zone.settings) {
            settings[control.id()] = value;
        }
        told["zones"].push_back({{"number", zone.number},
                                 {"words", zone.words},
                                 {"area", area_json(zone.area)},
                                 {"settings", settings}});
    }
    save(folder + "/plan.json", told.dump());
    json identifiers = json::array();
    for (const auto& of : maps::data_identifiers()) {
        identifiers.push_back({{"number", of.number}, {"words", of.words}, {"unit", of.unit}});
    }
    save(folder + "/identifiers.json", identifiers.dump());
    return 0;
}

/// NaN is null.
json number(double value) {
    return std::isnan(value) ? json() : json(value);
}

json task_json(const maps::FieldTask& task) {
    json told = {{"name", task.name},
                 {"partfield", task.partfield},
                 {"zones", json::array()},
                 {"grids", json::array()},
                 {"logs", json::array()}};
    for (const auto& zone : task.zones) {
        json values = json::array();
        for (const auto& value : zone.values) {
            values.push_back({value.identifier, value.steps});
        }
        told["zones"].push_back({{"code", zone.code},
                                 {"name", zone.name},
                                 {"area", area_json(zone.area)},
                                 {"values", values}});
    }
    for (const auto& grid : task.grids) {
        told["grids"].push_back({{"south", grid.south_west.latitude_deg},
                                 {"west", grid.south_west.longitude_deg},
                                 {"cell_north", grid.cell_north_deg},
                                 {"cell_east", grid.cell_east_deg},
                                 {"columns", grid.columns},
                                 {"rows", grid.rows},
                                 {"identifiers", grid.identifiers},
                                 {"steps", grid.steps}});
    }
    for (const auto& log : task.logs) {
        json fixes = json::array();
        for (const auto& fix : log.fixes) {
            fixes.push_back({{"at", to_text(fix.at)},
                             {"north", fix.position.latitude_deg},
                             {"east", fix.position.longitude_deg},
                             {"height", number(fix.height_m)},
                             {"kind", static_cast<int>(fix.kind)},
                             {"satellites", fix.satellites},
                             {"dilution", number(fix.horizontal_dilution)},
                             {"speed", number(fix.speed_m_s)},
                             {"yield", number(fix.yield_kg_m2)},
                             {"works", fix.works}});
        }
        told["logs"].push_back({{"name", log.name}, {"fixes", fixes}, {"notes", log.notes}});
    }
    return told;
}

int read(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    const auto reading = maps::read_task_data_zip(bytes, path);
    if (!reading) {
        for (const auto& problem : reading.problems()) {
            std::fprintf(stderr, "%s\n", problem.text().c_str());
        }
        return 1;
    }
    json told = {{"partfields", json::array()}, {"tasks", json::array()}};
    for (const auto& field : reading->partfields) {
        told["partfields"].push_back(
            {{"name", field.name}, {"area", area_json(field.area)}, {"said", field.said}});
    }
    for (const auto& task : reading->tasks) {
        told["tasks"].push_back(task_json(task));
    }
    std::printf("%s\n", told.dump().c_str());
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    try {
        const std::string verb = argc == 3 ? argv[1] : "";
        if (verb == "write") {
            return write(argv[2]);
        }
        return verb == "read" ? read(argv[2]) : 2;
    } catch (const std::exception& failed) {
        std::fprintf(stderr, "%s\n", failed.what());
        return 2;
    }
}
