// Any bytes as the text of a coordinate system: it is known or refused, and what it says is on
// earth.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/crs.hpp"

using beetwright::require;
using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto crs = maps::Crs::from_text({reinterpret_cast<const char*>(data), size},
                                          {.file = "fuzzed", .line = 0, .field = ""});
    if (!crs) {
        require(!crs.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    for (const auto& [east, north] :
         {std::pair{8.2, 53.1}, std::pair{500'000.0, 5'884'000.0}, std::pair{1e300, -1e300}}) {
        const auto at = crs->position(east, north);
        require(!at || ground::is_on_earth(*at), "a position is on earth");
    }
    require(!crs->name().empty(), "a system is called something");
    static_cast<void>(crs->note());
    return 0;
}
