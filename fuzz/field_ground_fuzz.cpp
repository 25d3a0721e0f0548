// Any bytes as what somebody sends of a field's ground, an archive among others: it is read as a
// border, as heights, or, of task data, as both; what is wrong is said.
#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/field_ground.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::array files{maps::MapFile{"fuzzed", {reinterpret_cast<const char*>(data), size}}};
    const auto border = maps::read_border(files, "Long Acre");
    const auto heights = maps::read_heights(files, "Long Acre");
    // An archive of task data alone may hold both.
    require(!border || !heights || std::holds_alternative<ground::Track>(*heights),
            "heights of others come without borders");
    if (!border) {
        const auto& problem = border.problems().front();
        require(!problem.what.empty() && !problem.fix.empty(), "what is wrong is said");
    }
    if (!heights) {
        const auto& problem = heights.problems().front();
        require(!problem.what.empty() && !problem.fix.empty(), "what is wrong is said");
    }
    if (border) {
        for (const auto& polygon : border->area) {
            require(polygon.outer.size() >= 3 &&
                        std::ranges::all_of(polygon.outer, ground::is_on_earth),
                    "a border goes round something on earth");
        }
    }
    return 0;
}
