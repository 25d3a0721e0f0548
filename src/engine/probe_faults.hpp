// Is a probe to be believed? docs/methods/pile_probes.md.
#pragma once

#include <string>
#include <vector>

#include "engine/pile_readings.hpp"

namespace beetwright::engine {

enum class ProbeFault : std::uint8_t {
    none,
    nowhere,       ///< nothing lay where it was read
    stuck,         ///< always the same number
    jumping,       ///< from one to another that no pile could follow
    fahrenheit,    ///< Fahrenheit written as Celsius
    celsius,       ///< Celsius written as Fahrenheit
    unreconciled,  ///< neither the others nor any member can explain it
};

struct ProbeVerdict {
    ProbeFault fault = ProbeFault::none;
    std::string why = {};  ///< for people
    /// The mean that the others' readings let expect, and its standard deviation [°C].
    double expected = 0.0, spread = 0.0;
    /// It is trusted, yet far from that: a spot of its own. Readings there then say less of the
    /// rest: their steady error is greater by this [K].
    double apart_K = 0.0;
};

/// What members predict for one place.
struct PredictedPlace {
    std::size_t members = 0;
    std::vector<double> celsius;  ///< by reading: member by member
    std::vector<double> windows;  ///< by window: likewise
    double slope_K_m = 0.0;       ///< mean over them

    [[nodiscard]] std::span<const double> of(std::size_t member) const {
        const std::size_t count = celsius.size() / members;
        return std::span(celsius).subspan(member * count, count);
    }
};

/// Standard deviations [K] of a window's mean about what the model means by the place.
struct ProbeError {
    double daily = 0.0;   ///< another one in each window
    double steady = 0.0;  ///< the same in all of them
};
ProbeError probe_error(const ProbePlace& place, const PredictedPlace& predicted,
                       const Catalogue& catalogue);

/// A verdict on each place. `places` have a prediction each, or no part. One bad probe among
/// others does not make those look bad: the worst is left out, and then the rest is looked at anew.
std::vector<ProbeVerdict> probe_verdicts(std::span<const ProbePlace> places,
                                         std::span<const PredictedPlace> predicted,
                                         const Catalogue& catalogue);

}  // namespace beetwright::engine
