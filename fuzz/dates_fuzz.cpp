// Any header words and any cell: a day or an instant that is read is written in ISO and read back
// the same; a refusal says a way out.
//
// The first line is a header's brackets, the second a cell.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "base/time.hpp"
#include "io/dates.hpp"

using namespace beetwright;
using namespace beetwright::io;

namespace {

void expect_says_why(const Problems& problems) {
    require(!problems.front().what.empty() && !problems.front().fix.empty(),
            "a refusal says what and how");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto end = bytes.find('\n');
    const auto words = bytes.substr(0, end);
    const auto cell = end == std::string_view::npos ? std::string_view() : bytes.substr(end + 1);
    const auto day = read_day(cell, parse_day_format(words).value_or(DayFormat{}));
    if (day) {
        const auto again = read_day(to_text(*day), DayFormat{});
        require(again.ok() && *again == *day, "a day is written and read back");
        const std::chrono::year_month_day date(*day);
        require(date.ok() && int(date.year()) >= 1900 && int(date.year()) <= 2199,
                "a day is of our time");
    } else {
        expect_says_why(day.problems());
    }
    const auto instant = read_instant(cell, parse_instant_format(words).value_or(InstantFormat{}));
    if (instant) {
        const auto again = read_instant(to_text(*instant), InstantFormat{});
        require(again.ok() && *again == *instant, "an instant is written and read back");
    } else {
        expect_says_why(instant.problems());
    }
    return 0;
}
