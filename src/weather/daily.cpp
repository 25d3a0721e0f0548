#include "weather/daily.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "weather/air.hpp"
#include "weather/daily_course.hpp"
#include "weather/evapotranspiration.hpp"
#include "weather/irradiance.hpp"
#include "weather/sun.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr std::size_t kDay_h = 24;

class Drawing {
 public:
    Drawing(std::span<const DailyRecord> records, const SourceFacts& facts)
        : records_(records), facts_(facts) {}

    Result<DayHours> run() {
        check();
        if (!problems_.empty()) {
            return problems_;
        }
        if (records_.empty()) {
            return DayHours{};
        }
        const DailyCourse course(records_, facts_);
        DayHours drawn;
        for (std::size_t d = 0; d < records_.size(); ++d) {
            draw_day(d, course, drawn.records);
        }
        if (!problems_.empty()) {
            return problems_;
        }
        tell(course, drawn.notes);
        return drawn;
    }

 private:
    void fail(int line, std::string field, std::string what, std::string fix) {
        problems_.push_back({ProblemKind::input,
                             {.file = facts_.file, .line = line, .field = std::move(field)},
                             std::move(what),
                             std::move(fix)});
    }

    void check() {
        for (std::size_t d = 0; d < records_.size(); ++d) {
            const auto& record = records_[d];
            if (d > 0) {
                check_follows(record, records_[d - 1].day);
            }
            if (std::isnan(record.least_K) || std::isnan(record.most_K)) {
                fail(record.line, std::isnan(record.least_K) ? "least" : "most",
                     "the air of " + to_text(record.day) + " is not known",
                     "give the least and the most temperature of each day");
            } else if (record.least_K > record.most_K) {
                fail(record.line, "least",
                     "the least temperature of " + to_text(record.day) + " is above the most",
                     "were the columns exchanged?");
            } else if (record.mean_K < record.least_K || record.mean_K > record.most_K) {
                fail(record.line, "mean",
                     "the mean of " + to_text(record.day) + " does not lie between least and most",
                     "give the mean of the same day, or leave the column out");
            }
        }
    }

    void check_follows(const DailyRecord& record, Day before) {
        const auto step = record.day - before;
        if (step == days(1)) {
            return;
        }
        if (step == days(0)) {
            fail(record.line, "day", to_text(record.day) + " stands twice", "leave one out");
        } else if (step < days(0)) {
            fail(record.line, "day", to_text(record.day) + " comes after " + to_text(before),
                 "put the rows in the order of time; two series do not fit in one file");
        } else {
            const Day first = before + days(1);
            const Day last = record.day - days(1);
            fail(record.line, "day",
                 first == last
                     ? "there is no row for " + to_text(first)
                     : "there are no rows from " + to_text(first) + " to " + to_text(last) + " (" +
                           std::to_string((last - first).count() + 1) + " days)",
                 "give every day, from a neighbouring station where this one has none, or cut the "
                 "file there");
        }
    }

    void draw_day(std::size_t d, const DailyCourse& course, std::vector<Record>& records) {
        const DailyRecord& day = records_[d];
        const std::size_t first = records.size();
        for (std::size_t h = 0; h < kDay_h; ++h) {
            Record& record = records.emplace_back();
            record.line = day.line;
            record.at = Instant(day.day) - facts_.clock + hours(h);
            set(record, Element::air, course.mean_of_hour(d, h));
            set(record, Element::rain, day.rain_mm / static_cast<double>(kDay_h));
            set(record, Element::wind, day.wind_m_s);
        }
        const std::span<Record> drawn(records.begin() + static_cast<std::ptrdiff_t>(first), kDay_h);
        draw_vapour(day, drawn);
        draw_sunshine(day, drawn);
    }

    static void set(Record& record, Element element, double value) {
        record.values[static_cast<std::size_t>(element)] = value;
    }
    static Temperature air_of(const Record& record) {
        return Temperature::kelvin(record.values[static_cast<std::size_t>(Element::air)]);
    }

    /// The vapour that makes a day as humid as it was on the mean, no hour more than saturated.
    static double vapour_of_humidity(double humidity, std::span<const Record> drawn) {
        double low_Pa = 0.0;
        double high_Pa = 0.0;
        for (const Record& record : drawn) {
            high_Pa = std::max(high_Pa, saturation_pressure_Pa(air_of(record)));
        }
        constexpr int kHalvings = 40;
        for (int k = 0; k < kHalvings; ++k) {
            const double middle_Pa = 0.5 * (low_Pa + high_Pa);
            double sum = 0.0;
            for (const Record& record : drawn) {
                sum += std::min(1.0, middle_Pa / saturation_pressure_Pa(air_of(record)));
            }
            (sum < humidity * static_cast<double>(kDay_h) ? low_Pa : high_Pa) = middle_Pa;
        }
        return 0.5 * (low_Pa + high_Pa);
    }

