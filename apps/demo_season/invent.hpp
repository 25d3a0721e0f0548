// The whole demo season: its weather, what is true in its fields, and the season as its people
// have written it down.
#pragma once

#include <cstdint>
#include <vector>

#include "base/unit.hpp"
#include "demo_season/truth.hpp"
#include "demo_season/weather.hpp"
#include "ledger/season.hpp"

namespace beetwright::demo {

struct Invented {
    Weather weather;
    std::vector<FieldTruth> truth;  ///< in the order of season.fields
    ledger::Season season;
};

/// The same seed and units give the same season, to the last bit; no clock is read.
Invented invent(std::uint64_t seed, UnitSystem units, const LossPhysics& physics);

}  // namespace beetwright::demo
