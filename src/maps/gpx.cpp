#include "maps/gpx.hpp"

#include <pugixml.hpp>

#include "maps/antimeridian.hpp"
#include "maps/xml_text.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

void append_ring(pugi::xml_node track, const ground::Ring& ring) {
    auto segment = track.append_child("trkseg");
    for (std::size_t k = 0; k <= ring.size(); ++k) {
        const auto& corner = ring[k % ring.size()];
        auto point = segment.append_child("trkpt");
        point.append_attribute("lat").set_value(xml_degrees(corner.latitude_deg).c_str());
        point.append_attribute("lon").set_value(xml_degrees(corner.longitude_deg).c_str());
    }
}

}  // namespace

std::string write_gpx(const ZonePlan& plan) {
    pugi::xml_document xml;
    auto root = begin_xml(xml, "gpx", "http://www.topografix.com/GPX/1/1");
    root.append_attribute("version").set_value("1.1");
    root.append_attribute("creator").set_value("Beetwright");
    append_text(root.append_child("metadata"), "name", plan_name(plan));
    for (const auto& zone : plan.zones) {
        auto track = root.append_child("trk");
        append_text(track, "name", zone_name(zone));
        append_text(track, "desc", settings_words(zone));
        append_text(track, "number", std::to_string(zone.number));
        for (const auto& polygon : cut_at_antimeridian(zone.area)) {
            append_ring(track, polygon.outer);
            for (const auto& hole : polygon.holes) {
                append_ring(track, hole);
            }
        }
    }
    return written(xml);
}

}  // namespace beetwright::maps
