#include "maps/iso11783_element.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/counted.hpp"
#include "base/lower_case.hpp"
#include "base/number_text.hpp"
#include "base/trimmed.hpp"
#include "io/decimal.hpp"

namespace beetwright::maps {
namespace {

constexpr double kPole_deg = 90.0;
constexpr double kDateLine_deg = 180.0;
constexpr std::size_t kMostQuoted = 40;
constexpr std::size_t kMostCompared = 50'000'000;  ///< sides looked at for the holes of a polygon

/// What somebody wrote, as far as it helps to see it.
std::string quoted(std::string_view text) {
    std::string shown;
    for (const char c : text.substr(0, kMostQuoted)) {
        shown +=
            static_cast<unsigned char>(c) < ' ' || static_cast<unsigned char>(c) > '~' ? '?' : c;
    }
    return "'" + shown + (text.size() > kMostQuoted ? "...'" : "'");
}

std::string range(const std::string& least, const std::string& most) {
    return "write a number from " + least + " to " + most;
}

/// Whether north and east of a point are on earth only the other way round.
bool is_swapped(const XmlElement& point) {
    const auto within = [&](std::string_view attribute, double most) {
        const auto value = trimmed(point.attribute(attribute).value_or(""));
        const auto read = io::leading_decimal(value);
        return read && read->length == value.size() && std::abs(read->value) <= most;
    };
    return !within("C", kPole_deg) && within("C", kDateLine_deg) && within("D", kPole_deg);
}

/// Whether a ring goes round a position: an odd number of its sides is crossed going east.
bool goes_round(const ground::Ring& ring, const ground::Position& position) {
    bool is_inside = false;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const auto& a = ring[k];
        const auto& b = ring[(k + 1) % ring.size()];
        if ((a.latitude_deg > position.latitude_deg) == (b.latitude_deg > position.latitude_deg)) {
            continue;
        }
        const double along =
            (position.latitude_deg - a.latitude_deg) / (b.latitude_deg - a.latitude_deg);
        const double east = a.longitude_deg + along * (b.longitude_deg - a.longitude_deg);
        is_inside = is_inside != (position.longitude_deg < east);
    }
    return is_inside;
}

}  // namespace

void ElementReader::wrong(const XmlElement& element, std::string_view attribute, std::string what,
                          std::string fix) {
    std::string field(element.name);
    if (!attribute.empty()) {
        field += " " + std::string(attribute);
    }
    problems_.add({.file = file_, .line = element.line, .field = std::move(field)}, std::move(what),
                  std::move(fix));
}

std::string_view ElementReader::required(const XmlElement& element, std::string_view attribute) {
    const auto value = element.attribute(attribute);
    if (!value || value->empty()) {
        wrong(element, attribute, value ? "it is empty" : "it is not there",
              "the standard wants it; write it anew from the terminal or the farm's program");
    }
    return value.value_or("");
}

std::optional<double> ElementReader::decimal(const XmlElement& element, std::string_view attribute,
                                             double least, double most) {
    const auto value = trimmed(required(element, attribute));
    if (value.empty()) {
        return std::nullopt;
    }
    const auto read = io::leading_decimal(value);
    if (!read || read->length != value.size() || read->value < least || read->value > most) {
        wrong(element, attribute, quoted(value) + " is out of place",
              range(shortest_text(least), shortest_text(most)) + ", with a point for decimals");
        return std::nullopt;
    }
    return read->value;
}

std::optional<std::int64_t> ElementReader::whole(const XmlElement& element,
                                                 std::string_view attribute, std::int64_t least,
                                                 std::int64_t most) {
    const auto value = trimmed(required(element, attribute));
    if (value.empty()) {
        return std::nullopt;
    }
    std::int64_t number = 0;
    const auto read = std::from_chars(value.data(), value.data() + value.size(), number);
    if (read.ec != std::errc() || read.ptr != value.data() + value.size() || number < least ||
        number > most) {
        wrong(element, attribute, quoted(value) + " is out of place",
              range(std::to_string(least), std::to_string(most)) + ", without decimals");
        return std::nullopt;
    }
    return number;
}

std::optional<std::int64_t> ElementReader::whole_if_said(const XmlElement& element,
                                                         std::string_view attribute,
                                                         std::int64_t least, std::int64_t most) {
    if (element.attribute(attribute).value_or("").empty()) {
        return std::nullopt;
    }
    return whole(element, attribute, least, most);
}

std::optional<std::uint16_t> ElementReader::identifier(const XmlElement& element,
                                                       std::string_view attribute) {
    const auto value = trimmed(required(element, attribute));
    if (value.empty()) {
        return std::nullopt;
    }
    std::uint16_t number = 0;
    constexpr int kHexadecimal = 16;
    const auto read =
        std::from_chars(value.data(), value.data() + value.size(), number, kHexadecimal);
    if (read.ec != std::errc() || read.ptr != value.data() + value.size()) {
        wrong(element, attribute, quoted(value) + " is no data identifier",
              "write its number with four hexadecimal digits: 0054 for 84");
        return std::nullopt;
    }
    return number;
}

