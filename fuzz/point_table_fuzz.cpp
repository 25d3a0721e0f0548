// Any bytes as a table of where a machine drove: the reader must end, and what it accepts is on
// earth.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/point_table.hpp"

using beetwright::require;
using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto track =
        maps::read_point_table({reinterpret_cast<const char*>(data), size}, "fuzzed");
    if (!track) {
        require(!track.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    require(!track->fixes.empty(), "a track has a fix");
    for (const auto& fix : track->fixes) {
        require(ground::is_on_earth(fix.position), "a fix is on earth");
    }
    return 0;
}
