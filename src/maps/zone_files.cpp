#include "maps/zone_files.hpp"

#include <array>

#include "maps/geojson.hpp"
#include "maps/gpx.hpp"
#include "maps/iso11783_write.hpp"
#include "maps/kml.hpp"

namespace beetwright::maps {
namespace {

Result<ZoneFile> as_geojson(const ZonePlan& plan, const ZoneFileFacts& /*facts*/) {
    return ZoneFile{.bytes = write_geojson(plan)};
}

Result<ZoneFile> as_kml(const ZonePlan& plan, const ZoneFileFacts& /*facts*/) {
    return ZoneFile{.bytes = write_kml(plan)};
}

Result<ZoneFile> as_gpx(const ZonePlan& plan, const ZoneFileFacts& /*facts*/) {
    return ZoneFile{.bytes = write_gpx(plan)};
}

Result<ZoneFile> as_task_data(const ZonePlan& plan, const ZoneFileFacts& facts) {
    auto data = write_task_data(plan, {.version = facts.version});
    if (!data) {
        return data.problems();
    }
    return ZoneFile{.bytes = std::move(data->zip), .notes = std::move(data->notes)};
}

Result<ZoneFile> as_page(const ZonePlan& plan, const ZoneFileFacts& facts) {
    return ZoneFile{.bytes = zone_page(plan, facts.page)};
}

constexpr std::array kForms{
    ZoneForm{"geojson", "application/geo+json", ".geojson", as_geojson},
    ZoneForm{"kml", "application/vnd.google-earth.kml+xml", ".kml", as_kml},
    ZoneForm{"gpx", "application/gpx+xml", ".gpx", as_gpx},
    ZoneForm{"taskdata", "application/zip", ".zip", as_task_data},
    ZoneForm{"page", "text/html; charset=utf-8", ".html", as_page},
};

}  // namespace

std::span<const ZoneForm> zone_forms() {
    return kForms;
}

}  // namespace beetwright::maps