std::optional<std::string> ElementReader::file_name(const XmlElement& element,
                                                    std::string_view attribute,
                                                    std::string_view letters) {
    const auto value = required(element, attribute);
    if (value.empty()) {
        return std::nullopt;
    }
    constexpr std::size_t kLetters = 3;
    constexpr std::size_t kLength = 8;
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    const bool is_fit =
        value.size() == kLength && std::ranges::all_of(value.substr(kLetters), is_digit) &&
        (letters.empty() || lower_case(value.substr(0, kLetters)) == lower_case(letters));
    if (!is_fit) {
        wrong(element, attribute, quoted(value) + " is no name of such a file",
              "write " + std::string(letters.empty() ? "PFD" : letters) +
                  " and five digits, without an ending");
        return std::nullopt;
    }
    return std::string(value);
}

ground::Area ElementReader::area(const XmlElement& element, PolygonType type, int& others) {
    constexpr std::int64_t kMostTypes = 255;
    ground::Area area;
    for (const auto& child : element.children) {
        if (child.name != "PLN") {
            continue;
        }
        const auto said = whole(child, "A", 1, kMostTypes);
        if (said && *said == static_cast<std::int64_t>(type)) {
            add_polygon(child, area);
        } else if (said) {
            ++others;
        }
    }
    return area;
}

void ElementReader::add_polygon(const XmlElement& polygon, ground::Area& area) {
    enum LineType : std::int64_t { exterior = 1, interior = 2, last_known = 9 };
    const auto first = area.size();
    std::vector<std::pair<const XmlElement*, ground::Ring>> holes;
    for (const auto& line : polygon.children) {
        if (line.name != "LSG") {
            continue;
        }
        const auto type = whole(line, "A", exterior, last_known);
        if (type == exterior) {
            area.push_back({ring(line), {}});
        } else if (type == interior) {
            holes.emplace_back(&line, ring(line));
        }
    }
    if (area.size() == first) {
        wrong(polygon, "", "the polygon has no outer ring",
              "put an LSG with A=\"1\" and the ring's PNT into it");
        return;
    }
    std::size_t corners = 0;
    for (auto k = first; k < area.size(); ++k) {
        corners += area[k].outer.size();
    }
    if (area.size() - first > 1 && holes.size() * corners > kMostCompared) {
        wrong(polygon, "", "the polygon has too many rings to say which hole is in which",
              "make a PLN of each outer ring with its holes");
        return;
    }
    // The third version of the standard lets a polygon have several outer rings.
    for (auto& [line, hole] : holes) {
        const auto around = [&](const ground::Polygon& of) {
            return !hole.empty() && goes_round(of.outer, hole.front());
        };
        const auto begin = area.begin() + static_cast<std::ptrdiff_t>(first);
        const auto of = area.end() - begin == 1 ? begin : std::find_if(begin, area.end(), around);
        if (of == area.end()) {
            wrong(*line, "A", "the hole lies in none of the polygon's outer rings",
                  "put it into the polygon that it is cut out of");
            continue;
        }
        of->holes.push_back(std::move(hole));
    }
}

ground::Ring ElementReader::ring(const XmlElement& line) {
    constexpr std::size_t kFewest = 3;
    ground::Ring ring;
    bool is_whole = true;
    bool is_told = false;
    for (const auto& point : line.children) {
        if (point.name != "PNT") {
            continue;
        }
        if (is_swapped(point)) {
            if (!is_told) {  // the others are wrong in the same way
                wrong(point, "C", quoted(text(point, "C")) + " is no latitude",
                      "C (north) and D (east) are probably swapped: write the latitude as C, the "
                      "longitude as D");
            }
            is_told = true;
            is_whole = false;
            continue;
        }
        const auto north = decimal(point, "C", -kPole_deg, kPole_deg);
        const auto east = decimal(point, "D", -kDateLine_deg, kDateLine_deg);
        is_whole = is_whole && north && east;
        if (north && east) {
            ring.push_back({*north, *east});
        }
    }
    if (ring.size() > 1 && ring.front() == ring.back()) {
        ring.pop_back();  // files join the ring by saying its first corner again
    }
    if (is_whole && ring.size() < kFewest) {
        wrong(line, "",
              "a ring of " + counted(ring.size(), "corner", "corners") + " goes round nothing",
              "give it three corners or more, each a PNT with C (north) and D (east)");
    }
    return ring;
}

}  // namespace beetwright::maps
