// Sums over the beets of each spot, the unit by which people look: ten beets picked up at one place
// are alike, so a hundred beets from ten spots prove less than a hundred from a hundred.
#pragma once

#include <cmath>
#include <map>
#include <span>
#include <vector>

#include "check/sheet.hpp"

namespace beetwright::check {

/// One spot's sum of something judged on each beet.
struct SpotSum {
    double n = 0.0;  ///< beets judged
    double sum = 0.0;
    double sum_squares = 0.0;
    double positive = 0.0;  ///< beets on which it was more than nothing

    void add(double value) {
        n += 1.0;
        sum += value;
        sum_squares += value * value;
        positive += value > 0.0 ? 1.0 : 0.0;
    }
};

/// The sum of `measure` over the beets of each spot of one sheet, in order of spot number.
/// `measure` takes a CountedBeet and gives a number, or NaN for a beet on which this was not
/// judged.
template <class Measure>
std::vector<SpotSum> spot_sums(std::span<const CountedBeet> beets, Measure&& measure) {
    std::map<std::int32_t, SpotSum> by_spot;
    for (const CountedBeet& beet : beets) {
        const double value = measure(beet);
        if (!std::isnan(value)) {
            by_spot[beet.spot].add(value);
        }
    }
    std::vector<SpotSum> spots;
    spots.reserve(by_spot.size());
    for (const auto& [number, sum] : by_spot) {
        spots.push_back(sum);
    }
    return spots;
}

/// The sum of all spots.
SpotSum total(std::span<const SpotSum> spots);

}  // namespace beetwright::check
