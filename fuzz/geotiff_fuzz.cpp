// Any bytes as a GeoTIFF: the reader must end, and what it accepts is on earth.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/geotiff.hpp"

using beetwright::require;
using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto heights = maps::read_geotiff({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (!heights) {
        require(!heights.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    require(!heights->points.empty(), "a grid has a height");
    for (const auto& point : heights->points) {
        require(ground::is_on_earth(point.position) && std::isfinite(point.height_m),
                "a height is somewhere on earth");
    }
    return 0;
}
