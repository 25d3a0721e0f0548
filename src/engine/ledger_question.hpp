// The question the program exists for: where does the sugar go, and what does it cost?
//
// A struct in, a struct out; no I/O. The same question gives the same answer to the last bit for
// any number of threads.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/pool.hpp"
#include "base/result.hpp"
#include "ledger/account.hpp"
#include "ledger/ledger.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// How the fields of a season are put together.
enum class GroupBy { field, machine, operator_name, day, destination, grower };

struct LedgerQuestion {
    std::string field;  ///< only this field; empty: all
    /// Slice this many days after lifting, whatever the season says; absent: as the season says.
    std::optional<int> slice_after_days;
    std::size_t draws = 1000;  ///< 100 to 1,000,000
    ledger::Detail detail = ledger::Detail::full;
    std::vector<GroupBy> groups;  ///< besides the whole season
};

struct LedgerGroup {
    GroupBy by{};
    std::vector<ledger::Account> accounts;  ///< by name
};

struct LedgerAnswer {
    ledger::Account season;                ///< of all fields asked for
    std::vector<ledger::Account> fields;   ///< in the season's order
    std::vector<LedgerGroup> groups;       ///< as asked
    std::vector<std::string> assumptions;  ///< what had to be assumed, in sentences
};

/// Problems: a field that is not in the season, draws out of bounds, bad replacements of constants,
/// slicing before lifting.
Result<LedgerAnswer> ask(const ledger::Season& season, const LedgerQuestion& question,
                         WorkerPool& pool);

}  // namespace beetwright::engine
