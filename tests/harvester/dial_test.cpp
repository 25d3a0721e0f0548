// Displays' own numbers: there and back, in order, nearest steps, and points that contradict.
#include "harvester/dial.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/quantity.hpp"
#include "base/random.hpp"
#include "harvester/machine.hpp"

namespace beetwright::harvester {
namespace {

const Control kDepth = *ready_made(MachineKind::two_stage).find("share.depth");  // 50 to 120 mm
constexpr double kMm = unit::mm.si();

Dial dial(double step, std::vector<DialPoint> points, const Control& control = kDepth) {
    auto made = Dial::make(control, step, std::move(points));
    EXPECT_TRUE(made.ok()) << made.problems().front().text();
    return *std::move(made);
}
std::string refused(double step, std::vector<DialPoint> points, const Control& control = kDepth) {
    const auto made = Dial::make(control, step, std::move(points));
    EXPECT_FALSE(made.ok());
    std::string text;
    if (!made) {
        for (const auto& problem : made.problems()) {
            text += (text.empty() ? "" : "\n") + problem.text();
        }
    }
    return text;
}

// 4 is 60 mm and 8 is 80 mm: 5 mm a number.
TEST(Dial, ReadsBetweenTwoPoints) {
    const auto two = dial(1.0, {{8.0, 80 * kMm}, {4.0, 60 * kMm}});
    EXPECT_NEAR(two.from_shown(6.0)->actual, 70 * kMm, 1e-12);
    EXPECT_NEAR(two.from_actual(62.5 * kMm)->shown, 4.5, 1e-12);
    EXPECT_EQ(two.nearest_step(61 * kMm)->shown, 4.0);
    EXPECT_EQ(two.nearest_step(64 * kMm)->shown, 5.0);
    EXPECT_FALSE(two.runs_backwards());
}

TEST(Dial, MayRunBackwardsAndBend) {
    const auto bent = dial(5.0, {{10.0, 110 * kMm}, {20.0, 90 * kMm}, {40.0, 70 * kMm}});
    EXPECT_TRUE(bent.runs_backwards());
    EXPECT_NEAR(bent.from_shown(15.0)->actual, 100 * kMm, 1e-12);  // 2 mm a number
    EXPECT_NEAR(bent.from_shown(30.0)->actual, 80 * kMm, 1e-12);   // 1 mm a number
    EXPECT_NEAR(bent.from_actual(100 * kMm)->shown, 15.0, 1e-12);
    EXPECT_NEAR(bent.from_actual(80 * kMm)->shown, 30.0, 1e-12);
    EXPECT_EQ(bent.nearest_step(88 * kMm)->shown, 20.0);
    // As near to 20 as to 25: the lower number.
    EXPECT_EQ(bent.nearest_step(87.5 * kMm)->shown, 20.0);
}

TEST(Dial, GoesOneStepBeyondItsPointsAndSaysSo) {
    const auto two = dial(1.0, {{4.0, 60 * kMm}, {8.0, 80 * kMm}});
    EXPECT_EQ(two.from_shown(8.0)->footing, DialFooting::between_points);
    EXPECT_EQ(two.from_shown(8.5)->footing, DialFooting::beyond_points);
    EXPECT_NEAR(two.from_shown(9.0)->actual, 85 * kMm, 1e-12);
    EXPECT_EQ(two.from_actual(85 * kMm)->footing, DialFooting::beyond_points);
    EXPECT_EQ(two.nearest_step(84 * kMm)->shown, 9.0);
    EXPECT_EQ(two.nearest_step(84 * kMm)->footing, DialFooting::beyond_points);
    EXPECT_EQ(two.nearest_step(82 * kMm)->footing, DialFooting::between_points);
    EXPECT_NEAR(two.from_shown(3.0)->actual, 55 * kMm, 1e-12);
    EXPECT_FALSE(two.from_shown(9.01).ok());
    EXPECT_FALSE(two.from_shown(2.9).ok());
    EXPECT_FALSE(two.nearest_step(86 * kMm).ok());
    EXPECT_EQ(two.from_shown(12.0).problems().front().text(),
              "share.depth: 12 on the display is outside what was measured, 4 to 8 for 60 mm to 80 "
              "mm. measure a point there, if the machine goes so far");
    EXPECT_EQ(
        two.from_actual(100 * kMm).problems().front().text(),
        "share.depth: 100 mm is outside what was measured, 4 to 8 for 60 mm to 80 mm. measure "
        "a point there, if the machine goes so far");
    EXPECT_FALSE(two.from_shown(std::nan("")).ok());
    EXPECT_FALSE(two.from_actual(INFINITY).ok());
    EXPECT_FALSE(two.nearest_step(std::nan("")).ok());
}

TEST(Dial, NeverGoesBeyondTheMachine) {
    // The next number would be 125 mm, the machine ends at 120.
    const auto to_the_end = dial(1.0, {{4.0, 85 * kMm}, {7.0, 115 * kMm}});
    EXPECT_FALSE(to_the_end.from_shown(8.0).ok());
    EXPECT_TRUE(to_the_end.from_shown(7.5).ok());
    EXPECT_EQ(to_the_end.nearest_step(120 * kMm)->shown, 7.0);
}

// 2,000 dials of two to six points, rising or falling, seed 81: there and back, order, steps.
TEST(Dial, GoesThereAndBackInOrder) {
    for (std::uint64_t which = 0; which < 2000; ++which) {
        RandomStream random(81, "dials", which);
        const double step = std::pow(10.0, 3.0 * random.uniform() - 2.0);
        const double first = std::round(200.0 * random.uniform() - 100.0) * step;
        const std::size_t count = 2 + random.below(5);
        std::set<int> places{0};
        while (places.size() < count) {
            places.insert(1 + static_cast<int>(random.below(60)));
        }
        std::vector<double> actual;
        while (actual.size() < count) {
            actual.push_back((50.0 + 70.0 * random.uniform()) * kMm);
        }
        std::ranges::sort(actual);
        if (random.chance(0.5)) {
            std::ranges::reverse(actual);
        }
        std::vector<DialPoint> points;
        for (const int place : places) {
            points.push_back({first + place * step, actual[points.size()]});
        }
        const auto made = dial(step, points);
        for (const auto& point : points) {
            EXPECT_EQ(made.from_shown(point.shown)->actual, point.actual) << which;
            EXPECT_EQ(made.from_actual(point.actual)->shown, point.shown) << which;
        }
        const double low = points.front().shown, high = points.back().shown;
        double before = made.from_shown(low)->actual;
        for (int i = 1; i <= 50; ++i) {
            const double shown = low + (high - low) * i / 50.0;
            const double meant = made.from_shown(std::min(shown, high))->actual;
            EXPECT_EQ(meant < before, made.runs_backwards()) << which;
            EXPECT_NE(meant, before) << which;
            before = meant;
            // What rounding leaves of a number grows with the ratio of slopes, not with the step.
            const auto back = made.from_actual(meant);
            ASSERT_TRUE(back.ok()) << which;
            EXPECT_NEAR(made.from_shown(std::clamp(back->shown, low, high))->actual, meant,
                        1e-12 * 0.12)
                << which;
        }
        const int steps = *places.rbegin();
        for (int s = 0; s <= steps; ++s) {
            const double shown = first + s * step;
            const auto meant = made.from_shown(shown);
            ASSERT_TRUE(meant.ok()) << which;
            EXPECT_NEAR(made.nearest_step(meant->actual)->shown, shown, 1e-9 * step * 1000)
                << which;
        }
        // No other step is nearer to what was wanted.
        const double wanted = actual.front() + (actual.back() - actual.front()) * random.uniform();
        const auto nearest = made.nearest_step(wanted);
        ASSERT_TRUE(nearest.ok()) << which;
        for (int s = 0; s <= steps; ++s) {
            const auto other = made.from_shown(first + s * step);
            EXPECT_GE(std::abs(other->actual - wanted),
                      std::abs(nearest->actual - wanted) * (1.0 - 1e-6) - 1e-12)
                << which;
        }
    }
}

TEST(Dial, RefusesTooLittle) {
    EXPECT_EQ(refused(1.0, {}),
              "share.depth: no point was measured. measure at two of the display's numbers, far "
              "apart");
    EXPECT_EQ(
        refused(1.0, {{4.0, 0.06}}),
        "share.depth: one point says too little. measure at two of the display's numbers, far "
        "apart");
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {4.0, 0.06}}), refused(1.0, {{4.0, 0.06}}));
    EXPECT_EQ(dial(1.0, {{4.0, 0.06}, {4.0, 0.06}, {6.0, 0.07}}).points().size(), 2U);
}

