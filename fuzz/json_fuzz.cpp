// Any text: what is read as JSON, written and read again is the same, in one line and in many.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "io/json_read.hpp"

using namespace beetwright;
using namespace beetwright::io;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const auto read = parse_json({reinterpret_cast<const char*>(data), size}, "");
    if (!read) {
        require(!read.problems().empty(), "a refusal says why");
        return 0;
    }
    const auto written = read->line();
    for (const auto& text : {written, read->lines()}) {
        const auto again = parse_json(text, "");
        require(static_cast<bool>(again), "what was written is read");
        require(again->line() == written, "and is the same");
    }
    return 0;
}
