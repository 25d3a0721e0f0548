// Any text: reading payment terms must end in Terms or in problems; Terms that were read must be
// written and read back the same.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "io/terms_json.hpp"

using beetwright::require;
using namespace beetwright::io;

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
    return 0;
}
