// What do the counts of a field prove? Shares with intervals, published targets, change since the
// last check, and how many more beets would tell.
#pragma once

#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/result.hpp"
#include "check/change.hpp"
#include "check/estimate.hpp"
#include "check/sample_size.hpp"
#include "check/scheme.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// One thing that was judged on the beets of a field.
struct JudgedShare {
    std::string words;              ///< "topped too deep"
    check::ShareEstimate estimate;  ///< over all sheets of the field
    /// Against the field's sheet before its last, if there are two or more.
    std::vector<std::string> change;
    check::RunningCount towards_five_per_cent;  ///< 5 % against 10 %
};

struct TargetResult {
    std::string words;
    double most_share = 0.0;
    check::Judgement judgement;
    std::string source;
};

struct CheckAnswer {
    std::string field;
    double beets = 0.0;
    double spots = 0.0;
    std::size_t sheets = 0;
    std::vector<JudgedShare> shares;
    std::vector<TargetResult> targets;
};

/// Problems: a field that is not in the season, or that has no counted beets.
Result<CheckAnswer> ask_check(const ledger::Season& season, const std::string& field);

}  // namespace beetwright::engine
