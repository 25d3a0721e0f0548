// Any text: reading payment terms must end in Terms or in problems; Terms that were read must be
// written and read back the same, and must settle a load without running out of cents.
#include <cstdint>
#include <span>
#include <string_view>

#include "base/contract.hpp"
#include "io/terms_json.hpp"
#include "worth/settle.hpp"

using namespace beetwright;
using namespace beetwright::io;

namespace {

worth::Delivery heavy_load(const worth::Terms& terms) {
    worth::Delivery load;
    load.delivered = terms.supplements.empty() ? Day{} : terms.supplements.front().from;
    load.clean = CleanMass(1e8);  // the most that one load may be
    load.soil = Mass(1e8);
    load.tops = Mass(1e8);
    load.pol = SugarContent(0.30);
    load.molasses_loss = SugarContent(0.02);
    load.haul = worth::kMostHaul;
    return load;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto terms = read_terms(text, "fuzzed.json");
    if (!terms) {
        require(!terms.problems().empty(), "a refusal says why");
        return 0;
    }
    const auto written = write_terms(*terms);
    const auto again = read_terms(written, "written.json");
    require(again.ok(), "what was read can be written and read");
    require(again->slide.size() == terms->slide.size(), "no step is lost");
    require(again->supplements.size() == terms->supplements.size(), "no supplement is lost");
    require(again->premiums.size() == terms->premiums.size(), "no premium is lost");
    require(again->pay() == terms->pay(), "a price that is not known stays so");
    const auto load = heavy_load(*terms);
    require(worth::settle(*terms, load).ok(), "terms that were read settle a load");
    const auto season = worth::settle_season(*terms, std::span(&load, 1), Area(1e4));
    require(season.ok(), "terms that were read settle a season");
    return 0;
}
