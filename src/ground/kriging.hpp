// The value most likely at a place from those measured around it, and how sure it is: ordinary
// kriging, whose weights sum to one, so that nothing need be known of the mean. Cressie, Statistics
// for Spatial Data, 1993, section 3.2. docs/methods/relief.md.
#pragma once

#include <cstddef>
#include <vector>

#include "ground/variogram.hpp"

namespace beetwright::ground {

/// One measured value, or the mean of several that lie together.
struct Measured {
    Point at;
    double value = 0.0;
    double variance = 0.0;  ///< of its own error, beside what the variogram's distance part says
};

struct Kriged {
    double value = 0.0;
    double variance = 0.0;  ///< of the ground itself there, without the error of one more reading
};

class Kriging {
 public:
    /// Of the variogram the part that distance changes counts; each value's own error is its own.
    /// `nearest`: how many of the values around a place are used. `values`: one or more.
    Kriging(std::vector<Measured> values, const Variogram& variogram, std::size_t nearest);

    [[nodiscard]] Kriged at(const Point& place) const;

 private:
    [[nodiscard]] std::vector<std::size_t> nearest_to(const Point& place) const;

    std::vector<Measured> values_;  ///< by blocks of ground
    Variogram variogram_;
    std::size_t nearest_;
    Point corner_;
    double block_m_ = 1.0;
    std::size_t columns_ = 1;
    std::size_t rows_ = 1;
    std::vector<std::size_t> begins_;  ///< of each block among the values
};

}  // namespace beetwright::ground
