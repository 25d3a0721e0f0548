// Where in a field something was seen, by the position of whoever saw it.
#pragma once

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::check {

/// The place of an observation, or of one spot of it. WGS 84.
struct Place {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string field;
    Instant at{};
    Uuid of;                ///< the observation that was made there; it may arrive later
    std::int32_t spot = 0;  ///< of a sheet of beets; 0: all of it
    double latitude_rad = std::numeric_limits<double>::quiet_NaN();
    double longitude_rad = std::numeric_limits<double>::quiet_NaN();
    Length accuracy;  ///< as the device says it, 95 % lie within; NaN: not said
};

}  // namespace beetwright::check
