#include "weather/lifting_hours.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/contract.hpp"
#include "weather/evapotranspiration.hpp"
#include "weather/irradiance.hpp"
#include "weather/sun.hpp"

namespace beetwright::weather {
namespace {

constexpr std::size_t kDay_h = 24;
constexpr double kFullSun_W_m2 = 800.0;  ///< a clear noon in September

/// A running mean that forgets with a time constant.
class Follower {
 public:
    Follower(double lag_h, double first)
        : keep_(lag_h > 0.0 ? std::exp(-1.0 / lag_h) : 0.0), value_(first) {}
    double follow(double target) {
        value_ = target + keep_ * (value_ - target);
        return value_;
    }

 private:
    double keep_;
    double value_;
};

/// The mean of the first so many hours.
double first_mean(const Series& series, std::size_t hours) {
    const std::size_t count = std::min(hours, series.hours.size());
    double sum = 0.0;
    for (std::size_t k = 0; k < count; ++k) {
        sum += series.at(k, Element::air);
    }
    return sum / static_cast<double>(count);
}

/// Wind at 2 m; the series has it at 10 m.
double wind_near_ground(const Series& series, std::size_t hour) {
    constexpr double kHeight_m = 10.0;
    return series.has(Element::wind) ? wind_at_2m(series.at(hour, Element::wind), kHeight_m)
                                     : kUsualWind_m_s;
}

/// Sunshine of an hour [W/m2]; from what comes in outside the air where nobody measured.
double sunshine(const Series& series, std::size_t hour, const SunPosition& sun) {
    if (series.has(Element::global)) {
        return std::max(0.0, series.at(hour, Element::global));
    }
    return sunshine_under_cloud(
        sun, series.has(Element::cloud) ? series.at(hour, Element::cloud) : kUsualCloud);
}

/// The reference evapotranspiration of a day, spread over its hours by the sunshine of each.
void spread_evaporation(const Series& series, std::size_t from, std::size_t to,
                        std::vector<SkyHour>& sky) {
    EvaporationDay day;
    double most = -1e9;
    double least = 1e9;
    double vapour_kPa = 0.0;
    double wind = 0.0;
    double energy_J = 0.0;
    const bool has_dew = series.has(Element::dew_point);
    const bool has_humidity = series.has(Element::humidity);
    for (std::size_t k = from; k < to; ++k) {
        const double air = series.at(k, Element::air);
        most = std::max(most, air);
        least = std::min(least, air);
        wind += wind_near_ground(series, k);
        energy_J += sky[k].sunshine_W_m2 * 3600.0;
        if (has_dew) {
            vapour_kPa += fao_saturation_kPa(Temperature::kelvin(series.at(k, Element::dew_point)));
        } else if (has_humidity) {
            vapour_kPa +=
                series.at(k, Element::humidity) * fao_saturation_kPa(Temperature::kelvin(air));
        }
    }
    const auto hours = static_cast<double>(to - from);
    if (energy_J <= 0.0) {
        return;
    }
    const std::chrono::year_month_day date(series.day_of(from));
    const auto first_of_year = std::chrono::sys_days(date.year() / 1 / 1);
    day.day_of_year = static_cast<int>((series.day_of(from) - first_of_year).count()) + 1;
    day.most = Temperature::kelvin(most);
    day.least = Temperature::kelvin(least);
    day.vapour_kPa = has_dew || has_humidity ? vapour_kPa / hours : fao_saturation_kPa(day.least);
    day.wind_2m_m_s = wind / hours;
    // A day cut short at an end of the series counts as if it went on alike.
    day.sunshine = energy_J / 1e6 * static_cast<double>(kDay_h) / hours;
    const double mm = std::max(0.0, reference_evapotranspiration(day, series.place)) * hours /
                      static_cast<double>(kDay_h);
    for (std::size_t k = from; k < to; ++k) {
        sky[k].evaporation_mm = mm * sky[k].sunshine_W_m2 * 3600.0 / energy_J;
    }
}

/// Frost holds from when the crown freezes until so long after it has thawed as it was cold.
class FrostWatch {
 public:
    explicit FrostWatch(const LiftingConstants& constants) : constants_(constants) {}

    bool hour(double crown_K) {
        constexpr double kThaw_K = 273.15;
        constexpr double kLongest_h = 72.0;
        if (crown_K < constants_.frost_stop_K) {
            coldest_K_ = std::min(coldest_K_.value_or(crown_K), crown_K);
        }
        if (!coldest_K_) {
            return false;
        }
        if (crown_K < kThaw_K) {
            wait_h_ = std::min(kLongest_h, constants_.thaw_wait_h_per_K *
                                               (constants_.frost_stop_K - *coldest_K_ + 1.0));
            return true;
        }
        if (wait_h_ >= 1.0) {
            wait_h_ -= 1.0;
            return true;
        }
        coldest_K_.reset();
        return false;
    }

