// How a receiver's height drifts while a field is driven, seen where passes come near each other.
//
// Two passes side by side see almost the same ground minutes or hours apart. So the ground and the
// drift are found together: the ground bends no more than it is seen to bend along passes, where
// little time goes by; the drift is a walk through time, of the variance with which passes that
// were left out are foretold best. A log of carrier phase and one of satellites alone are each
// taken for what they are. docs/methods/relief.md.
#pragma once

#include <vector>

#include "ground/cleaning.hpp"

namespace beetwright::ground {

struct Drift {
    std::vector<double> since_s;   ///< of the nodes, ascending; between them it runs straight
    std::vector<double> height_m;  ///< seen too high by; about nought in all
    double wander_m = 0.0;         ///< standard deviation of what it gains in an hour
    double noise_m = 0.0;  ///< standard deviation of a single height beside ground and drift

    /// Nought where there are no nodes.
    [[nodiscard]] double at(double since_s) const;
};

/// `spacing_m`: between passes, about. No nodes where too few samples see the same ground twice.
Drift drift_of(const std::vector<Sample>& samples, double spacing_m);

}  // namespace beetwright::ground
