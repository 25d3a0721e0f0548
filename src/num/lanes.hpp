// Sums and extremes run in eight lanes, whatever registers the processor has: so their order is
// fixed, and so is every bit of them.
#pragma once

#include <cstddef>

namespace beetwright::num {

inline constexpr std::size_t kLanes = 8;
/// Cells that are worked on at once where several loops follow each other: their fields stay in the
/// nearest memory.
inline constexpr std::size_t kBlock = 512;

inline double sum_of_lanes(const double* lanes) {
    return ((lanes[0] + lanes[4]) + (lanes[2] + lanes[6])) +
           ((lanes[1] + lanes[5]) + (lanes[3] + lanes[7]));
}

inline double greatest_of_lanes(const double* lanes) {
    double most = lanes[0];
    for (std::size_t lane = 1; lane < kLanes; ++lane) {
        most = lanes[lane] > most ? lanes[lane] : most;
    }
    return most;
}

}  // namespace beetwright::num
