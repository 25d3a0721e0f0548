#include "weather/series.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/number_text.hpp"
#include "base/sorted.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::hours;

constexpr std::array<std::string_view, kElements> kWords{"temperature of the air",
                                                         "dew point",
                                                         "humidity",
                                                         "pressure",
                                                         "wind",
                                                         "rain",
                                                         "sunshine",
                                                         "direct sunshine",
                                                         "diffuse sunshine",
                                                         "infra-red of the sky",
                                                         "cloud",
                                                         "snow"};

constexpr const char* kMendGap =
    "gaps of up to 3 h are filled; cut the file there, fill it from a neighbouring station, or "
    "leave "
    "the column out";
static_assert(kLongestFilled_h == 3, "as kMendGap says");

bool is_known(double value) {
    return !std::isnan(value);
}

class Assembly {
 public:
    Assembly(const std::vector<Record>& records, const SourceFacts& facts)
        : records_(records), facts_(facts) {}

    Result<Series> run() {
        if (records_.empty()) {
            fail(0, "", "there are no rows", "a series needs two hours at least");
            return problems_;
        }
        series_.name = facts_.name;
        series_.place = facts_.place;
        series_.clock = facts_.clock;
        check_order();
        if (!problems_.empty()) {
            return problems_;
        }
        lay_out();
        for (std::size_t e = 0; e < kElements; ++e) {
            fill(static_cast<Element>(e));
        }
        if (problems_.empty()) {
            suspect_fahrenheit();
            suspect_hemisphere();
        }
        if (!problems_.empty()) {
            return problems_;
        }
        if (facts_.stamp == Stamp::instant) {
            instants_to_hours();
        }
        sort_list(series_.filled);
        const auto twice = std::ranges::unique(series_.filled);
        series_.filled.erase(twice.begin(), twice.end());
        return std::move(series_);
    }

 private:
    void fail(int line, std::string field, std::string what, std::string fix) {
        problems_.push_back({ProblemKind::input,
                             {.file = facts_.file, .line = line, .field = std::move(field)},
                             std::move(what),
                             std::move(fix)});
    }

    void check_order() {
        constexpr std::size_t kMostTold = 20;
        for (std::size_t k = 0; k < records_.size() && problems_.size() < kMostTold; ++k) {
            const auto& record = records_[k];
            if (record.at != std::chrono::floor<hours>(record.at + facts_.clock) - facts_.clock) {
                fail(record.line, "",
                     "this row is of " + local_text(record.at, facts_.clock) +
                         ", not of a full hour",
                     "give a row for each full hour");
                continue;
            }
            if (k == 0) {
                continue;
            }
            const auto step = record.at - records_[k - 1].at;
            if (step == hours(0)) {
                fail(
                    record.line, "", local_text(record.at, facts_.clock) + " stands twice",
                    "leave one out; if the clock was set back here, write the offset from UTC with "
                    "each time, or use one clock all year");
            } else if (step < hours(0)) {
                fail(record.line, "",
                     local_text(record.at, facts_.clock) + " comes after " +
                         local_text(records_[k - 1].at, facts_.clock),
                     "put the rows in the order of time; two series do not fit in one file");
            } else if (step > hours(kLongestFilled_h + 1)) {
                const auto end = records_[k - 1].at + hours(1);
                fail(record.line, "",
                     "there are no rows from " + local_text(end, facts_.clock) + " to " +
                         local_text(record.at, facts_.clock) + " (" +
                         std::to_string((record.at - end) / hours(1)) + " h)",
                     kMendGap);
            }
        }
    }

    /// One hour after another, those that no row is of without values.
    void lay_out() {
        const auto first = records_.front().at;
        const auto count = static_cast<std::size_t>((records_.back().at - first) / hours(1)) + 1;
        series_.begin = facts_.stamp == Stamp::hour_ending ? first - hours(1) : first;
        series_.hours.assign(count, unknown_hour());
        lines_.assign(count, 0);
        joins_.assign(count, false);
        for (const auto& record : records_) {
            const auto hour = static_cast<std::size_t>((record.at - first) / hours(1));
            series_.hours[hour] = record.values;
            lines_[hour] = record.line;
            joins_[hour] = record.is_join;
        }
    }

    double& value(std::size_t hour, Element element) {
        return series_.hours[hour][static_cast<std::size_t>(element)];
    }

    /// Fills the short gaps of an element and refuses the long ones.
    void fill(Element element) {
        const std::size_t count = series_.hours.size();
        std::size_t known = 0;
        for (std::size_t k = 0; k < count; ++k) {
            known += is_known(value(k, element)) ? 1U : 0U;
        }
        if (known == 0) {
            if (element == Element::air) {
                fail(0, "temperature", "no row has a temperature",
                     "the hours cannot be judged without");
            }
            return;
        }
        for (std::size_t k = 0; k < count;) {
            if (is_known(value(k, element))) {
                ++k;
                continue;
            }
            std::size_t end = k;
            while (end < count && !is_known(value(end, element))) {
                ++end;
            }
            const bool is_at_an_end = k == 0 || end == count;
            if (is_at_an_end || end - k > kLongestFilled_h || has_join(k, end)) {
                tell_gap(element, k, end);
            } else {
                bridge(element, k, end);
            }
            k = end;
        }
    }

