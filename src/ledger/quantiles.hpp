// Mean and 90 % interval of N draws, exactly, in two passes over them and a sort of their tails.
#pragma once

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
    std::vector<double> low_tail_;
    std::vector<double> high_tail_;  ///< negated, so that both tails are sorted upwards
};

}  // namespace beetwright::ledger