TEST(Dial, RefusesPointsThatContradict) {
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {4.0, 0.07}, {8.0, 0.08}}),
              "share.depth: 4 stands for 60 mm and for 70 mm. measure it again and keep one");
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {8.0, 0.06}}),
              "share.depth: 4 and 8 both stand for 60 mm. measure both again");
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {6.0, 0.08}, {8.0, 0.07}}),
              "share.depth: from 4 to 6 it rises, on to 8 it falls. measure 6 again");
    EXPECT_EQ(refused(1.0, {{4.0, 0.08}, {6.0, 0.06}, {8.0, 0.07}}),
              "share.depth: from 4 to 6 it falls, on to 8 it rises. measure 6 again");
}

TEST(Dial, RefusesWhatCannotBe) {
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {8.0, 0.2}}),
              "share.depth: at 8 stands 200 mm, outside what this machine can. it goes from 50 mm "
              "to 120 mm: measure again, or correct the machine");
    EXPECT_EQ(refused(1.0, {{4.0, 0.06}, {6.5, 0.08}}),
              "share.depth: 6.5 is no whole number of steps of 1 from 4. correct the point or the "
              "step");
    EXPECT_EQ(refused(0.0, {{4.0, 0.06}, {8.0, 0.08}}),
              "share.depth: a display's step of 0 cannot be. give the smallest change that it "
              "shows");
    EXPECT_EQ(refused(std::nan(""), {{4.0, 0.06}, {8.0, 0.08}}),
              "share.depth: a display's step of nan cannot be. give the smallest change that it "
              "shows");
    EXPECT_EQ(refused(1.0, {{NAN, 0.06}, {8.0, INFINITY}}),
              "share.depth: a point is not two numbers. give the display's number and what was "
              "measured\nshare.depth: a point is not two numbers. give the display's number and "
              "what was measured");
    const auto guard = *ready_made(MachineKind::six_row_turbines).find("turbine_1.guard");
    EXPECT_EQ(refused(1.0, {{0.0, 0.0}, {1.0, 1.0}}, guard),
              "turbine_1.guard: this is chosen, not measured. leave its points out");
    // 0.1 has no end in binary: thirty steps of it are still a whole number of them.
    EXPECT_EQ(dial(0.1, {{0.3, 0.06}, {3.3, 0.08}}).nearest_step(0.08)->shown, 3.3);
}

}  // namespace
}  // namespace beetwright::harvester
