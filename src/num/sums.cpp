#include "num/sums.hpp"

#include "num/lanes.hpp"
#include "num/wide.hpp"

namespace beetwright::num {
namespace {

BEETWRIGHT_WIDE
double sum_of(const double* v, std::size_t begin, std::size_t end) {
    double lanes[kLanes] = {};
    std::size_t i = begin;
    for (; i + kLanes <= end; i += kLanes) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            lanes[lane] += v[i + lane];
        }
    }
    for (; i < end; ++i) {
        lanes[0] += v[i];
    }
    return sum_of_lanes(lanes);
}

BEETWRIGHT_WIDE
Greatest greatest_of(const double* v, std::size_t begin, std::size_t end) {
    double sums[kLanes] = {};
    double most[kLanes] = {};
    std::size_t i = begin;
    for (; i + kLanes <= end; i += kLanes) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            const double size = v[i + lane] < 0.0 ? -v[i + lane] : v[i + lane];
            sums[lane] += size;
            most[lane] = size > most[lane] ? size : most[lane];
        }
    }
    for (; i < end; ++i) {
        const double size = v[i] < 0.0 ? -v[i] : v[i];
        sums[0] += size;
        most[0] = size > most[0] ? size : most[0];
    }
    return {.size = greatest_of_lanes(most), .sum = sum_of_lanes(sums)};
}

}  // namespace

double sum(const Box& box, std::span<const double> v) {
    return sum_of(v.data(), box.begin(), box.end());
}

double sum_of_sizes(const Box& box, std::span<const double> v) {
    return greatest(box, v).sum;
}

Greatest greatest(const Box& box, std::span<const double> v) {
    return greatest_of(v.data(), box.begin(), box.end());
}

}  // namespace beetwright::num
