// What the browser writes and reads against the standard library's, digit by digit.
#include "base/number_text.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <string>
#include <vector>

#include "base/exact_text.hpp"

namespace beetwright {
namespace {

enum class As { fixed, general, scientific };

/// By the C library.
std::string printed(As form, int digits, double number) {
    std::string text(1200, '\0');
    const auto length = [&] {
        switch (form) {
            case As::fixed: return std::snprintf(text.data(), text.size(), "%.*f", digits, number);
            case As::general:
                return std::snprintf(text.data(), text.size(), "%.*g", digits, number);
            case As::scientific: break;
        }
        return std::snprintf(text.data(), text.size(), "%.*e", digits, number);
    };
    text.resize(static_cast<std::size_t>(length()));
    return text;
}

/// All kinds of doubles: any bits, numbers of few digits, halves, and the ends.
std::vector<double> numbers() {
    using Limits = std::numeric_limits<double>;
    std::vector<double> all{0.0,    -0.0,        0.5,    1.5,   2.5,   0.125, 0.375,
                            -0.625, 1e22,        1e23,   9.995, 99.95, 0.05,  1e-5,
                            1e-4,   123456789.0, 9.9999, 1e300, 5e-324};
    all.insert(all.end(), {Limits::max(), Limits::min(), Limits::denorm_min(), Limits::epsilon()});
    for (int power = -1074; power <= 1023; power += 7) {
        all.push_back(std::ldexp(1.0, power));
    }
    std::uint64_t state = 20311004;
    const auto next = [&] {
        state ^= state << 13U;
        state ^= state >> 7U;
        state ^= state << 17U;
        return state;
    };
    for (int i = 0; i < 20'000; ++i) {
        const auto any = std::bit_cast<double>(next());
        if (std::isfinite(any)) {
            all.push_back(any);
        }
        const auto few = static_cast<double>(next() % 2'000'000) - 1e6;
        all.push_back(few / 1000.0);
        all.push_back(few / 64.0);
        all.push_back(std::ldexp(static_cast<double>(next() >> 11U), -40));
    }
    return all;
}

TEST(NumberText, IsTheSameByExactDecimalsAsInPrint) {
    for (const double number : numbers()) {
        for (const int digits : {0, 1, 2, 4}) {
            const auto text = printed(As::fixed, digits, number);
            ASSERT_EQ(exact::fixed_text(number, digits), text);
            ASSERT_EQ(fixed_text(number, digits), text);
        }
        for (const int digits : {1, 4, 6, 12, 17}) {
            const auto text = printed(As::general, digits, number);
            ASSERT_EQ(exact::general_text(number, digits), text);
            ASSERT_EQ(general_text(number, digits), text);
            const auto scientific = printed(As::scientific, digits - 1, number);
            ASSERT_EQ(exact::scientific_text(number, digits), scientific);
            ASSERT_EQ(scientific_text(number, digits), scientific);
        }
    }
}

TEST(NumberText, ShortestIsNoLongerThanTheLibrarysAndReadsBackTheSame) {
    for (const double number : numbers()) {
        const auto text = exact::shortest_scientific_text(number);
        ASSERT_EQ(text, shortest_scientific_text(number));
        ASSERT_EQ(exact::shortest_text(number), shortest_text(number));
        ASSERT_EQ(std::bit_cast<std::uint64_t>(std::strtod(text.c_str(), nullptr)),
                  std::bit_cast<std::uint64_t>(number))
            << text;
    }
}

TEST(NumberText, ReadsTheNearestNumber) {
    std::vector<std::string> texts{"0", "-0", "1e400", "-1e400", "1e-400", "00012.50", ".5", "5.",
                                   "1e-999999999999", "1E+5", "0e999999999999",
                                   // Half-way between two numbers, and a little beyond.
                                   "9007199254740993", "9007199254740993.0000000000000000000001",
                                   "9007199254740995", "2.4703282292062327e-324",
                                   "2.4703282292062328e-324", "1.7976931348623157e308",
                                   "1.7976931348623159e308", "2.2250738585072011e-308"};
    for (const double number : numbers()) {
        for (const int digits : {3, 15, 16, 17, 20, 40}) {
            texts.push_back(printed(As::scientific, digits, number));
        }
    }
    for (const auto& text : texts) {
        const double right = std::strtod(text.c_str(), nullptr);
        ASSERT_EQ(std::bit_cast<std::uint64_t>(exact::read_number(text)),
                  std::bit_cast<std::uint64_t>(right))
            << text;
        ASSERT_EQ(read_number(text), right) << text;
    }
}

TEST(NumberText, WhatIsNoNumberIsSaidToBeNone) {
    EXPECT_EQ(exact::fixed_text(std::nan(""), 2), "nan");
    EXPECT_EQ(exact::general_text(-HUGE_VAL, 6), "-inf");
    EXPECT_EQ(fixed_text(HUGE_VAL, 2), "inf");
}

TEST(NumberText, WholeNumbersArePaddedWithZeros) {
    EXPECT_EQ(padded_text(7, 3), "007");
    EXPECT_EQ(padded_text(2031, 4), "2031");
    EXPECT_EQ(padded_text(-5, 4), "-005");
    EXPECT_EQ(padded_text(12345, 2), "12345");
}

}  // namespace
}  // namespace beetwright
