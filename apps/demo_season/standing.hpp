// The demo season's looks at crops that still stand.
#pragma once

#include <vector>

#include "check/standing_look.hpp"
#include "demo_season/look.hpp"

namespace beetwright::demo {

/// What was looked at on one of the visits to a field before it was lifted.
enum class Visit : std::uint8_t { august, september, before_lifting };

/// A field is dug in the middle of August and of September, and some days before it is lifted its
/// crowns are measured; leaf is judged from September on.
check::StandingLook observed_standing(const Look& look, Visit visit);

}  // namespace beetwright::demo
