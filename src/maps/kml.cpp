#include "maps/kml.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <pugixml.hpp>

#include "maps/antimeridian.hpp"
#include "maps/xml_text.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

using Colour = std::array<double, 3>;  // red, green, blue, 0 to 255

// One hue, so that zones are told apart by how dark they are, with any eyes and in print.
constexpr Colour kLightest{214.0, 231.0, 222.0};
constexpr Colour kDarkest{24.0, 78.0, 58.0};

/// As KML writes colours: how opaque, blue, green, red.
std::string colour_text(double share, std::uint8_t opaque) {
    constexpr std::string_view kDigits = "0123456789abcdef";
    std::string text;
    const auto append = [&](double part) {
        const auto byte = static_cast<unsigned>(std::lround(part));
        text += kDigits[byte / 16];
        text += kDigits[byte % 16];
    };
    append(opaque);
    for (std::size_t part = kLightest.size(); part > 0; --part) {
        append(kLightest[part - 1] + share * (kDarkest[part - 1] - kLightest[part - 1]));
    }
    return text;
}

void append_ring(pugi::xml_node polygon, const char* side, const ground::Ring& ring) {
    std::string corners;
    for (std::size_t k = 0; k <= ring.size(); ++k) {
        const auto& corner = ring[k % ring.size()];
        corners += (k == 0 ? "" : " ") + xml_degrees(corner.longitude_deg) + "," +
                   xml_degrees(corner.latitude_deg);
    }
    append_text(polygon.append_child(side).append_child("LinearRing"), "coordinates", corners);
}

void append_area(pugi::xml_node placemark, const ground::Area& area) {
    auto many = placemark.append_child("MultiGeometry");
    for (const auto& polygon : cut_at_antimeridian(area)) {
        auto node = many.append_child("Polygon");
        append_text(node, "tessellate", "1");  // straight lines lie on the ground
        append_ring(node, "outerBoundaryIs", polygon.outer);
        for (const auto& hole : polygon.holes) {
            append_ring(node, "innerBoundaryIs", hole);
        }
    }
}

void append_style(pugi::xml_node document, const std::string& id, const std::string& fill) {
    auto style = document.append_child("Style");
    style.append_attribute("id").set_value(id.c_str());
    auto line = style.append_child("LineStyle");
    append_text(line, "color", colour_text(1.0, 255));
    append_text(line, "width", "2");
    auto area = style.append_child("PolyStyle");
    append_text(area, fill.empty() ? "fill" : "color", fill.empty() ? "0" : fill);
}

}  // namespace

std::string write_kml(const ZonePlan& plan) {
    pugi::xml_document xml;
    auto document =
        begin_xml(xml, "kml", "http://www.opengis.net/kml/2.2").append_child("Document");
    append_text(document, "name", plan_name(plan));
    append_style(document, "field", "");
    constexpr std::uint8_t kSeeThrough = 170;
    const auto steps = static_cast<double>(plan.zones.size() > 1 ? plan.zones.size() - 1 : 1);
    for (std::size_t k = 0; k < plan.zones.size(); ++k) {
        append_style(document, "zone" + std::to_string(k + 1),
                     colour_text(static_cast<double>(k) / steps, kSeeThrough));
    }
    auto field = document.append_child("Placemark");
    append_text(field, "name", plan.field);
    append_text(field, "styleUrl", "#field");
    append_area(field, plan.boundary);
    for (std::size_t k = 0; k < plan.zones.size(); ++k) {
        const auto& zone = plan.zones[k];
        auto placemark = document.append_child("Placemark");
        append_text(placemark, "name", zone_name(zone));
        append_text(placemark, "description", settings_words(zone));
        append_text(placemark, "styleUrl", "#zone" + std::to_string(k + 1));
        append_area(placemark, zone.area);
    }
    return written(xml);
}

}  // namespace beetwright::maps
