#include "weather/topsoil.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"

namespace beetwright::weather {
namespace {

constexpr double kDay_h = 24.0;

/// Humidity when it is warmest: of the mean vapour, or of the least temperature as the dew point.
double least_humidity(const Series& series, std::size_t from, std::size_t to) {
    double most_K = 0.0;
    double least_K = 1e9;
    double vapour_kPa = 0.0;
    for (std::size_t k = from; k < to; ++k) {
        const auto air = Temperature::kelvin(series.at(k, Element::air));
        most_K = std::max(most_K, air.in_kelvin());
        least_K = std::min(least_K, air.in_kelvin());
        if (series.has(Element::dew_point)) {
            vapour_kPa += fao_saturation_kPa(Temperature::kelvin(series.at(k, Element::dew_point)));
        } else if (series.has(Element::humidity)) {
            vapour_kPa += series.at(k, Element::humidity) * fao_saturation_kPa(air);
        } else {
            vapour_kPa = -1.0;
        }
    }
    const double mean_kPa = vapour_kPa < 0.0 ? fao_saturation_kPa(Temperature::kelvin(least_K))
                                             : vapour_kPa / static_cast<double>(to - from);
    return std::min(1.0, mean_kPa / fao_saturation_kPa(Temperature::kelvin(most_K)));
}

WaterDay water_day(const Series& series, std::span<const SkyHour> sky, std::size_t from,
                   std::size_t to) {
    WaterDay day;
    double wind = 0.0;
    for (std::size_t k = from; k < to; ++k) {
        day.reference += sky[k].evaporation_mm;
        day.rain += sky[k].rain_mm;
        constexpr double kHeight_m = 10.0;
        wind += series.has(Element::wind) ? wind_at_2m(series.at(k, Element::wind), kHeight_m)
                                          : kUsualWind_m_s;
    }
    day.wind_2m_m_s = wind / static_cast<double>(to - from);
    day.least_humidity = least_humidity(series, from, to);
    return day;
}

/// What of the water that roots take comes from the topsoil: they thin out evenly downward, to none
/// at their end.
double share_of_roots(double root_depth_m) {
    const double below = std::clamp(1.0 - kTopsoil_m / root_depth_m, 0.0, 1.0);
    return 1.0 - below * below;
}

class Balance {
 public:
    Balance(const TopsoilQuestion& question, const SoilConstants& constants)
        : soil_(soil_of(question.soil)),
          buckets_{.field_capacity = soil_.field_capacity,
                   .wilting_point = soil_.wilting_point,
                   .readily_evaporable_mm = soil_.readily_evaporable},
          kept_of_a_day_(std::exp(-kDay_h / (constants.drain_lag_h * soil_.draining))) {}

    void begin(double filling, int age) {
        const double dry = 1.0 - filling;
        // One day without weather tells how deep the roots are.
        const auto step = water_step(crop_, buckets_, age, {}, {});
        state_.root_depletion = dry * step.available;
        state_.top_depletion = dry * buckets_.total_evaporable_mm();
        topsoil_mm_ = capacity_mm() -
                      dry * 1000.0 * kTopsoil_m * (soil_.field_capacity - soil_.wilting_point);
    }

