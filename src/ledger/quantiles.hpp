// Mean and 90 % interval of N draws, exactly, without sorting them.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace beetwright::ledger {

struct Summary {
    double mean = 0.0;
    double low = 0.0;   ///< 5 % point
    double high = 0.0;  ///< 95 % point
};

/// Summarises draws; keeps its working space between calls.
class Summariser {
 public:
    /// values: at least one, all finite. The points are those of order statistics with linear
    /// interpolation at (N - 1) p (type 7 of Hyndman and Fan 1996, R's default).
    Summary operator()(std::span<const double> values);

 private:
    [[nodiscard]] double point(std::span<const double> values, double chance, double guess,
                               double sd);

    std::vector<double> sorted_;  ///< so far as one point needs it
};

}  // namespace beetwright::ledger
