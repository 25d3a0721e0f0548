#include "demo_season/hours.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

#include "base/random.hpp"
#include "weather/air.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::hours;
using weather::Element;
using weather::Hour;
using weather::Series;

constexpr int kHours = 24;
constexpr int kFirstMeasured = -20;  ///< day of the campaign
constexpr int kToldAtHour = 6;       ///< of the day on which the story is told
constexpr int kForecastDays = 10;
constexpr int kRuns = 30;
constexpr std::chrono::minutes kClock{60};
/// In the open sea, so that it is nobody's farm.
constexpr auto kPlace = weather::Place::degrees(54.0, 7.0, 2.0);

/// What an hour is made of.
struct Day {
    double mean_celsius = 0.0;
    double swing_K = 0.0;  ///< from the mean to the night's lowest
    double rain_mm = 0.0;
};

/// A day's course: 1 when it is warmest, -1 twelve hours from then.
double sine(double hour) {
    constexpr double kWarmest = 15.0;
    return std::cos(2.0 * std::numbers::pi * (hour - kWarmest) / kHours);
}

/// Which of a day's hours are wet, and how much of the rain falls in each.
std::array<double, kHours> wet_hours(RandomStream& random, double rain_mm) {
    std::array<double, kHours> share{};
    if (rain_mm <= 0.0) {
        return share;
    }
    constexpr double kUsual_mm_per_h = 1.2;
    const int count = std::clamp(static_cast<int>(std::ceil(rain_mm / kUsual_mm_per_h)), 1, kHours);
    const auto first = random.below(static_cast<std::uint32_t>(kHours - count + 1));
    double sum = 0.0;
    for (int k = 0; k < count; ++k) {
        const double amount = random.gamma(2.0);
        share[first + static_cast<std::size_t>(k)] = amount;
        sum += amount;
    }
    for (double& one : share) {
        one /= sum;
    }
    return share;
}

namespace gauge {
constexpr Scale rain{"mm", 10, "in", 100};
constexpr Scale wind{"m/s", 10, "mph", 1};
constexpr Scale percent{"%", 1, "%", 1};
}  // namespace gauge

/// Hours from days, read as instruments read them.
class Station {
 public:
    Station(std::span<const Day> days, RandomStream random, const Reader& reader)
        : days_(days), random_(random), reader_(reader) {}

    /// Appends the hours of a day whose place among the days this is, from an hour on.
    void add(std::size_t day, int from, int until, std::vector<Hour>& into) {
        const Day& now = days_[day];
        const auto wet = wet_hours(random_, now.rain_mm);
        for (int hour = 0; hour < kHours; ++hour) {
            gust_ = 0.85 * gust_ + 0.6 * random_.normal();
            const double noise = 0.3 * random_.normal();
            if (hour < from || hour >= until) {
                continue;
            }
            const double rain_mm = now.rain_mm * wet[static_cast<std::size_t>(hour)];
            const double air_K =
                kZeroCelsius_K + between(day, hour) + swing(day, hour) * sine(hour + 0.5) + noise;
            // Nights are damp, and so is rain.
            const double dryness = 2.2 + 1.6 * sine(hour + 0.5) + 0.25 * std::abs(gust_);
            const double dew_K = air_K - std::max(0.2, rain_mm > 0.0 ? 0.6 : dryness);
            const auto vapour = [](double kelvin) {
                return weather::saturation_pressure_Pa(Temperature::kelvin(kelvin));
            };
            constexpr double kMillimetre_m = 1e-3;
            Hour one = weather::unknown_hour();
            const auto put = [&](Element element, double value) {
                one[static_cast<std::size_t>(element)] = value;
            };
            put(Element::air, reader_.read(Temperature::kelvin(air_K), scale::air).in_kelvin());
            put(Element::humidity,
                std::min(1.0, reader_.read(vapour(dew_K) / vapour(air_K), gauge::percent)));
            put(Element::wind, reader_.read(std::max(0.3, 3.5 + gust_), gauge::wind));
            put(Element::rain, reader_.read(rain_mm * kMillimetre_m, gauge::rain) / kMillimetre_m);
            put(Element::cloud,
                reader_.read(
                    std::clamp(rain_mm > 0.0 ? 0.95 : 0.55 - 0.06 * now.swing_K + 0.05 * gust_, 0.0,
                               1.0),
                    gauge::percent));
            into.push_back(one);
        }
    }

 private:
    /// The day's mean goes over into its neighbours'.
    [[nodiscard]] double between(std::size_t day, int hour) const {
        return blend(day, hour, [](const Day& one) { return one.mean_celsius; });
    }
    [[nodiscard]] double swing(std::size_t day, int hour) const {
        return blend(day, hour, [](const Day& one) { return one.swing_K; });
    }
    template <class Get>
    [[nodiscard]] double blend(std::size_t day, int hour, Get&& get) const {
        const double from_noon = (hour + 0.5 - 0.5 * kHours) / kHours;
        const bool has_next = day + 1 < days_.size();
        const std::size_t other =
            from_noon < 0.0 ? (day > 0 ? day - 1 : day) : (has_next ? day + 1 : day);
        return std::lerp(get(days_[day]), get(days_[other]), std::abs(from_noon));
    }

