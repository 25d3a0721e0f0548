// Any bytes as GeoJSON: the reader must end, what it accepts is ground on earth, and what is
// written of it is read again.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/geojson.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto reading = maps::read_geojson({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (!is_read(reading)) {
        return 0;
    }
    require(!reading->areas.empty(), "what is read holds an area");
    for (const auto& area : reading->areas) {
        look_at(area.area);
    }
    require(!maps::write_geojson(reading->areas).empty(), "what is read is written");
    return 0;
}
