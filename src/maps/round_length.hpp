// Numbers and lengths that people read at a glance.
#pragma once

#include <cmath>
#include <string>

#include "base/unit.hpp"

namespace beetwright::maps {

/// The greatest of 1, 2, 5, 10, 20, ... and 0.5, 0.2, ... that is not above a number over 0.
inline double round_number(double most) {
    const double power = std::pow(10.0, std::floor(std::log10(most)));
    constexpr double kRounding = 1e-9;
    for (const double step : {5.0, 2.0}) {
        if (step * power <= most * (1.0 + kRounding)) {
            return step * power;
        }
    }
    return power;
}

struct RoundLength {
    double metres = 0.0;
    std::string words;  ///< "200 m", "500 ft", "1 km", "2 mi"
};

/// The longest round one that is not longer than this.
RoundLength round_length(double most_m, UnitSystem units);

}  // namespace beetwright::maps
