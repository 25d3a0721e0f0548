#include "base/exact_decimal.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

namespace beetwright {
namespace {

constexpr int kFractionBits = 52;
constexpr int kLeastExponent = -1074;

/// A whole number times a power of two.
struct Binary {
    std::uint64_t whole = 0;
    int exponent = 0;
};

Binary binary_of(double number) {
    const auto bits = std::bit_cast<std::uint64_t>(number);
    const auto fraction = bits & ((std::uint64_t{1} << kFractionBits) - 1);
    const auto exponent = static_cast<int>(bits >> kFractionBits);
    if (exponent == 0) {
        return {fraction, kLeastExponent};
    }
    return {fraction | (std::uint64_t{1} << kFractionBits), kLeastExponent + exponent - 1};
}

/// A whole number of any length, nine decimal digits to a limb, the least first.
class Limbs {
 public:
    explicit Limbs(std::uint64_t whole) {
        for (; whole != 0; whole /= kBase) {
            limbs_[count_++] = static_cast<std::uint32_t>(whole % kBase);
        }
    }
    void multiply(std::uint32_t factor) {
        std::uint64_t carried = 0;
        for (std::size_t i = 0; i < count_; ++i) {
            carried += std::uint64_t{limbs_[i]} * factor;
            limbs_[i] = static_cast<std::uint32_t>(carried % kBase);
            carried /= kBase;
        }
        for (; carried != 0; carried /= kBase) {
            limbs_[count_++] = static_cast<std::uint32_t>(carried % kBase);
        }
    }
    /// Times `base` to the power of `times`; `most` is the highest power of it in 32 bits.
    void multiply_by_power(std::uint32_t base, int times, int most) {
        while (times > 0) {
            std::uint32_t factor = 1;
            for (int i = 0; i < std::min(times, most); ++i) {
                factor *= base;
            }
            multiply(factor);
            times -= most;
        }
    }
    [[nodiscard]] std::string digits() const {
        std::string digits(kDigits * count_, '0');
        auto place = digits.rbegin();
        for (std::size_t i = 0; i < count_; ++i) {
            auto limb = limbs_[i];
            for (int digit = 0; digit < kDigits; ++digit, limb /= 10, ++place) {
                *place = static_cast<char>('0' + limb % 10);
            }
        }
        return digits;
    }

 private:
    static constexpr std::uint32_t kBase = 1'000'000'000;
    static constexpr int kDigits = 9;
    // The longest is 2^54 - 1 times 5^1075, of 768 digits.
    std::array<std::uint32_t, 88> limbs_{};
    std::size_t count_ = 0;
};

ExactDecimal trimmed(std::string digits, int point) {
    const auto first = std::min(digits.find_first_not_of('0'), digits.size());
    digits.erase(0, first);
    digits.erase(digits.find_last_not_of('0') + 1);
    const int shifted = digits.empty() ? 0 : point - static_cast<int>(first);
    return {std::move(digits), shifted};
}

ExactDecimal decimal_of(const Binary& binary) {
    Limbs limbs(binary.whole);
    limbs.multiply_by_power(2, binary.exponent, 31);
    // A half is five tenths.
    limbs.multiply_by_power(5, -binary.exponent, 13);
    auto digits = limbs.digits();
    const auto point = static_cast<int>(digits.size()) + std::min(binary.exponent, 0);
    return trimmed(std::move(digits), point);
}

/// Half-way to the next larger number.
ExactDecimal half_way_up(double number) {
    const auto [whole, exponent] = binary_of(number);
    return decimal_of({2 * whole + 1, exponent - 1});
}

int compare(const ExactDecimal& a, const ExactDecimal& b) {
    if (a.digits.empty() || b.digits.empty()) {
        return static_cast<int>(!a.digits.empty()) - static_cast<int>(!b.digits.empty());
    }
    return a.point != b.point ? a.point - b.point : a.digits.compare(b.digits);
}

bool is_even(double number) {
    return binary_of(number).whole % 2 == 0;
}

/// The digits cut off, and one added to the last where `is_up`.
ExactDecimal cut(const ExactDecimal& exact, std::size_t digits, bool is_up) {
    auto kept = "0" + exact.digits.substr(0, digits);
    if (is_up) {
        auto last = kept.rbegin();
        for (; *last == '9'; ++last) {
            *last = '0';
        }
        ++*last;
    }
    return trimmed(std::move(kept), exact.point + 1);
}

/// What is nearer to a number than to any other: between the ways half up and half down.
class Near {
 public:
    explicit Near(double number)
        : low_(half_way_up(std::nextafter(number, 0.0))),
          high_(half_way_up(number)),
          reach_(is_even(number) ? 1 : 0) {}
    [[nodiscard]] bool holds(const ExactDecimal& decimal) const {
        return compare(decimal, low_) > -reach_ && compare(decimal, high_) < reach_;
    }

