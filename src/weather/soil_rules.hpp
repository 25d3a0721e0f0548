// A field's rules by its soil. docs/methods/lifting_hours.md.
#pragma once

#include "weather/lifting_hours.hpp"
#include "weather/soil.hpp"

namespace beetwright::weather {

/// The usual rules are a loam's. Against it a bucket is as large as what roots can take from the
/// soil, and drains as fast as its class does: sand holds little and lets it go within a day, clay
/// takes days.
FieldRules rules_for(SoilClass soil, const LiftingConstants& constants);

}  // namespace beetwright::weather