 private:
    const LiftingConstants& constants_;
    std::optional<double> coldest_K_;
    double wait_h_ = 0.0;
};

}  // namespace

std::vector<SunPosition> sun_hours(const Series& series) {
    std::vector<SunPosition> suns;
    suns.reserve(series.hours.size());
    for (std::size_t k = 0; k < series.hours.size(); ++k) {
        suns.push_back(sun_position(series.begin_of(k) + std::chrono::minutes(30), series.place));
    }
    return suns;
}

std::vector<SkyHour> sky_hours(const Series& series) {
    return sky_hours(series, sun_hours(series));
}

std::vector<SkyHour> sky_hours(const Series& series, std::span<const SunPosition> suns) {
    const std::size_t count = series.hours.size();
    require(suns.size() == count, "there is a sun for each hour");
    std::vector<SkyHour> sky(count);
    double rain_of_day = 0.0;
    const bool has_rain = series.has(Element::rain);
    for (std::size_t k = 0; k < count; ++k) {
        SkyHour& hour = sky[k];
        const auto& sun = suns[k];
        hour.sunshine_W_m2 = sunshine(series, k, sun);
        // The sun is too low to see by from six degrees below the horizon on (civil twilight).
        hour.is_dark = sun.true_elevation < -6.0 * kDegree;
        hour.rain_mm = has_rain ? series.at(k, Element::rain) : 0.0;
        rain_of_day += hour.rain_mm;
        if (k >= kDay_h) {
            rain_of_day -= sky[k - kDay_h].rain_mm;
        }
        hour.rain_of_day_mm = std::max(0.0, rain_of_day);
    }
    for (std::size_t from = 0; from < count;) {
        std::size_t to = from + 1;
        while (to < count && series.day_of(to) == series.day_of(from)) {
            ++to;
        }
        spread_evaporation(series, from, to, sky);
        from = to;
    }
    return sky;
}

std::vector<RootHour> root_hours(const Series& series, std::span<const SkyHour> sky,
                                 const LiftingConstants& constants) {
    const std::size_t count = series.hours.size();
    require(sky.size() == count, "the sky hours are the series'");
    std::vector<RootHour> roots(count);
    if (count == 0) {
        return roots;
    }
    const double start = first_mean(series, 7 * kDay_h);
    Follower ground(constants.ground_lag_h, start);
    Follower day_mean(static_cast<double>(kDay_h), start);
    Follower crown(constants.crown_lag_h, start);
    FrostWatch frost(constants);
    for (std::size_t k = 0; k < count; ++k) {
        RootHour& hour = roots[k];
        const double air = series.at(k, Element::air);
        const double soil = ground.follow(air);
        const double mean = day_mean.follow(air);
        hour.root_K = soil + constants.ground_daily_share * (air - mean);
        hour.crown_K = crown.follow(constants.crown_air_share * air +
                                    (1.0 - constants.crown_air_share) * soil);
        const double sun_share = std::min(1.0, sky[k].sunshine_W_m2 / kFullSun_W_m2);
        const double topped =
            hour.root_K + constants.sun_heating_K_per_h * constants.topped_ahead_h * sun_share;
        hour.intake_K = topped + constants.haul_share * (air - topped);
        hour.is_frosted = frost.hour(hour.crown_K);
    }
    return roots;
}

FieldRules usual_rules(const LiftingConstants& constants) {
    return {
        .rain_stop_mm = constants.rain_stop_mm,
        .bucket_mm = constants.bucket_mm,
        .bucket_stop = constants.bucket_stop,
        // Ground that stays above the stop by itself would never be lifted; the stop is wrong then.
        .drained = std::min(constants.drained, constants.bucket_stop - 0.02),
        .drain_lag_h = constants.drain_lag_h};
}

void judge_hours(std::span<const SkyHour> sky, std::span<const RootHour> roots,
                 const FieldRules& rules, const LiftingConstants& constants,
                 std::span<FieldHour> hours) {
    require(hours.size() == sky.size() && roots.size() == sky.size(), "all three are as long");
    double water_mm = rules.first_filling * rules.bucket_mm;
    const double loss_per_mm = rules.crop_factor / rules.bucket_mm;
    const double drained_mm = rules.drained * rules.bucket_mm;
    const double kept = rules.drain_lag_h > 0.0 ? std::exp(-1.0 / rules.drain_lag_h) : 0.0;
    for (std::size_t k = 0; k < sky.size(); ++k) {
        const SkyHour& hour = sky[k];
        // The emptier, the less it gives. What is more than it holds against gravity drains slowly,
        // and what does not fit runs off.
        water_mm -= hour.evaporation_mm * loss_per_mm * water_mm;
        if (water_mm > drained_mm) {
            water_mm = drained_mm + kept * (water_mm - drained_mm);
        }
        water_mm = std::min(rules.bucket_mm, water_mm + hour.rain_mm);
        const double filling = water_mm / rules.bucket_mm;
        Holds holds;
        if (roots[k].is_frosted) {
            holds.add(Held::frost);
        }
        if (hour.rain_of_day_mm >= rules.rain_stop_mm || filling >= rules.bucket_stop) {
            holds.add(Held::wet);
        }
        if (rules.goes_to_pile && roots[k].intake_K > constants.intake_limit_K) {
            holds.add(Held::heat);
        }
        if (!rules.works_at_night && hour.is_dark) {
            holds.add(Held::dark);
        }
        hours[k] = {holds, static_cast<float>(filling)};
    }
}

}  // namespace beetwright::weather
