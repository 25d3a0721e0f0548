// The fit of a curve to years that were dug, in cases with a closed form.
#include "crop/sampling_fit.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace beetwright::crop {
namespace {

constexpr std::array kOnALine{TwoDigs{10.0, 7.0}, TwoDigs{20.0, 11.0}, TwoDigs{30.0, 15.0},
                              TwoDigs{40.0, 19.0}};
/// Believed firmly enough to matter, and hardly any scatter thought usual.
constexpr UsualCourse kLittleScatter{0.9, 0.3, 1e-4, 2.0};

// y = 3 + 0.4 x, mean x 25: a year of the mean start ends at 13.
TEST(FitYears, FindsALineThatHasNoScatter) {
    const auto course = fit_years({kOnALine, {}, {}}, kLittleScatter, {});
    EXPECT_NEAR(course.persistence, 0.4, 1e-6);
    EXPECT_NEAR(course.start, 25.0, 1e-12);
    EXPECT_NEAR(course.gain, 13.0 - 25.0, 1e-4);
    // Variance of 10, 20, 30, 40: 166.67; t(0.95) of 3 degrees of freedom 2.353 (table).
    EXPECT_NEAR(course.start_sd, std::sqrt(166.667 * 1.25) * 2.353 / 1.645, 0.02);
    EXPECT_LT(course.gain_sd, 1e-3);
}

// One more year dug only in August, with a start of 30: the mean start is 26, and the line is there
// at 13.4.
TEST(FitYears, TakesTheLineToTheMeanOfAllStarts) {
    const std::array only_first{30.0};
    const auto course = fit_years({kOnALine, only_first, {}}, kLittleScatter, {});
    EXPECT_NEAR(course.start, 26.0, 1e-12);
    EXPECT_NEAR(course.start + course.gain, 13.4, 1e-4);
}

// A firm belief wins over two years, and the other way round.
TEST(FitYears, WeighsBeliefAgainstYears) {
    const std::array two{TwoDigs{0.0, 0.0}, TwoDigs{1.0, 0.0}};
    // Sum of squares 0.5, scatter 1: precision of the years 0.5, of the belief 1/0.5^2 = 4.
    const auto course = fit_years({two, {}, {}}, {0.9, 0.5, 1.0, 2.0}, {});
    // Nothing differs on the second digging, so nothing can have lasted.
    EXPECT_EQ(course.persistence, 0.0);
    const std::array only_second{-5.0, 5.0};
    const auto free = fit_years({two, {}, only_second}, {0.9, 0.5, 1.0, 2.0}, {});
    EXPECT_NEAR(free.persistence, 0.9 * 4.0 / 4.5, 1e-12);
}

// Second diggings of variance 0.02 against 0.5 of the first ones: at most a fifth lasted.
TEST(FitYears, LetsNoMoreLastThanTheSecondDiggingsDiffer) {
    const std::array two{TwoDigs{0.0, 0.0}, TwoDigs{1.0, 0.2}};
    const auto course = fit_years({two, {}, {}}, {1.0, 0.01, 1.0, 2.0}, {});
    EXPECT_NEAR(course.persistence, 0.2, 1e-12);
}

// Where nothing lasts, years dug once in October count as much as those dug twice: the plain mean
// of 7, 11, 15, 19, 30 and 38 is 20.
TEST(FitYears, CountsYearsDugOnlyInOctober) {
    const std::array only_second{30.0, 38.0};
    const auto course = fit_years({kOnALine, {}, only_second}, {0.0, 1e-9, 1.0, 2.0}, {});
    EXPECT_NEAR(course.persistence, 0.0, 1e-6);
    EXPECT_NEAR(course.start + course.gain, 20.0, 1e-4);
}

}  // namespace
}  // namespace beetwright::crop
