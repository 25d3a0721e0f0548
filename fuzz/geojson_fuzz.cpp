// Any bytes as GeoJSON: the reader must end, what it accepts is ground on earth, and what is
// written of it is read again.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/geojson.hpp"

using beetwright::require;
using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto reading = maps::read_geojson({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (!reading) {
        require(!reading.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    require(!reading->areas.empty(), "what is read holds an area");
    for (const auto& area : reading->areas) {
        for (const auto& polygon : area.area) {
            require(polygon.outer.size() >= 3, "a ring has three corners");
            for (const auto& corner : polygon.outer) {
                require(ground::is_on_earth(corner), "a corner is on earth");
            }
        }
    }
    require(!maps::write_geojson(reading->areas).empty(), "what is read is written");
    return 0;
}
