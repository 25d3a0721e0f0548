// Any bytes as a file of a map of whatever kind: it is told what it is, or read by its reader.
#include <array>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/map_file.hpp"

using beetwright::require;
using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::array files{maps::MapFile{"fuzzed", {reinterpret_cast<const char*>(data), size}}};
    const auto reading = maps::read_map_file(files);
    require(reading || !reading.problems().front().what.empty(), "what is wrong is said");
    require(!reading || maps::kind_of(files[0]) != maps::MapKind::unknown,
            "what is read is of a kind");
    return 0;
}