    /// Vapour stays as it is through the day; at night some of it falls as dew.
    static void draw_vapour(const DailyRecord& day, std::span<Record> drawn) {
        double vapour_Pa = kUnknown;
        if (!std::isnan(day.dew_point_K)) {
            vapour_Pa = saturation_pressure_Pa(Temperature::kelvin(day.dew_point_K));
        } else if (!std::isnan(day.humidity)) {
            vapour_Pa = vapour_of_humidity(day.humidity, drawn);
        } else {
            return;
        }
        constexpr double kDriest_Pa = 1.0;  // air at 60 below zero holds as much
        const double point_K = dew_point(std::max(vapour_Pa, kDriest_Pa)).in_kelvin();
        for (Record& record : drawn) {
            const auto air = air_of(record);
            set(record, Element::dew_point, std::min(point_K, air.in_kelvin()));
            set(record, Element::humidity, std::min(1.0, vapour_Pa / saturation_pressure_Pa(air)));
        }
    }

    void draw_sunshine(const DailyRecord& day, std::span<Record> drawn) {
        double mean_W_m2 = day.sunshine_W_m2;
        const std::chrono::year_month_day date(day.day);
        const auto into = day.day - std::chrono::sys_days(date.year() / 1 / 1);
        const int day_of_year = static_cast<int>(into.count()) + 1;
        const double latitude = facts_.place.latitude_rad;
        constexpr double kDay_MJ = 86'400.0 / 1e6;  // of 1 W/m2
        const double outside_W_m2 = radiation_outside_air_MJ(latitude, day_of_year) / kDay_MJ;
        const double daylight = daylight_hours(latitude, day_of_year);
        if (std::isnan(mean_W_m2) && !std::isnan(day.bright_s)) {
            const double bright_h = day.bright_s / 3600.0;
            // Where the sun is seen to rise over flat land a day is somewhat longer than reckoned.
            constexpr double kLonger_h = 0.5;
            if (bright_h > daylight + kLonger_h) {
                tell_too_long(day, bright_h, daylight);
                return;
            }
            mean_W_m2 =
                daylight > 0.0 ? sunshine_from_hours_MJ(outside_W_m2, bright_h, daylight) : 0.0;
        }
        if (std::isnan(mean_W_m2)) {
            return;
        }
        if (mean_W_m2 > outside_W_m2 + 1.0) {
            fail(day.line, "global",
                 fixed_text(mean_W_m2, 0) + " W/m2 on the mean of " + to_text(day.day) +
                     ", where " + fixed_text(outside_W_m2, 0) + " come in outside the air",
                 "is this the mean of daylight, or in another unit? Write global [MJ/m2/d] or "
                 "global [W/m2], the mean of 24 hours");
            return;
        }
        double sum = 0.0;
        for (Record& record : drawn) {
            const auto sun = sun_position(record.at + std::chrono::minutes(30), facts_.place);
            const double clear = sunshine_under_cloud(sun, 0.0);
            set(record, Element::global, clear);
            sum += clear;
        }
        const double factor = sum > 0.0 ? mean_W_m2 * static_cast<double>(kDay_h) / sum : 0.0;
        for (Record& record : drawn) {
            record.values[static_cast<std::size_t>(Element::global)] *= factor;
        }
    }

    void tell_too_long(const DailyRecord& day, double bright_h, double daylight) {
        fail(day.line, "sunshine",
             fixed_text(bright_h, 1) + " h of sun on " + to_text(day.day) + ", whose day is " +
                 fixed_text(daylight, 1) + " h long",
             "were day and month exchanged, or the sign of the latitude lost?");
    }

    void tell(const DailyCourse& course, std::vector<std::string>& notes) const {
        const auto has = [&](auto member) {
            return std::ranges::any_of(
                records_, [&](const DailyRecord& record) { return !std::isnan(record.*member); });
        };
        notes.emplace_back(
            "each hour is drawn from its day: the air is least at sunrise and most two and a half "
            "hours after noon by the sun");
        if (has(&DailyRecord::rain_mm)) {
            notes.emplace_back("rain is spread evenly over the hours of its day");
        }
        if (has(&DailyRecord::sunshine_W_m2) || has(&DailyRecord::bright_s)) {
            notes.emplace_back("sunshine follows the course of a clear sky, to the day's sum");
        }
        if (course.not_kept() > 0) {
            notes.push_back("the mean of " + std::to_string(course.not_kept()) +
                            (course.not_kept() == 1 ? " day lies" : " days lies") +
                            " so near the least or the most that it could not be kept");
        }
    }

    std::span<const DailyRecord> records_;
    const SourceFacts& facts_;
    Problems problems_;
};

}  // namespace

Result<DayHours> hours_of_days(std::span<const DailyRecord> records, const SourceFacts& facts) {
    return Drawing(records, facts).run();
}

}  // namespace beetwright::weather
