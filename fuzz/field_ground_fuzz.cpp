// Any bytes as what somebody sends of a field's ground, an archive among others: it is read as a
// border, as heights, or, of task data, as both; what is wrong is said.
#include <array>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/field_ground.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::array files{maps::MapFile{"fuzzed", {reinterpret_cast<const char*>(data), size}}};
    const auto border = maps::read_border(files, "Long Acre");
    const auto heights = maps::read_heights(files, "Long Acre");
    // An archive of task data alone may hold both.
    require(!border || !heights || std::holds_alternative<ground::Track>(*heights),
            "heights of others come without borders");
    if (is_read(border)) {
        look_at(border->area);
    }
    if (is_read(heights)) {
        std::visit([](const auto& one) { look_at(one); }, *heights);
    }
    return 0;
}
