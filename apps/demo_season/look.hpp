// Who looks at one field, and the chances of what is seen there.
#pragma once

#include <cstdint>
#include <string_view>

#include "base/random.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"
#include "base/uuid.hpp"
#include "demo_season/story.hpp"
#include "demo_season/truth.hpp"

namespace beetwright::demo {

/// Who looks at one field, when, and with which instruments. Streams are keyed by purpose, field
/// and number, so any observation can be drawn on its own.
struct Look {
    const FieldPlan& plan;
    const FieldTruth& truth;
    std::uint64_t seed = 1;
    UnitSystem units = UnitSystem::metric;
};

/// The chances of the `number`-th look of a purpose.
RandomStream stream_of(const Look& look, std::string_view purpose, int number);
Uuid id_at(const Look& look, std::string_view kind, int number, Instant at);

}  // namespace beetwright::demo