    /// Whether a month of another year begins in these hours or right after them.
    [[nodiscard]] bool has_join(std::size_t from, std::size_t end) const {
        return std::any_of(joins_.begin() + static_cast<std::ptrdiff_t>(from),
                           joins_.begin() + static_cast<std::ptrdiff_t>(end) + 1,
                           [](bool is_join) { return is_join; });
    }

    void tell_gap(Element element, std::size_t from, std::size_t end) {
        const std::string words(words_of(element));
        const auto at = [&](std::size_t hour) {
            return local_text(series_.begin_of(hour), facts_.clock);
        };
        fail(lines_[from], "",
             words + " is missing from " + at(from) + " to " + at(end) + " (" +
                 std::to_string(end - from) + " h)",
             kMendGap);
    }

    void bridge(Element element, std::size_t from, std::size_t end) {
        const double before = value(from - 1, element);
        const double after = value(end, element);
        for (std::size_t k = from; k < end; ++k) {
            const double share =
                static_cast<double>(k - from + 1) / static_cast<double>(end - from + 1);
            // What fell while nobody looked is not known; between dry hours it was most likely
            // none.
            value(k, element) = element == Element::rain && (before == 0.0 || after == 0.0)
                                    ? 0.0
                                    : before + share * (after - before);
            series_.filled.push_back(static_cast<std::uint32_t>(k));
        }
    }

    /// Nowhere on earth where beet grows has an hour above 57 °C, or a month above 38 °C.
    void suspect_fahrenheit() {
        constexpr double kHottest_K = 273.15 + 57.0;
        constexpr double kHotMonth_K = 273.15 + 38.0;
        constexpr std::size_t kMonth_h = 720;
        const std::size_t count = series_.hours.size();
        double sum = 0.0;
        for (std::size_t k = 0; k < count; ++k) {
            sum += value(k, Element::air);
            const bool is_hot_hour = value(k, Element::air) > kHottest_K;
            bool is_hot_month = false;
            if (k + 1 >= kMonth_h) {
                if (k >= kMonth_h) {
                    sum -= value(k - kMonth_h, Element::air);
                }
                is_hot_month = sum / kMonth_h > kHotMonth_K;
            }
            if (is_hot_hour || is_hot_month) {
                fail(lines_[k], "temperature",
                     fixed_text(value(k, Element::air) - 273.15, 1) +
                         " °C: these temperatures look as if they were °F",
                     "write the unit that they are in: [°F] in place of [°C]");
                return;
            }
        }
    }

    void suspect_hemisphere() {
        constexpr double kTropics = 23.5 * kDegree;
        if (std::abs(facts_.place.latitude_rad) < kTropics) {
            return;
        }
        std::array<double, 13> sum{};
        std::array<int, 13> hours_of{};
        for (std::size_t k = 0; k < series_.hours.size(); ++k) {
            const std::chrono::year_month_day date(series_.day_of(k));
            const auto month = static_cast<unsigned>(date.month());
            sum[month] += value(k, Element::air);
            ++hours_of[month];
        }
        constexpr int kEnough_h = 24 * 20;
        if (hours_of[1] < kEnough_h || hours_of[7] < kEnough_h) {
            return;
        }
        const double summer = sum[7] / hours_of[7] - sum[1] / hours_of[1];
        constexpr double kClear_K = 3.0;
        if (summer * facts_.place.latitude_rad < 0.0 && std::abs(summer) > kClear_K) {
            fail(0, "latitude",
                 summer > 0.0 ? "July is the warm month here, and the latitude is south"
                              : "January is the warm month here, and the latitude is north",
                 "was the sign of the latitude lost? North is positive");
        }
    }

    /// The mean of an hour from what was at its two ends. Rain is given as fallen in the hour
    /// before.
    void instants_to_hours() {
        for (std::size_t k = 0; k + 1 < series_.hours.size(); ++k) {
            for (std::size_t e = 0; e < kElements; ++e) {
                const auto element = static_cast<Element>(e);
                const double next = value(k + 1, element);
                value(k, element) =
                    element == Element::rain ? next : 0.5 * (value(k, element) + next);
            }
        }
        series_.hours.pop_back();
        std::vector<std::uint32_t> filled;
        for (const auto k : series_.filled) {
            for (const auto hour :
                 {static_cast<std::int64_t>(k) - 1, static_cast<std::int64_t>(k)}) {
                if (hour >= 0 && hour < static_cast<std::int64_t>(series_.hours.size())) {
                    filled.push_back(static_cast<std::uint32_t>(hour));
                }
            }
        }
        series_.filled = std::move(filled);
    }

    const std::vector<Record>& records_;
    const SourceFacts& facts_;
    Series series_;
    std::vector<int> lines_;
    std::vector<bool> joins_;
    Problems problems_;
};

}  // namespace

std::string_view words_of(Element element) {
    return kWords[static_cast<std::size_t>(element)];
}

std::string local_text(Instant at, std::chrono::minutes clock) {
    return to_text(at + clock).substr(0, 16).replace(10, 1, " ");
}

Result<Series> series_from(const std::vector<Record>& records, const SourceFacts& facts) {
    return Assembly(records, facts).run();
}

}  // namespace beetwright::weather
