#include "weather/joined.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::weather {
namespace {

using std::chrono::hours;

bool is_temperature(Element element) {
    return element == Element::air || element == Element::dew_point;
}

bool alike(double a, double b, Element element) {
    constexpr double kTemperature_K = 0.05;
    constexpr double kShare = 0.01;
    constexpr double kLittle = 0.06;  // half of the last digit that stations print of rain and wind
    const double most = is_temperature(element)
                            ? kTemperature_K
                            : std::max(kLittle, kShare * std::max(std::abs(a), std::abs(b)));
    return std::abs(a - b) <= most;
}

class Joining {
 public:
    Joining(const Series& before, const Series& after) : before_(before), after_(after) {}

    Result<Series> run() {
        must_be_of_one_place();
        must_measure_the_same();
        if (!problems_.empty()) {
            return problems_;
        }
        offset_ = (after_.begin - before_.begin) / hours(1);
        if (offset_ < 0) {
            fail("it begins on " + local_text(after_.begin, after_.clock) +
                     ", before what the season has, which begins on " +
                     local_text(before_.begin, before_.clock),
                 "let it take the place of all that is there");
            return problems_;
        }
        const auto gap = offset_ - static_cast<std::int64_t>(before_.hours.size());
        if (gap > std::int64_t{kLongestFilled_h}) {
            const Instant end = before_.begin_of(before_.hours.size());
            fail("what the season has ends on " + local_text(end, before_.clock) +
                     ", and this begins on " + local_text(after_.begin, after_.clock) + ": " +
                     std::to_string(gap) + " h are missing",
                 "bring the hours between first, or with it; gaps of up to 3 h are filled");
            return problems_;
        }
        must_agree();
        if (!problems_.empty()) {
            return problems_;
        }
        return append(gap);
    }

 private:
    void fail(std::string what, std::string fix) {
        problems_.push_back({ProblemKind::conflict, {}, std::move(what), std::move(fix)});
    }
    void must_be_of_one_place() {
        constexpr double kNear_rad = 0.02 * kDegree;
        const auto& a = before_.place;
        const auto& b = after_.place;
        if (std::abs(a.latitude_rad - b.latitude_rad) > kNear_rad ||
            std::abs(a.longitude_rad - b.longitude_rad) > kNear_rad) {
            fail("it is of another place than what the season has",
                 "weather of one season is measured at one place; let it take the place of all "
                 "that is there");
        }
    }
    void must_measure_the_same() {
        for (std::size_t e = 0; e < kElements; ++e) {
            const auto element = static_cast<Element>(e);
            if (before_.has(element) != after_.has(element)) {
                const std::string word(words_of(element));
                fail(before_.has(element) ? "it has no " + word + ", as the season's weather has"
                                          : "it has " + word + ", which the season's weather lacks",
                     "bring all of the season's weather in one file, or leave the column out");
            }
        }
    }
    void must_agree() {
        for (std::size_t k = 0; k < after_.hours.size(); ++k) {
            const auto there = static_cast<std::size_t>(offset_) + k;
            if (there >= before_.hours.size()) {
                return;
            }
            for (std::size_t e = 0; e < kElements; ++e) {
                const auto element = static_cast<Element>(e);
                if (before_.has(element) &&
                    !alike(before_.at(there, element), after_.at(k, element), element)) {
                    fail("from " + local_text(after_.begin_of(k), after_.clock) +
                             " on it has another " + std::string(words_of(element)) +
                             " than the season has for the same hours",
                         "cut what is known already, or let it take the place of all that is "
                         "there");
                    return;
                }
            }
        }
    }
    Series append(std::int64_t gap) {
        Series all = before_;
        const Hour last = all.hours.back();
        for (std::int64_t k = 1; k <= gap; ++k) {
            Hour between = unknown_hour();
            const double share = static_cast<double>(k) / static_cast<double>(gap + 1);
            for (std::size_t e = 0; e < kElements; ++e) {
                const double first = last[e];
                const double second = after_.hours.front()[e];
                // As within a series: rain goes on only where it rained at both ends.
                const bool is_dry =
                    static_cast<Element>(e) == Element::rain && (first == 0.0 || second == 0.0);
                between[e] = is_dry ? 0.0 : std::lerp(first, second, share);
            }
            all.filled.push_back(static_cast<std::uint32_t>(all.hours.size()));
            all.hours.push_back(between);
        }
        for (std::size_t k = 0; k < after_.hours.size(); ++k) {
            if (offset_ + static_cast<std::int64_t>(k) ==
                static_cast<std::int64_t>(all.hours.size())) {
                if (std::ranges::binary_search(after_.filled, k)) {
                    all.filled.push_back(static_cast<std::uint32_t>(all.hours.size()));
                }
                all.hours.push_back(after_.hours[k]);
            }
        }
        return all;
    }

    const Series& before_;
    const Series& after_;
    std::int64_t offset_ = 0;
    Problems problems_;
};

}  // namespace

Result<Series> joined(const Series& before, const Series& after) {
    return Joining(before, after).run();
}

}  // namespace beetwright::weather
