#include "io/ledger_words.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace beetwright::io {
namespace {

constexpr std::array kGroupWords{
    GroupWord{"machine", engine::GroupBy::machine},
    GroupWord{"operator", engine::GroupBy::operator_name},
    GroupWord{"day", engine::GroupBy::day},
    GroupWord{"destination", engine::GroupBy::destination},
    GroupWord{"grower", engine::GroupBy::grower},
};

constexpr int kMostDays = 366;

}  // namespace

std::span<const GroupWord> group_words() {
    return kGroupWords;
}

std::optional<engine::GroupBy> group_of(std::string_view word) {
    const auto found = std::ranges::find(kGroupWords, word, &GroupWord::word);
    return found == kGroupWords.end() ? std::nullopt : std::optional(found->by);
}

Result<int> read_days(const std::string& text) {
    int number = 0;
    const char* end = text.data() + text.size();
    const auto [stop, error] = std::from_chars(text.data(), end, number);
    const std::string unit(stop, end);
    const bool is_known = unit.empty() || unit == "d" || unit == "w";
    const int per = unit == "w" ? 7 : 1;
    if (error != std::errc{} || !is_known || number < 0 || number > kMostDays / per) {
        return Problem{ProblemKind::input,
                       {},
                       "'" + text + "' is not a number of days",
                       "write 2d for two days or 17w for seventeen weeks, up to 366 days"};
    }
    return per * number;
}

}  // namespace beetwright::io
