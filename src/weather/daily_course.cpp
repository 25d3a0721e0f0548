#include "weather/daily_course.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "weather/sun.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::hours;

constexpr std::size_t kDay_h = 24;
constexpr int kParts = 6;  ///< of an hour, in which the air's course is read
constexpr double kWarmestAfterNoon_h = 2.5;

}  // namespace

DailyCourse::DailyCourse(std::span<const DailyRecord> records, const SourceFacts& facts)
    : records_(records), bend_(records.size(), 0.0) {
    lay_out(facts);
    keep_means();
}

/// Adds when a day is coldest and when it is warmest.
void DailyCourse::add_turns(const DailyRecord& record, double midnight_h, const SourceFacts& facts,
                            std::vector<Turn>& turns) {
    const Instant midnight = Instant(record.day) - facts.clock;
    const auto sun = sun_position(midnight + hours(12), facts.place);
    constexpr double kTurnOfHour = std::numbers::pi / 12.0;
    const double past_noon_h = std::remainder(sun.hour_angle, 2.0 * std::numbers::pi) / kTurnOfHour;
    const double noon_h = midnight_h + 12.0 - past_noon_h;
    // Where the sun does not rise, or does not set, the air turns as if it did.
    constexpr double kShortest_h = 1.0;
    constexpr double kLongest_h = 11.0;
    const double cosine = -std::tan(facts.place.latitude_rad) * std::tan(sun.declination);
    const double half_day_h =
        std::clamp(std::acos(std::clamp(cosine, -1.0, 1.0)) / kTurnOfHour, kShortest_h, kLongest_h);
    turns.push_back({noon_h - half_day_h, record.least_K});
    turns.push_back({noon_h + std::min(kWarmestAfterNoon_h, 0.7 * half_day_h), record.most_K});
}

/// The wave between the two turns about each moment.
void DailyCourse::lay_out(const SourceFacts& facts) {
    // The ends of a series turn as their own days do.
    std::vector<Turn> turns{{}, {}};
    for (std::size_t d = 0; d < records_.size(); ++d) {
        add_turns(records_[d], 24.0 * static_cast<double>(d), facts, turns);
    }
    turns[0] = {turns[2].at_h - 24.0, turns[2].air_K};
    turns[1] = {turns[3].at_h - 24.0, turns[3].air_K};
    const std::size_t last = turns.size() - 2;
    turns.push_back({turns[last].at_h + 24.0, turns[last].air_K});
    turns.push_back({turns[last + 1].at_h + 24.0, turns[last + 1].air_K});

    const std::size_t count = records_.size() * kDay_h * kParts;
    points_.reserve(count);
    std::size_t to = 1;
    for (std::size_t k = 0; k < count; ++k) {
        const double at_h = (static_cast<double>(k) + 0.5) / kParts;
        while (to + 1 < turns.size() && turns[to].at_h <= at_h) {
            ++to;
        }
        points_.push_back(point(at_h, turns[to - 1], turns[to]));
    }
}

DailyCourse::Point DailyCourse::point(double at_h, const Turn& from, const Turn& to) const {
    const double along =
        std::clamp((at_h - from.at_h) / std::max(to.at_h - from.at_h, 1e-6), 0.0, 1.0);
    const double risen = 0.5 * (1.0 - std::cos(std::numbers::pi * along));
    const double wave = to.air_K >= from.air_K ? risen : 1.0 - risen;
    // A day's bend holds from three in the morning to nine in the evening, and changes evenly
    // to the next day's from then to three.
    constexpr double kChanges_h = 6.0;
    const double days_in = (at_h - 0.5 * kChanges_h) / 24.0;
    const double day =
        std::clamp(std::floor(days_in), 0.0, static_cast<double>(records_.size() - 1));
    const double share_of_next = 1.0 - (1.0 - (days_in - day)) * 24.0 / kChanges_h;
    return {.least_K = std::min(from.air_K, to.air_K),
            .span_K = std::abs(to.air_K - from.air_K),
            .log_wave = std::log(std::max(wave, 1e-12)),
            .day = static_cast<std::uint32_t>(day),
            .share_of_next = std::clamp(share_of_next, 0.0, 1.0)};
}

double DailyCourse::air(std::size_t place) const {
    const Point& point = points_[place];
    const std::size_t next = std::min<std::size_t>(point.day + 1, bend_.size() - 1);
    const double bend = std::lerp(bend_[point.day], bend_[next], point.share_of_next);
    return point.least_K + point.span_K * std::exp(std::exp(bend) * point.log_wave);
}

double DailyCourse::mean_of_hour(std::size_t day, std::size_t hour) const {
    double sum = 0.0;
    for (int part = 0; part < kParts; ++part) {
        sum += air(day * kDay_h * kParts + hour * kParts + static_cast<std::size_t>(part));
    }
    return sum / kParts;
}

double DailyCourse::mean_of_day(std::size_t day) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < kDay_h * kParts; ++k) {
        sum += air(day * kDay_h * kParts + k);
    }
    return sum / static_cast<double>(kDay_h * kParts);
}

/// Each day's bend in turn, until none moves: a neighbour's reaches into a day for three hours.
void DailyCourse::keep_means() {
    constexpr int kSweeps = 60;
    constexpr double kKept_K = 1e-6;
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
        double worst_K = 0.0;
        for (std::size_t d = 0; d < records_.size(); ++d) {
            if (!std::isnan(records_[d].mean_K)) {
                worst_K = std::max(worst_K, bend_day(d));
            }
        }
        if (worst_K < kKept_K) {
            break;
        }
    }
    constexpr double kNear_K = 0.05;
    for (std::size_t d = 0; d < records_.size(); ++d) {
        not_kept_ += !std::isnan(records_[d].mean_K) &&
                             std::abs(mean_of_day(d) - records_[d].mean_K) > kNear_K
                         ? 1U
                         : 0U;
    }
}

/// A step of Newton's for one day. How far its mean was off before; nothing where it is bent as
/// far as it goes.
double DailyCourse::bend_day(std::size_t day) {
    constexpr double kMostBent = 3.0;
    constexpr double kStep = 1e-4;
    const double off_K = mean_of_day(day) - records_[day].mean_K;
    const double bend = bend_[day];
    bend_[day] = bend + kStep;
    const double slope = (mean_of_day(day) - records_[day].mean_K - off_K) / kStep;
    constexpr double kLongest = 0.5;
    const double step = slope < 0.0 ? std::clamp(-off_K / slope, -kLongest, kLongest) : 0.0;
    bend_[day] = std::clamp(bend + step, -kMostBent, kMostBent);
    return bend_[day] == bend ? 0.0 : std::abs(off_K);
}

}  // namespace beetwright::weather
