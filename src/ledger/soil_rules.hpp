// What is known of a soil that fields name.
#pragma once

#include <limits>
#include <optional>
#include <string>

#include "base/quantity.hpp"
#include "weather/soil.hpp"

namespace beetwright::ledger {

/// What lifting on a soil goes by. Whatever is not known here, NaN, is the catalogue's.
struct SoilRules {
    std::string name;  ///< the grower's word, as fields have it
    std::optional<weather::SoilClass> soil_class;
    Length holds;  ///< water, by the topsoil: rain that fills it
    double stop_filling = std::numeric_limits<double>::quiet_NaN();  ///< from which one stops
    double drains_to = std::numeric_limits<double>::quiet_NaN();     ///< filling kept for good
    Duration drain_lag;  ///< in which what is above falls to 1/e
    Length rain_stop;    ///< rain within a day from which one stops
};

}  // namespace beetwright::ledger
