// Has enough been counted? For the person who stands beside the tank with a beet in hand.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "check/estimate.hpp"
#include "check/sample_size.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// Beets judged at one spot, and those among them of which something was true.
struct SpotCount {
    int hits = 0;
    int beets = 0;
};

struct EnoughAnswer {
    check::ShareEstimate estimate;
    /// Whether the share is fine (5 %) or too much (10 %), and how many more beets would tell.
    check::RunningCount standing;
    std::string words;  ///< one sentence for the person counting
};

/// Problems: a spot with fewer beets than hits or with none, no spot, more than a million beets,
/// bad replacements of constants.
Result<EnoughAnswer> ask_enough(const ledger::Season& season, const std::vector<SpotCount>& spots);

}  // namespace beetwright::engine
