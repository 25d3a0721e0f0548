// When each field was lifted and is sliced, with what has to be assumed where nobody has said.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

struct FieldDays {
    Day lifted{};
    Day sliced{};
};

/// Beets that go straight to a factory wait this long for the slicer; in a pile, this long, unless
/// the season says when they are sliced. Assumed; both are told to the reader.
inline constexpr int kDaysToFactorySlicing = 2;
inline constexpr int kDaysInPile = 60;

/// Adds "A, B and C: what" to the sentences; nothing where there are no names.
void tell(std::vector<std::string>& sentences, const std::vector<std::string>& names,
          const std::string& what);

/// The days of these fields of the season, in their order. `slice_after_days` overrules the season.
/// Adds a sentence to `assumptions` for each kind of thing assumed of them. Problem: slicing before
/// lifting, or more than a year after it.
Result<std::vector<FieldDays>> schedule(const ledger::Season& season,
                                        std::span<const ledger::Field* const> fields,
                                        std::optional<int> slice_after_days,
                                        std::vector<std::string>& assumptions);

}  // namespace beetwright::engine
