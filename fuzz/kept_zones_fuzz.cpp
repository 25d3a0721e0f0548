// Any text as zones that somebody wants to keep: refused with reasons, or written and read back as
// the same, and fitted together without ground that two of them cover.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/kept_zones.hpp"

using namespace beetwright;
using namespace beetwright::maps;

namespace {

/// Corners go out to a millimetre, so only what was written once comes back as the same.
KeptZones again(const KeptZones& kept) {
    auto read = read_kept_zones(kept_zones_text(kept), "again");
    require(read.ok(), "what was written is read");
    return std::move(*read);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto kept = read_kept_zones({reinterpret_cast<const char*>(data), size}, "zones.json");
    if (!kept) {
        require(!kept.problems().empty(), "a refusal says why");
        return 0;
    }
    const auto once = again(*kept);
    require(again(once) == once, "it reads back as the same");
    std::vector<std::string> notes;
    const auto fitted = fitted_together(*kept, {}, notes);
    require(fitted.zones.size() <= kept->zones.size(), "no zone comes from nothing");
    for (const auto& zone : fitted.zones) {
        require(!zone.area.empty(), "a zone that is kept lies somewhere");
    }
    return 0;
}
