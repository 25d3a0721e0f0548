#include "maps/kept_zones.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

#include "base/number_text.hpp"
#include "engine/harvester_basis.hpp"
#include "ground/plane_area.hpp"
#include "io/json_read.hpp"
#include "io/problem_list.hpp"
#include "ledger/harvester_of.hpp"
#include "maps/geojson.hpp"
#include "maps/geometry_json.hpp"
#include "maps/plane_polygons.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

using ground::Lie;
using ground::PlaneArea;
using io::Json;

// A corner takes three values; outlines along cells have some thousand corners.
constexpr io::JsonLimits kLimits{.deepest = 32, .most_values = 400'000};

constexpr std::array kLies{Lie::level, Lie::knoll, Lie::hollow};

std::optional<Lie> lie_named(std::string_view word) {
    for (const auto lie : kLies) {
        if (ground::words(lie) == word) {
            return lie;
        }
    }
    return std::nullopt;
}

/// "zones[1]"
std::string element(const std::string& list, std::size_t k) {
    return list + "[" + std::to_string(k) + "]";
}

class Reader {
 public:
    Reader(std::string file, io::ProblemList& problems)
        : file_(std::move(file)), problems_(problems) {}

    KeptZones document(const Json& document) {
        KeptZones kept;
        if (!document.is_object()) {
            tell("", "zones are one object",
                 "write { \"at\": ..., \"machine\": ..., \"zones\": [] }");
            return kept;
        }
        if (const auto* at = text(document, "at", "at")) {
            if (const auto instant = parse_instant(*at)) {
                kept.at = *instant;
            } else {
                tell("at", "'" + *at + "' is no instant", "write 2031-10-04T07:45:00Z");
            }
        }
        if (const auto* machine = text(document, "machine", "machine")) {
            kept.machine = *machine;
        }
        const Json* zones = list(document, "zones", "zones");
        if (zones == nullptr) {
            return kept;
        }
        if (zones->items().empty() || zones->items().size() > kMostKeptZones) {
            tell("zones", std::to_string(zones->items().size()) + " zones",
                 "keep 1 to " + std::to_string(kMostKeptZones) + "; to keep none, take them out");
            return kept;
        }
        for (std::size_t k = 0; k < zones->items().size(); ++k) {
            kept.zones.push_back(zone(zones->items()[k], element("zones", k)));
        }
        return kept;
    }

 private:
    void tell(std::string field, std::string what, std::string fix) {
        problems_.add({.file = file_, .line = 0, .field = std::move(field)}, std::move(what),
                      std::move(fix));
    }
    const std::string* text(const Json& object, const char* name, const std::string& path) {
        const Json* found = object.find(name);
        const std::string* words = found != nullptr ? found->text() : nullptr;
        if (words == nullptr) {
            tell(path, found == nullptr ? "this member is missing" : "this is not text",
                 "write it in quotes");
        }
        return words;
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

    KeptZone zone(const Json& object, const std::string& path) {
        KeptZone zone;
        const Json* number = object.find("number");
        const auto count = number != nullptr ? number->count() : std::nullopt;
        if (!count || *count < 1 || *count > kMostKeptZones) {
            tell(path + ".number", "this is no zone's number",
                 "write a whole number from 1 to " + std::to_string(kMostKeptZones));
        } else {
            zone.number = static_cast<int>(*count);
            if (!numbers_.insert(zone.number).second) {
                tell(path + ".number", "zone " + std::to_string(zone.number) + " is there twice",
                     "give each a number of its own");
            }
        }
        if (const auto* word = text(object, "lie", path + ".lie")) {
            const auto lie = lie_named(*word);
            zone.lie = lie.value_or(Lie::level);
            if (!lie) {
                tell(path + ".lie", "'" + *word + "' is not how ground lies here",
                     "write level ground, knoll or hollow");
            }
        }
        geometry(object, path + ".geometry", zone.area);
        const Json* controls = list(object, "controls", path + ".controls");
        for (std::size_t k = 0; controls != nullptr && k < controls->items().size(); ++k) {
            control(controls->items()[k], element(path + ".controls", k), zone.controls);
        }
        return zone;
    }

    void geometry(const Json& object, const std::string& path, ground::Area& area) {
        const Json* shape = object.find("geometry");
        if (shape == nullptr || !shape->is_object()) {
            tell(path, "the zone has no outline", "write a Polygon or MultiPolygon here");
            return;
        }
        auto read = read_geojson(shape->line(), file_);
        if (!read) {
            for (auto problem : read.problems()) {
                problem.where.field =
                    path + (problem.where.field.empty() ? "" : "." + problem.where.field);
                problems_.add(std::move(problem));
            }
            return;
        }
        for (auto& named : read->areas) {
            area.insert(area.end(), named.area.begin(), named.area.end());
        }
    }

    void control(const Json& object, const std::string& path, std::vector<KeptControl>& to) {
        const auto* id = text(object, "control", path + ".control");
        const Json* value = object.find("value");
        const auto number = value != nullptr ? value->number() : std::nullopt;
        if (!number || !std::isfinite(*number)) {
            tell(path + ".value", "this is no value", "write the number, in SI");
        }
        if (id == nullptr) {
            return;
        }
        if (!harvester::find_control_kind(*id)) {
            tell(path + ".control", "'" + *id + "' is no control of a harvester",
                 "docs/methods/harvester_controls.md lists them");
        } else if (std::ranges::find(to, *id, &KeptControl::control) != to.end()) {
            tell(path + ".control", "'" + *id + "' is set twice in this zone", "set it once");
        } else {
            to.push_back({*id, number.value_or(0.0)});
        }
    }

    std::string file_;
    io::ProblemList& problems_;
    std::set<int> numbers_;
};

/// Cutting leaves strips along edges that were meant to be one; nothing is driven in them.
constexpr double kSliver_m2 = 25.0;

/// What is left [m2].
double drop_slivers(PlaneArea& area) {
    std::erase_if(area, [](const ground::PlanePolygon& polygon) {
        return ground::size_m2({polygon}) < kSliver_m2;
    });
    return ground::size_m2(area);
}

bool is_field_at_large(const KeptZone& zone) {
    return zone.number == 1 && zone.lie == Lie::level;
}

/// How much of a zone was cut away, where that is more than drawing by hand comes to.
void note_cut(const KeptZone& zone, double before_m2, double after_m2, const char* where,
              std::vector<std::string>& notes) {
    constexpr double kTold = 0.01;
    if (before_m2 - after_m2 > std::max(kSliver_m2, kTold * before_m2)) {
        notes.push_back("zone " + std::to_string(zone.number) + ": " +
                        fixed_text((before_m2 - after_m2) / 1e4, 2) + " ha " + where +
                        " was cut away");
    }
}

}  // namespace

Result<KeptZones> read_kept_zones(std::string_view text, const std::string& file) {
    const auto document = io::parse_json(text, file, kLimits);
    if (!document) {
        return document.problems();
    }
    io::ProblemList problems;
    auto kept = Reader(file, problems).document(*document);
    if (!problems.empty()) {
        return std::move(problems).take();
    }
    std::ranges::sort(kept.zones, {}, &KeptZone::number);
    return kept;
}

std::string kept_zones_text(const KeptZones& kept) {
    Json zones = Json::array();
    for (const auto& zone : kept.zones) {
        Json controls = Json::array();
        for (const auto& one : zone.controls) {
            controls.push_back({{"control", one.control}, {"value", one.value}});
        }
        zones.push_back({{"number", zone.number},
                         {"lie", ground::words(zone.lie)},
                         {"geometry", multi_polygon_json(zone.area)},
                         {"controls", std::move(controls)}});
    }
    const Json document{
        {"at", to_text(kept.at)}, {"machine", kept.machine}, {"zones", std::move(zones)}};
    return document.line() + "\n";
}

KeptZones fitted_together(KeptZones kept, const ground::Area& border,
                          std::vector<std::string>& notes) {
    if (kept.zones.empty()) {
        return kept;
    }
    const ground::LocalPlane plane(
        ground::middle_of(border.empty() ? kept.zones.front().area : border));
    const PlaneArea field = plane.to_plane(border);
    PlaneArea taken;
    for (auto& zone : kept.zones) {
        if (is_field_at_large(zone)) {
            continue;
        }
        PlaneArea area = plane.to_plane(zone.area);
        const double drawn_m2 = ground::size_m2(area);
        if (!field.empty()) {
            area = in_common(area, field);
        }
        const double inside_m2 = drop_slivers(area);
        note_cut(zone, drawn_m2, inside_m2, "outside the field", notes);
        if (!taken.empty()) {
            area = without(area, taken);
        }
        const double left_m2 = drop_slivers(area);
        note_cut(zone, inside_m2, left_m2, "that another zone covers", notes);
        zone.area = area_on_earth(plane, area);
        taken.insert(taken.end(), area.begin(), area.end());
    }
    for (auto& zone : kept.zones) {
        if (is_field_at_large(zone)) {
            PlaneArea area = field.empty() ? plane.to_plane(zone.area) : field;
            area = taken.empty() ? area : without(area, united(taken));
            drop_slivers(area);
            zone.area = area_on_earth(plane, area);
        }
    }
    std::erase_if(kept.zones, [](const KeptZone& zone) { return zone.area.empty(); });
    return kept;
}

Result<ZonePlan> plan_of(const std::string& season, const std::string& field,
                         const ground::Area& border, const KeptZones& kept,
                         const ledger::Machine& machine) {
    const auto built = ledger::harvester_of(machine);
    if (!built) {
        return built.problems();
    }
    ZonePlan plan{.season = season, .field = field, .boundary = border, .zones = {}};
    io::ProblemList problems;
    for (std::size_t k = 0; k < kept.zones.size(); ++k) {
        const auto& zone = kept.zones[k];
        auto& planned = plan.zones.emplace_back(PlannedZone{.number = zone.number,
                                                            .words = std::string(words(zone.lie)),
                                                            .area = zone.area,
                                                            .settings = {}});
        for (std::size_t i = 0; i < zone.controls.size(); ++i) {
            const auto& [id, value] = zone.controls[i];
            const Where where{
                .file = "", .line = 0, .field = element(element("zones", k) + ".controls", i)};
            const auto* control = built->find(id);
            if (control == nullptr) {
                problems.add(where, kept.machine + " has no control '" + id + "'",
                             "leave it out, or work the zones out for this machine");
            } else if (!control->is_within(value)) {
                problems.add(where,
                             control->text(value) + " is outside what " + control->words() +
                                 " can be set to",
                             "from " + control->text(control->least) + " to " +
                                 control->text(control->most));
            } else {
                const auto reading = engine::reading_of(machine, *control, value);
                planned.settings.push_back(
                    {*control, value,
                     reading.shown ? std::optional(reading.shown->shown) : std::nullopt});
            }
        }
    }
    if (border.empty() && !kept.zones.empty()) {
        PlaneArea all;
        const ground::LocalPlane plane(ground::middle_of(kept.zones.front().area));
        for (const auto& zone : kept.zones) {
            const auto area = plane.to_plane(zone.area);
            all.insert(all.end(), area.begin(), area.end());
        }
        plan.boundary = area_on_earth(plane, united(all));
    }
    return problems.empty() ? Result<ZonePlan>(std::move(plan)) : std::move(problems).take();
}

}  // namespace beetwright::maps
