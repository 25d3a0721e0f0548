// What a pile's own physics did to a field's beets, in place of its destination's temperatures: the
// ledger's exposures, day by day, in each of a pile's members.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "pile/lump.hpp"

namespace beetwright::ledger {

struct SectionHistory {
    struct Member {
        double basal_at_5C = 0.0;           ///< that it breathed with [kg/kg/d]
        std::vector<pile::Exposure> after;  ///< each day from `first` on, since lifting
    };
    Day first{};
    std::vector<Member> members;  ///< one at least, all as long

    [[nodiscard]] bool knows(Day day) const {
        return day >= first &&
               (day - first).count() < static_cast<std::ptrdiff_t>(members.front().after.size());
    }
    /// What a draw's beets met by the end of a day: a member's, with the draw's own level of
    /// breathing. Draws take the members in turn.
    [[nodiscard]] pile::Exposure at(Day day, std::size_t draw, double basal_at_5C) const;
};

/// By the field's name.
using SectionHistories = std::map<std::string, SectionHistory>;

}  // namespace beetwright::ledger
