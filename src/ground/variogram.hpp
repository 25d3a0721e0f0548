// How unlike two places are by how far they lie apart. Cressie, Statistics for Spatial Data, 1993,
// sections 2.4 and 2.6. docs/methods/relief.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "ground/position.hpp"

namespace beetwright::ground {

/// Half the mean square of differences between places in one class of distance.
struct VariogramClass {
    double distance_m = 0.0;  ///< mean of the pairs
    double semivariance = 0.0;
    std::size_t pairs = 0;
};

/// Matheron's estimate in classes of `width_m` up to `cutoff_m`; classes without a pair are left
/// out.
std::vector<VariogramClass> empirical_variogram(const std::vector<Point>& places,
                                                const std::vector<double>& values, double cutoff_m,
                                                double width_m);

enum class VariogramShape : std::uint8_t {
    spherical,
    exponential,
    matern,  ///< of smoothness 3/2: ground that has a slope everywhere
};

struct Variogram {
    VariogramShape shape = VariogramShape::spherical;
    double nugget = 0.0;   ///< variance between places as near as one likes
    double sill = 1.0;     ///< what distance adds, in the end
    double range_m = 1.0;  ///< of the spherical its end; of the others the length in the exponent

    /// Of the part that distance changes: `sill` at nought.
    [[nodiscard]] double covariance(double distance_m) const;
    [[nodiscard]] double semivariance(double distance_m) const {
        return distance_m > 0.0 ? nugget + sill - covariance(distance_m) : 0.0;
    }
};

struct VariogramFit {
    Variogram variogram;
    double misfit = 0.0;  ///< sum of weighted squares
};
/// By least squares with weights pairs / distance^2, which asks most of near places. Nugget and
/// sill are not negative. `classes`: three or more.
VariogramFit fit_variogram(const std::vector<VariogramClass>& classes, VariogramShape shape);

}  // namespace beetwright::ground
