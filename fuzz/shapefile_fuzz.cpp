// Any bytes as a shapefile, its parts behind each other with marks between: the reader must end,
// and what it accepts is ground on earth.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/shapefile.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

namespace {

/// Takes what stands before the mark away from the bytes.
std::string_view take_until(std::string_view mark, std::string_view& bytes) {
    const auto part = bytes.substr(0, bytes.find(mark));
    bytes.remove_prefix(std::min(part.size() + mark.size(), bytes.size()));
    return part;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::string_view bytes(reinterpret_cast<const char*>(data), size);
    maps::ShapefileParts parts{.shp = take_until("|dbf|", bytes)};
    parts.dbf = take_until("|prj|", bytes);
    parts.prj = take_until("|cpg|", bytes);
    parts.cpg = bytes;
    const auto reading = maps::read_shapefile(parts, "fuzzed");
    if (!is_read(reading)) {
        return 0;
    }
    require(!reading->areas.empty(), "what is read holds an area");
    for (const auto& area : reading->areas) {
        look_at(area.area);
    }
    return 0;
}
