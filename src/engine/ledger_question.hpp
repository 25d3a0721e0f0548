// The question the program exists for: where does the sugar go, and what does it cost?
//
// A struct in, a struct out; no I/O. The same question gives the same answer to the last bit for
// any number of threads.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/pool.hpp"
#include "base/progress.hpp"
#include "base/result.hpp"
#include "ledger/account.hpp"
#include "ledger/amounts.hpp"
#include "ledger/ledger.hpp"
#include "ledger/model.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// How the fields of a season are put together.
enum class GroupBy { field, machine, operator_name, day, destination, grower };

inline constexpr std::size_t kUsualDraws = 1000;

struct LedgerQuestion {
    std::string field;  ///< only this field; empty: all
    /// Slice this many days after lifting, whatever the season says; absent: as the season says.
    std::optional<int> slice_after_days;
    std::size_t draws = kUsualDraws;  ///< 100 to 1,000,000
    ledger::Detail detail = ledger::Detail::full;
    std::vector<GroupBy> groups;  ///< besides the whole season
    std::size_t most_bytes = 0;   ///< refused where it would need more memory; 0: any
    /// What fields' own sections of piles went through, where somebody has worked it out
    /// (pile_histories.hpp); without, beets lie at their destination's temperatures.
    const ledger::SectionHistories* histories = nullptr;
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

/// What every ledger of a season rests on: worked out once, it serves many questions.
struct LedgerBasis {
    ledger::Season standing;                    ///< without what was superseded
    Catalogue catalogue;                        ///< with the season's own numbers
    std::vector<ledger::FieldAmounts> amounts;  ///< of the fields, in their order
    std::shared_ptr<const ledger::DrawnConstants> drawn;

    /// A field's place among `standing.fields`; their number where there is none of this name.
    [[nodiscard]] std::size_t place_of(const std::string& field) const;
};
/// `before`, if any: an earlier basis of the season, of which the draws are kept if they still
/// hold. Problems: bad replacements of constants.
Result<LedgerBasis> ledger_basis(const ledger::Season& season, std::size_t draws,
                                 const LedgerBasis* before = nullptr);

/// Problems: a field that is not in the season, draws or memory out of bounds, bad replacements of
/// constants, slicing before lifting; and that `progress`, which may be null, wanted it stopped. It
/// is first asked when the question has been found in order and the long work is about to begin.
Result<LedgerAnswer> ask(const ledger::Season& season, const LedgerQuestion& question,
                         WorkerPool& pool, Progress* progress = nullptr);
/// The same answer, from a basis of the season.
Result<LedgerAnswer> ask(const LedgerBasis& basis, const LedgerQuestion& question, WorkerPool& pool,
                         Progress* progress = nullptr);

}  // namespace beetwright::engine
