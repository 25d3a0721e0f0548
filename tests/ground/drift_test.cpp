#include "ground/drift.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "driven.hpp"

namespace beetwright::ground {
namespace {

struct Compared {
    Drift drift;
    double left_m = 0.0;  ///< root mean square of what is not seen, from one pass to the next
    double was_m = 0.0;   ///< of the drift itself
};

// What makes stripes is how the drift differs from a pass to the one beside it. What goes slower,
// over many passes, looks like a ridge along them, and nothing tells it from one: it is left to the
// ground.
Compared compared(const Drive& how) {
    const auto track = driven(how);
    const auto cleaned = clean(track, *plane_of(track));
    Compared all{drift_of(cleaned->samples, how.spacing_m)};
    const double pass_s = how.length_m / how.speed_m_s;
    double count = 0.0;
    for (double since = 0.0; since + pass_s < all.drift.since_s.back(); since += 30.0) {
        const double truth = how.drift(since + pass_s) - how.drift(since);
        const double off = all.drift.at(since + pass_s) - all.drift.at(since) - truth;
        all.left_m += off * off;
        all.was_m += truth * truth;
        count += 1.0;
    }
    all.left_m = std::sqrt(all.left_m / count);
    all.was_m = std::sqrt(all.was_m / count);
    return all;
}

double hills(const Point& at) {
    return 150.0 + 0.03 * at.east_m +
           2.0 * std::sin(at.east_m / 60.0) * std::cos(at.north_m / 45.0);
}

// A drift that comes and goes within some passes is what makes stripes: nine tenths of it are seen.
TEST(Drift, StripesOnHillsAreSeenForWhatTheyAre) {
    Drive how;
    how.height = hills;
    how.noise_m = 0.05;
    how.drift = [](double since_s) {
        return 0.4 * std::sin(2.0 * M_PI * since_s / 1500.0) + 0.2 * std::sin(since_s / 130.0);
    };
    const auto found = compared(how);
    EXPECT_GT(found.was_m, 0.25);
    EXPECT_LT(found.left_m, 0.2 * found.was_m);
}

TEST(Drift, WhereThereIsNoneNoneIsSeen) {
    Drive how;
    how.height = hills;
    const auto found = compared(how);
    EXPECT_LT(found.left_m, 0.005);
}

// A slope across the passes looks like a drift that grows from pass to pass: it is left to the
// ground.
TEST(Drift, ASlopeAcrossThePassesStaysASlope) {
    Drive how;
    how.height = [](const Point& at) { return 150.0 + 0.05 * at.north_m; };
    how.direction_rad = 0.0;
    const auto found = compared(how);
    EXPECT_LT(found.left_m, 0.005);
}

TEST(Drift, ATrackThatNeverMeetsItselfTellsNothing) {
    Drive how;
    how.breadth_m = 3.0;
    const auto track = driven(how);
    const auto cleaned = clean(track, *plane_of(track));
    ASSERT_TRUE(cleaned.ok());
    const auto drift = drift_of(cleaned->samples, 3.0);
    EXPECT_TRUE(drift.since_s.empty());
    EXPECT_EQ(drift.at(100.0), 0.0);
}

}  // namespace
}  // namespace beetwright::ground
