// The ground's temperature through the year. docs/methods/ground.md.
#pragma once

#include "base/quantity.hpp"

namespace beetwright::weather {

/// A year at the surface as one wave, and ground that carries it down.
struct GroundYear {
    Temperature mean;
    TemperatureDifference amplitude;   ///< half of the span from coldest to warmest
    double coldest_day = 25.0;         ///< day of the year, 1 January is 1
    double diffusivity_m2_day = 0.05;  ///< thermal
};

/// At a depth, on a day of the year (Kusuda and Achenbach 1965, ASHRAE Trans. 71(1):61-75).
Temperature ground_temperature(const GroundYear& year, Length depth, double day_of_year);

/// The depth in which the year's wave falls to 1/e.
Length damping_depth(const GroundYear& year);

}  // namespace beetwright::weather
