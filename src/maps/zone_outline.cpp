#include "maps/zone_outline.hpp"

#include <algorithm>
#include <set>

#include "maps/plane_polygons.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

using ground::PlaneArea;
using ground::PlaneRing;
using ground::Point;

/// Corners where a ring turns; those on the way are left out.
PlaneRing turns_of(const PlaneRing& ring) {
    PlaneRing turns;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const auto& before = ring[(i + ring.size() - 1) % ring.size()];
        const auto& here = ring[i];
        const auto& after = ring[(i + 1) % ring.size()];
        const double turn = (here.east_m - before.east_m) * (after.north_m - here.north_m) -
                            (here.north_m - before.north_m) * (after.east_m - here.east_m);
        if (turn != 0.0) {
            turns.push_back(here);
        }
    }
    return turns;
}

/// What a zone's cells cover, in cells along and across.
PlaneArea in_cells(const ground::Grid& grid, const ground::ZoneLayer& zones, int zone) {
    PlaneArea runs;
    for (std::size_t row = 0; row < grid.rows; ++row) {
        for (std::size_t column = 0; column < grid.columns; ++column) {
            if (zones[grid.at(column, row)] != zone) {
                continue;
            }
            std::size_t end = column;
            while (end < grid.columns && zones[grid.at(end, row)] == zone) {
                ++end;
            }
            const auto left = static_cast<double>(column);
            const auto right = static_cast<double>(end);
            const auto low = static_cast<double>(row);
            runs.push_back(
                {{{left, low}, {right, low}, {right, low + 1.0}, {left, low + 1.0}}, {}});
            column = end;
        }
    }
    return united(runs);
}

/// The same in the field's plane.
PlaneArea in_plane(const ground::Grid& grid, const PlaneArea& cells) {
    PlaneArea turning;
    for (const auto& polygon : cells) {
        auto& one = turning.emplace_back();
        one.outer = turns_of(polygon.outer);
        for (const auto& hole : polygon.holes) {
            one.holes.push_back(turns_of(hole));
        }
    }
    return ground::with_corners<ground::PlanePolygon>(turning, [&](const Point& at) {
        return grid.in_plane(at.east_m * grid.cell_m, at.north_m * grid.cell_m);
    });
}

/// What the display shows of a control on a lie; where it is set as in the field at large, of that.
std::optional<double> shown_of(const engine::ZonesAnswer& answer, const engine::LieSettings& on,
                               const std::string& control) {
    for (const auto* readings : {&on.readings, &answer.settings.front().readings}) {
        const auto found = std::ranges::find(*readings, control, &engine::ControlReading::control);
        if (found != readings->end()) {
            return found->shown ? std::optional(found->shown->shown) : std::nullopt;
        }
    }
    return std::nullopt;
}

/// Controls that some zone sets otherwise than the field at large, in the machine's order, at their
/// values on a lie.
std::vector<PlannedControl> settings_on(const engine::ZonesAnswer& answer, ground::Lie lie) {
    std::set<std::string> differ;
    const engine::LieSettings* on = nullptr;
    for (const auto& settings : answer.settings) {
        const bool has_zone = std::ranges::find(answer.zones, settings.lie,
                                                &engine::ZoneFound::lie) != answer.zones.end();
        if (settings.lie != ground::Lie::level && has_zone) {
            for (const auto& control : settings.controls) {
                differ.insert(control.id());
            }
        }
        if (settings.lie == lie) {
            on = &settings;
        }
    }
    std::vector<PlannedControl> planned;
    if (on == nullptr) {
        return planned;
    }
    for (const auto& control : answer.settings.front().controls) {
        if (differ.contains(control.id())) {
            planned.push_back(
                {control, *on->settings.find(control.id()), shown_of(answer, *on, control.id())});
        }
    }
    return planned;
}

}  // namespace

ZonePlan plan_of(const std::string& season, const ground::Surface& surface,
                 const engine::ZonesAnswer& answer) {
    ZonePlan plan{.season = season, .field = answer.field, .boundary = {}, .zones = {}};
    PlaneArea whole = surface.boundary;
    if (whole.empty()) {
        ground::ZoneLayer known = answer.zone_of;
        for (auto& zone : known) {
            zone = zone > 0 ? 1 : 0;
        }
        whole = in_plane(surface.grid, in_cells(surface.grid, known, 1));
    }
    plan.boundary = area_on_earth(surface.plane, whole);
    for (const auto& zone : answer.zones) {
        auto area = in_plane(surface.grid, in_cells(surface.grid, answer.zone_of, zone.number));
        if (!surface.boundary.empty()) {
            area = in_common(area, surface.boundary);
        }
        plan.zones.push_back({zone.number, std::string(ground::words(zone.lie)),
                              area_on_earth(surface.plane, area), settings_on(answer, zone.lie)});
    }
    return plan;
}

KeptZones zones_to_keep(const engine::ZonesAnswer& answer, const ZonePlan& plan) {
    KeptZones kept{.at = answer.at, .machine = answer.machine};
    for (std::size_t k = 0; k < plan.zones.size(); ++k) {
        const auto& planned = plan.zones[k];
        auto& zone = kept.zones.emplace_back(
            KeptZone{.number = planned.number, .lie = answer.zones[k].lie, .area = planned.area});
        for (const auto& set : planned.settings) {
            zone.controls.push_back({set.control.id(), set.value});
        }
    }
    return kept;
}

}  // namespace beetwright::maps