    TopsoilDay next(const WaterDay& weather, int age) {
        const auto step = water_step(crop_, buckets_, age, weather, state_);
        state_ = step.after;
        TopsoilDay day{.rain = weather.rain,
                       .evaporation = step.evaporation,
                       .transpiration = step.transpiration,
                       .drainage = step.drainage};
        const double before = topsoil_mm_;
        topsoil_mm_ = std::min(topsoil_mm_ + weather.rain, 1000.0 * kTopsoil_m * soil_.saturated);
        // Where the topsoil has dried, roots take their water from below.
        const double wilted_mm = 1000.0 * kTopsoil_m * soil_.wilting_point;
        const double left = (topsoil_mm_ - wilted_mm) / (capacity_mm() - wilted_mm);
        constexpr double kHarder = 0.5;
        day.topsoil_transpiration =
            std::min(step.transpiration * share_of_roots(step.root_depth_m) *
                         std::clamp(left / kHarder, 0.0, 1.0),
                     std::max(0.0, topsoil_mm_ - wilted_mm));
        topsoil_mm_ -= step.evaporation + day.topsoil_transpiration;
        // Evaporation dries the top below what roots can, and no further than its own bucket.
        topsoil_mm_ = std::max(topsoil_mm_, 0.5 * wilted_mm);
        if (topsoil_mm_ > capacity_mm()) {
            topsoil_mm_ = capacity_mm() + kept_of_a_day_ * (topsoil_mm_ - capacity_mm());
        }
        day.leaving_topsoil =
            before + weather.rain - step.evaporation - day.topsoil_transpiration - topsoil_mm_;
        day.moisture = topsoil_mm_ / (1000.0 * kTopsoil_m);
        day.moisture_below = below(step.root_depth_m);
        return day;
    }

 private:
    [[nodiscard]] double capacity_mm() const { return 1000.0 * kTopsoil_m * soil_.field_capacity; }

    /// What the roots' balance lacks and the topsoil does not, below.
    [[nodiscard]] double below(double root_depth_m) const {
        const double depth_m = root_depth_m - kTopsoil_m;
        constexpr double kThin_m = 0.05;
        if (depth_m < kThin_m) {
            return soil_.field_capacity;
        }
        const double lacking_mm =
            state_.root_depletion - std::max(0.0, capacity_mm() - topsoil_mm_);
        return std::clamp(soil_.field_capacity - lacking_mm / (1000.0 * depth_m),
                          soil_.wilting_point, soil_.field_capacity);
    }

    const Soil& soil_;
    CropCourse crop_ = sugar_beet_course();
    SoilBuckets buckets_;
    double kept_of_a_day_;
    WaterState state_;
    double topsoil_mm_ = 0.0;
};

}  // namespace

std::optional<int> days_from_sowing(Day day, const Place& place) {
    const std::chrono::year_month_day date(day);
    const auto sown_month = place.latitude_rad < 0.0 ? std::chrono::October : std::chrono::April;
    const auto sown_in = [&](std::chrono::year year) { return Day(year / sown_month / 1); };
    const Day sown = day >= sown_in(date.year()) ? sown_in(date.year())
                                                 : sown_in(date.year() - std::chrono::years(1));
    constexpr int kStands_days = 275;
    const auto age = static_cast<int>((day - sown).count());
    return age < kStands_days ? std::optional(age) : std::nullopt;
}

std::vector<TopsoilDay> topsoil_days(const Series& series, std::span<const SkyHour> sky,
                                     const TopsoilQuestion& question,
                                     const SoilConstants& constants) {
    const std::size_t count = series.hours.size();
    require(sky.size() == count, "the sky hours are the series'");
    std::vector<TopsoilDay> days;
    Balance balance(question, constants);
    for (std::size_t from = 0; from < count;) {
        std::size_t to = from;
        while (to < count && series.day_of(to) == series.day_of(from)) {
            ++to;
        }
        const Day day = series.day_of(from);
        // Bare ground evaporates as it does on the day of sowing.
        const auto standing = days_from_sowing(day, series.place);
        const int age = standing.value_or(0);
        if (from == 0) {
            const double first_stage_days = sugar_beet_course().stage_days.front();
            const bool is_moist = static_cast<double>(age) <= first_stage_days;
            balance.begin(
                std::clamp(question.first_filling.value_or(is_moist ? 1.0 : 0.5), 0.0, 1.0), age);
        }
        days.push_back(balance.next(water_day(series, sky, from, to), age));
        days.back().day = day;
        from = to;
    }
    return days;
}

}  // namespace beetwright::weather
