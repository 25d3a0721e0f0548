// Any cells of any file: a number that is read is what its digits say, our own text of it reads
// back to the last bit, and a refusal says a way out.
//
// The first byte chooses the separator; each line of the rest is a cell.
#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/contract.hpp"
#include "io/numbers.hpp"

using beetwright::require;
using namespace beetwright::io;

namespace {

void expect_round_trip(double number) {
    const auto text = number_text(number);
    NumberReader reader(',');
    const auto again = reader.read(text, 1);
    require(again.ok() && *again == number, "a number's text reads back as the number");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) {
        return 0;
    }
    constexpr char kSeparators[] = {',', ';', '\t'};
    NumberReader reader(kSeparators[data[0] % 3]);
    std::string_view rest(reinterpret_cast<const char*>(data + 1), size - 1);
    for (int line = 2; !rest.empty(); ++line) {
        const auto end = rest.find('\n');
        const auto cell = rest.substr(0, end);
        rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
        if (cell.empty()) {
            continue;
        }
        const auto number = reader.read(cell, line);
        if (!number) {
            require(
                !number.problems().front().what.empty() && !number.problems().front().fix.empty(),
                "a refusal says what and how");
            continue;
        }
        require(std::isfinite(*number), "a number is finite");
        require(cell.find_first_of("0123456789") != std::string_view::npos, "a number has digits");
        require((*number >= 0.0) || cell.find('-') != std::string_view::npos ||
                    cell.find("\xE2\x88\x92") != std::string_view::npos,
                "nothing is negative without a sign");
        expect_round_trip(*number);
    }
    if (const auto marks = reader.check_marks(); !marks) {
        require(marks.problems().front().where.line > 1, "a doubtful mark has its line");
    }
    return 0;
}
