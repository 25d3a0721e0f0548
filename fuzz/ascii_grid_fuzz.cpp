// Any bytes as a grid of heights in text, in degrees or in a zone: the reader must end, and what it
// accepts is on earth.
#include <cstdint>
#include <string_view>

#include "maps/ascii_grid.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

namespace {

void read(std::string_view bytes, const maps::MapFacts& facts) {
    const auto heights = maps::read_ascii_grid(bytes, "fuzzed", facts);
    if (is_read(heights)) {
        look_at(*heights);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    read(bytes, {});
    read(bytes, {.crs = "EPSG:25832", .height_unit = "ft"});
    return 0;
}
