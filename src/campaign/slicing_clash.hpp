// Which rules of a slicing order cannot all be kept.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

/// One thing that is asked of an order: a day of a part, or the way in which a pile is taken.
struct SlicingRule {
    enum class Kind : std::uint8_t {
        not_before,  ///< of a part
        by,          ///< of a part
        taken_from,  ///< of a pile; let go of, any part can be got at
    };
    Kind kind = Kind::by;
    PartPlace place{};  ///< taken_from: the pile alone
};

/// Rules of which each alone could be let go of to be rid of the clash.
struct RuleClash {
    std::vector<SlicingRule> rules;
    /// No smaller set clashes; else none was found, and none of these can be spared.
    bool is_smallest = false;
};

/// The smallest set of rules that no order keeps, whatever the parts are worth; of a question
/// that is in order. Nothing: none is known to clash, which is sure where all states can be gone
/// through (Effort::most_states).
std::optional<RuleClash> clash_of(const SlicingQuestion& question);

/// "North, 1 by 2031-12-04; North is taken from its beginning".
std::string text_of(const SlicingQuestion& question, const RuleClash& clash);

}  // namespace beetwright::campaign
