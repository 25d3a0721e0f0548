// Any bytes as a table of where a machine drove: the reader must end, and what it accepts is on
// earth.
#include <cstdint>
#include <string_view>

#include "maps/point_table.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto track =
        maps::read_point_table({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (is_read(track)) {
        look_at(*track);
    }
    return 0;
}