    static constexpr double kZeroCelsius_K = 273.15;
    std::span<const Day> days_;
    RandomStream random_;
    const Reader& reader_;
    double gust_ = 0.0;
};

Series station_series(std::string name, std::chrono::sys_days first_day) {
    Series series;
    series.name = std::move(name);
    series.place = kPlace;
    series.clock = kClock;
    series.begin = Instant(first_day) - kClock;
    return series;
}

Day day_of(const WeatherDay& day) {
    return {.mean_celsius = day.mean_celsius,
            .swing_K = day.mean_celsius - day.low_celsius,
            .rain_mm = day.rain_mm};
}

Series measured(const Weather& weather, std::uint64_t seed, const Reader& reader) {
    std::vector<Day> days;
    for (int day = kFirstMeasured; day <= kToldOn.number() + 1; ++day) {
        days.push_back(day_of(weather.on(CampaignDay(day))));
    }
    auto series =
        station_series("Ottermarsh pump house", CampaignDay(kFirstMeasured).on(kFirstDay));
    Station station(days, RandomStream(seed, "demo hours"), reader);
    for (std::size_t d = 0; d + 2 < days.size(); ++d) {
        station.add(d, 0, kHours, series.hours);
    }
    station.add(days.size() - 2, 0, kToldAtHour, series.hours);
    return series;
}

/// A run goes astray more with each day: what will be, a departure that grows, and rain that comes
/// a day sooner or later, or more or less of it.
std::vector<Day> run_days(const Weather& weather, std::uint64_t seed, int run) {
    RandomStream random(seed, "demo forecast", static_cast<std::uint64_t>(run));
    std::vector<Day> days;
    double departure = 0.0;
    for (int ahead = 0; ahead <= kForecastDays + 1; ++ahead) {
        const int sure_until = 1;
        const int moved =
            ahead > sure_until && random.chance(0.07 * ahead) ? (random.chance(0.5) ? 1 : -1) : 0;
        const double more = std::exp((0.2 + 0.06 * ahead) * random.normal());
        departure = 0.8 * departure + (0.3 + 0.1 * ahead) * random.normal();
        Day day = day_of(weather.on(CampaignDay(kToldOn.number() + ahead)));
        day.mean_celsius += departure;
        day.swing_K = std::max(0.5, day.swing_K + 0.4 * random.normal());
        day.rain_mm = more * weather.on(CampaignDay(kToldOn.number() + ahead + moved)).rain_mm;
        days.push_back(day);
    }
    return days;
}

std::vector<Series> forecast(const Weather& weather, std::uint64_t seed, const Reader& reader) {
    std::vector<Series> runs;
    for (int run = 0; run < kRuns; ++run) {
        const auto days = run_days(weather, seed, run);
        auto series = station_series("Forecast for Ottermarsh", kToldOn.on(kFirstDay));
        series.begin += hours(kToldAtHour);
        Station station(days,
                        RandomStream(seed, "demo forecast hours", static_cast<std::uint64_t>(run)),
                        reader);
        station.add(0, kToldAtHour, kHours, series.hours);
        for (std::size_t d = 1; d <= kForecastDays; ++d) {
            station.add(d, 0, d == kForecastDays ? kToldAtHour : kHours, series.hours);
        }
        runs.push_back(std::move(series));
    }
    return runs;
}

/// A year as it usually is, put together from no year in particular.
Series usual_year(std::uint64_t seed, const Reader& reader) {
    RandomStream random(seed, "demo usual year");
    const auto first = std::chrono::sys_days(std::chrono::year(2030) / 1 / 1);
    constexpr int kDays = 365;
    std::vector<Day> days;
    double departure = 0.0;
    for (int d = 0; d < kDays; ++d) {
        constexpr double kWarmest = 205.0;  // late in July, as in the story
        const double year = 2.0 * std::numbers::pi * (d - kWarmest) / kDays;
        departure = 0.75 * departure + 1.7 * random.normal();
        const double wet_share = 0.45 - 0.05 * std::cos(year);
        Day day;
        day.mean_celsius = 9.2 + 8.0 * std::cos(year) + departure;
        day.swing_K = 3.8 + 0.8 * std::abs(random.normal());
        const double fallen_mm = 3.5 * random.gamma(1.0);
        day.rain_mm = random.chance(wet_share) ? fallen_mm : 0.0;
        days.push_back(day);
    }
    auto series = station_series("A usual year at Ottermarsh", first);
    Station station(days, RandomStream(seed, "demo usual hours"), reader);
    for (std::size_t d = 0; d < kDays; ++d) {
        station.add(d, 0, kHours, series.hours);
    }
    return series;
}

}  // namespace

weather::KnownWeather known_weather(const Weather& weather, std::uint64_t seed,
                                    const Reader& reader) {
    return {.observed = measured(weather, seed, reader),
            .forecast = forecast(weather, seed, reader),
            .climate = usual_year(seed, reader)};
}

}  // namespace beetwright::demo
