// Has it changed since the last check? docs/methods/change.md.
#pragma once

#include <string>

#include "base/estimate.hpp"

namespace beetwright::check {

/// Beets of which something was true, among those judged, in one check.
struct ShareCount {
    int hits = 0;
    int beets = 0;
    /// How many times more beets it takes because they came from spots; 1 for beets picked one by
    /// one.
    double design_effect = 1.0;
};

/// The risk of crying change where there is none, and of missing one, that we plan by.
inline constexpr double kFalseAlarm = 0.10;
inline constexpr double kMiss = 0.10;

enum class Change { none_shown, rise, fall };

struct ChangeAnswer {
    Change verdict = Change::none_shown;
    double earlier_share = 0.0;
    double later_share = 0.0;
    /// Chance of a difference at least this large, either way, if nothing has changed (Fisher's
    /// exact test with mid-p, so that small counts are neither over- nor underrated).
    double chance_if_unchanged = 1.0;
    /// Chance that the later share truly is the higher one.
    double chance_of_rise = 0.5;
    /// If the shares really are as counted: chance that two such checks would not show it.
    double chance_of_missing = 1.0;
    /// Beets for each check that would show a difference of this size (false alarm 10 %, miss 10
    /// %); 0 if the shares are equal, or so near that a million would not.
    int beets_each_to_tell = 0;
    /// More beets now, the earlier check staying as it is, to the same end; 0 if this cannot be had
    /// by counting more now alone.
    int more_beets_now = 0;
};

/// Counts must have 0 <= hits <= beets, beets >= 1, design effects >= 1.
ChangeAnswer compare(const ShareCount& earlier, const ShareCount& later);

/// The answer in plain words, two to four sentences.
std::string words(const ChangeAnswer& answer, const ShareCount& earlier, const ShareCount& later);

}  // namespace beetwright::check