 private:
    ExactDecimal low_;
    ExactDecimal high_;
    int reach_;  ///< 1 where half-way itself is rounded to this number, which is even
};

/// The nearest number, but for some units of its last place.
double about(const ExactDecimal& decimal) {
    constexpr int kKept = 17;
    double number = 0.0;
    const auto kept = decimal.digits.substr(0, kKept);
    for (const char digit : kept) {
        number = 10.0 * number + (digit - '0');
    }
    // In two steps, since the power alone may be beyond all numbers.
    const int tens = decimal.point - static_cast<int>(kept.size());
    const int half = tens / 2;
    return std::min(number * std::pow(10.0, half) * std::pow(10.0, tens - half),
                    std::numeric_limits<double>::max());
}

}  // namespace

ExactDecimal exact_decimal(double number) {
    return decimal_of(binary_of(number));
}

ExactDecimal rounded(const ExactDecimal& exact, int digits) {
    if (digits < 0) {
        return {};
    }
    const auto kept = static_cast<std::size_t>(digits);
    if (kept >= exact.digits.size()) {
        return exact;
    }
    const char next = exact.digits[kept];
    const bool is_half = next == '5' && kept + 1 == exact.digits.size();
    const bool is_odd = kept > 0 && (exact.digits[kept - 1] - '0') % 2 != 0;
    return cut(exact, kept, is_half ? is_odd : next >= '5');
}

ExactDecimal shortest_decimal(double number) {
    auto exact = exact_decimal(number);
    if (exact.digits.empty()) {
        return exact;
    }
    const Near near(number);
    ExactDecimal shortest;
    const auto will_do = [&](int digits) {
        shortest = rounded(exact, digits);
        if (!near.holds(shortest)) {
            // At a power of two there is less room below than above.
            shortest = cut(exact, static_cast<std::size_t>(digits), true);
        }
        return near.holds(shortest);
    };
    // Most numbers that were reckoned need 16 or 17 digits, most that were typed a few.
    constexpr int kEnough = 17;
    constexpr int kOften = 16;
    if (!will_do(kOften)) {
        return rounded(exact, kEnough);
    }
    for (int digits = 1; !will_do(digits); ++digits) {
    }
    return shortest;
}

double nearest_number(std::string_view digits, int exponent) {
    const auto decimal = trimmed(std::string(digits), exponent + static_cast<int>(digits.size()));
    constexpr int kBeyond = 310;
    constexpr int kNothing = -324;
    if (decimal.digits.empty() || decimal.point < kNothing) {
        return 0.0;
    }
    if (decimal.point > kBeyond) {
        return std::numeric_limits<double>::infinity();
    }
    // Ten to the power of 22 and whole numbers of 15 digits are doubles: one rounding is exact.
    constexpr int kExactTens = 22;
    constexpr std::size_t kExactDigits = 15;
    const int tens = decimal.point - static_cast<int>(decimal.digits.size());
    if (decimal.digits.size() <= kExactDigits && std::abs(tens) <= kExactTens) {
        double whole = 0.0;
        for (const char digit : decimal.digits) {
            whole = 10.0 * whole + (digit - '0');
        }
        double power = 1.0;
        for (int i = 0; i < std::abs(tens); ++i) {
            power *= 10.0;
        }
        return tens < 0 ? whole / power : whole * power;
    }
    double number = about(decimal);
    for (;;) {
        const double below = std::nextafter(number, 0.0);
        const int up = compare(decimal, half_way_up(number));
        if (up > 0 || (up == 0 && !is_even(number))) {
            number = std::nextafter(number, std::numeric_limits<double>::infinity());
        } else if (const int down = number > 0.0 ? compare(decimal, half_way_up(below)) : 1;
                   down < 0 || (down == 0 && !is_even(number))) {
            number = below;
        } else {
            return number;
        }
        if (std::isinf(number)) {
            return number;
        }
    }
}

}  // namespace beetwright
