#include "maps/zone_hatches.hpp"

#include <array>
#include <string_view>

#include "io/filled.hpp"

namespace beetwright::maps {
namespace {

using io::filled;

struct Hatch {
    std::string_view size;  ///< of what is repeated
    std::string_view path;
};

// As unlike as five can be: up, down, along, strewn, crossed.
constexpr std::array<Hatch, 5> kHatches{{
    {"10", "M-2 2L2 -2M0 10L10 0M8 12L12 8"},
    {"10", "M-2 8L2 12M0 0L10 10M8 -2L12 2"},
    {"8", "M0 4H8"},
    {"12", "M3 6h5M5.5 3.5v5"},
    {"12", "M0 6H12M6 0V12"},
}};

std::size_t hatch_of(std::size_t place) {
    return (place - 1) % kHatches.size();
}

}  // namespace

std::string hatch_definitions() {
    std::string all = "<defs>";
    for (std::size_t k = 0; k < kHatches.size(); ++k) {
        all += filled(
            "<pattern id=\"hatch-{0}\" width=\"{1}\" height=\"{1}\" "
            "patternUnits=\"userSpaceOnUse\"><path class=\"hatch\" d=\"{2}\"/></pattern>",
            std::to_string(k), kHatches[k].size, kHatches[k].path);
    }
    return all + "</defs>";
}

std::string hatch_fill(std::size_t place) {
    return place == 0 ? "none" : "url(#hatch-" + std::to_string(hatch_of(place)) + ")";
}

std::string hatch_swatch(std::size_t place) {
    return filled(
        "<svg class=\"swatch\" viewBox=\"0 0 44 22\" aria-hidden=\"true\"><rect class=\"ground\" "
        "x=\"1\" y=\"1\" width=\"42\" height=\"20\"/><rect class=\"zone\" x=\"1\" y=\"1\" "
        "width=\"42\" height=\"20\" fill=\"{}\"/></svg>",
        hatch_fill(place));
}

}  // namespace beetwright::maps
