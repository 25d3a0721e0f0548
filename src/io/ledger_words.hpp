// The words in which people and programs ask for a ledger.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "engine/ledger_question.hpp"

namespace beetwright::io {

struct GroupWord {
    std::string_view word;  ///< "operator"
    engine::GroupBy by;
};
std::span<const GroupWord> group_words();

/// Nothing where it is not one of group_words().
std::optional<engine::GroupBy> group_of(std::string_view word);

/// Reads "2d" or "2" as days, "3w" as weeks; up to 366 days.
Result<int> read_days(const std::string& text);

}  // namespace beetwright::io
