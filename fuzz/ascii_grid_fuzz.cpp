// Any bytes as a grid of heights in text, in degrees or in a zone: the reader must end, and what it
// accepts is on earth.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/ascii_grid.hpp"

using beetwright::require;
using namespace beetwright;

namespace {

void read(std::string_view bytes, const maps::MapFacts& facts) {
    const auto heights = maps::read_ascii_grid(bytes, "fuzzed", facts);
    if (!heights) {
        require(!heights.problems().front().what.empty(), "what is wrong is said");
        return;
    }
    require(!heights->points.empty(), "a grid has a height");
    for (const auto& point : heights->points) {
        require(ground::is_on_earth(point.position) && std::isfinite(point.height_m),
                "a height is somewhere on earth");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    read(bytes, {});
    read(bytes, {.crs = "EPSG:25832", .height_unit = "ft"});
    return 0;
}
