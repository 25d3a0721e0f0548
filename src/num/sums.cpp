#include "num/sums.hpp"

#include "num/wide.hpp"

namespace beetwright::num {
namespace {

constexpr std::size_t kLanes = 8;

double total(const double* lanes) {
    return ((lanes[0] + lanes[4]) + (lanes[2] + lanes[6])) +
           ((lanes[1] + lanes[5]) + (lanes[3] + lanes[7]));
}

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
    return total(lanes);
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
    Greatest greatest{.size = most[0], .sum = total(sums)};
    for (std::size_t lane = 1; lane < kLanes; ++lane) {
        greatest.size = most[lane] > greatest.size ? most[lane] : greatest.size;
    }
    return greatest;
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
