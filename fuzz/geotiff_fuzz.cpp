// Any bytes as a GeoTIFF: the reader must end, and what it accepts is on earth.
#include <cstdint>
#include <string_view>

#include "maps/geotiff.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto heights = maps::read_geotiff({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (is_read(heights)) {
        look_at(*heights);
    }
    return 0;
}
