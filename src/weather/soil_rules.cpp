#include "weather/soil_rules.hpp"

namespace beetwright::weather {

FieldRules rules_for(SoilClass soil_class, const LiftingConstants& constants) {
    const auto available = [](const Soil& soil) {
        return soil.field_capacity - soil.wilting_point;
    };
    const Soil& soil = soil_of(soil_class);
    auto rules = usual_rules(constants);
    rules.bucket_mm *= available(soil) / available(soil_of(SoilClass::loam));
    rules.drain_lag_h *= soil.draining;
    return rules;
}

}  // namespace beetwright::weather
