// All that the report page shows: ledgers of the season and its parts, what to count next, the
// constants used.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "engine/ledger_question.hpp"

namespace beetwright::engine {

struct ReportQuestion {
    /// Slice this many days after lifting, whatever the season says; absent: as the season says.
    std::optional<int> slice_after_days;
    std::size_t draws = 1000;    ///< 100 to 1,000,000
    std::size_t most_bytes = 0;  ///< as in LedgerQuestion
};

/// A count that would settle most money.
struct NextCount {
    std::string field;
    std::string what;  ///< "count ten beets at each of ten spots"
    std::string why;   ///< "tails broken and left: nobody counted here"
    Money at_stake;    ///< width of the 90 % interval of that loss, over the whole field
};

struct ReportAnswer {
    std::string season_name;
    LedgerAnswer ledger;  ///< by machine, operator, destination and day
    std::vector<NextCount> next;
    Catalogue catalogue;
};

/// As ask(), for every field and group, with full detail.
Result<ReportAnswer> ask_report(const ledger::Season& season, const ReportQuestion& question,
                                WorkerPool& pool, Progress* progress = nullptr);

/// The counts that would settle most money, the dearest first.
std::vector<NextCount> next_counts(const std::vector<ledger::Account>& fields, std::size_t most);

}  // namespace beetwright::engine
