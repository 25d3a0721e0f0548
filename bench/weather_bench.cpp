// Weather at scale, on one core: a season's hourly states for 5,000 fields, each with a soil of its
// own, and the reading of an EPW year.
//
// Goals: 5,000 fields x 3,600 h under 2 s; an EPW year under 20 ms. The ceiling of the first is the
// same number of the bare bucket's multiply-adds. Ratios in one run; nothing here passes or fails.
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "io/weather_file.hpp"
#include "weather/lifting_hours.hpp"

namespace {

using namespace beetwright;

constexpr std::size_t kFields = 5000;
constexpr std::size_t kHours = 3600;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

weather::Series made_up_autumn() {
    weather::Series series;
    series.place = weather::Place::degrees(53.1, 8.2, 12.0);
    series.begin = *parse_instant("2031-09-01T00:00Z");
    RandomStream random(1, "bench weather");
    for (std::size_t k = 0; k < kHours; ++k) {
        auto& hour = series.hours.emplace_back(weather::unknown_hour());
        const double season = 15.0 - 14.0 * static_cast<double>(k) / kHours;
        const double day = 4.0 * std::sin(0.2618 * static_cast<double>(k % 24 + 15));
        hour[static_cast<std::size_t>(weather::Element::air)] = 273.15 + season + day;
        hour[static_cast<std::size_t>(weather::Element::rain)] =
            random.chance(0.06) ? 2.0 * random.uniform() : 0.0;
    }
    return series;
}

std::string made_up_epw() {
    std::string text =
        "LOCATION,Somewhere,-,NIL,invented,000000,53.10,8.20,1.0,12.0\nDESIGN CONDITIONS,0\n"
        "TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\n"
        "COMMENTS 1,invented\nCOMMENTS 2,\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n";
    for (int day = 0; day < 365; ++day) {
        const std::chrono::year_month_day date(
            std::chrono::sys_days(std::chrono::year{2031} / 1 / 1) + std::chrono::days(day));
        for (int hour = 1; hour <= 24; ++hour) {
            std::array<char, 256> row{};
            std::snprintf(row.data(), row.size(),
                          "2031,%u,%u,%d,60,?9?9?9?9E0?9?9,%.1f,2.0,81,101325,0,0,315,120,80,60,"
                          "999999,999999,999999,9999,200,3.1,8,8,9999,99999,9,999999999,999,0.999,"
                          "999,99,999,0.2,1.0\n",
                          static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                          hour, 10.0 - 9.0 * std::cos(0.0172 * (day - 20)));
            text += row.data();
        }
    }
    return text;
}

}  // namespace

int main() {
    const Catalogue catalogue;
    const auto constants =
        weather::lifting_constants([&](ConstantId id) { return catalogue.value(id); });
    const auto series = made_up_autumn();
    std::vector<weather::FieldHour> hours(kHours);
    std::size_t open = 0;
    const double all = seconds_of([&] {
        const auto sky = weather::sky_hours(series);
        const auto roots = weather::root_hours(series, sky, constants);
        for (std::size_t f = 0; f < kFields; ++f) {
            RandomStream random(1, "bench soil", f);
            auto rules = weather::usual_rules(constants);
            rules.bucket_mm = 20.0 + 40.0 * random.uniform();
            rules.drain_lag_h = 12.0 + 60.0 * random.uniform();
            weather::judge_hours(sky, roots, rules, constants, hours);
            for (const auto& hour : hours) {
                open += hour.holds.is_open() ? 1U : 0U;
            }
        }
    });
    auto water = static_cast<double>(open % 20);
    const double ceiling = seconds_of([&] {
        for (std::size_t k = 0; k < kFields * kHours; ++k) {
            water = water * 0.999 + 0.02;
            water = water > 33.0 ? 33.0 + 0.97 * (water - 33.0) : water;
        }
    });
    std::printf(
        "hourly states: %zu fields x %zu h in %.2f s (goal 2), %.0f %% open; %.0f %% of the "
        "bare bucket's speed (%.1f mm)\n",
        kFields, kHours, all,
        100.0 * static_cast<double>(open) / static_cast<double>(kFields * kHours),
        100.0 * ceiling / all, water);

    const auto text = made_up_epw();
    constexpr int kTimes = 20;
    std::size_t read = 0;
    const double parse = seconds_of([&] {
        for (int k = 0; k < kTimes; ++k) {
            const auto reading = io::read_weather(text, "bench.epw");
            read += reading.ok() ? reading->series.hours.size() : 0;
        }
    });
    std::printf("EPW: %zu hours, %.1f MB, in %.1f ms (goal 20)\n", read / kTimes,
                static_cast<double>(text.size()) / 1e6, 1000.0 * parse / kTimes);
}
