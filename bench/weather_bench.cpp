// Weather at scale: a season's hourly states for 5,000 fields, each with a soil of its own, and the
// reading of an EPW year, on one core; the chances of the days ahead for as many fields under 50
// members of an outlook, on two.
//
// Goals: 5,000 fields x 3,600 h under 2 s; an EPW year under 20 ms; 50 members x 5,000 fields under
// 60 s. The ceiling of the first is the same number of the bare bucket's multiply-adds, that of the
// last the bare judging of as many hours. Ratios in one run; nothing here passes or fails.
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "io/weather_file.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/open_chance.hpp"

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

/// 30 days behind and ten ahead, each member with a rain of its own.
weather::Outlook made_up_outlook() {
    weather::Outlook outlook;
    constexpr std::size_t kMembers = 50;
    constexpr std::size_t kBehind_h = 720;
    constexpr std::size_t kAhead_h = 240;
    for (std::size_t m = 0; m < kMembers; ++m) {
        auto& member = outlook.members.emplace_back(made_up_autumn());
        member.hours.resize(kBehind_h + kAhead_h);
        RandomStream random(1, "bench member", m);
        for (std::size_t k = kBehind_h; k < member.hours.size(); ++k) {
            member.hours[k][static_cast<std::size_t>(weather::Element::rain)] =
                random.chance(0.06) ? 2.0 * random.uniform() : 0.0;
        }
    }
    outlook.now = outlook.members.front().begin_of(kBehind_h);
    return outlook;
}

void chances_ahead(const Catalogue& catalogue) {
    const auto outlook = made_up_outlook();
    std::vector<weather::RulesOf> fields;
    for (std::size_t f = 0; f < kFields; ++f) {
        RandomStream random(1, "bench soil", f);
        const double bucket = 0.5 + random.uniform();
        const double lag = 0.4 + 2.0 * random.uniform();
        fields.emplace_back([=](const weather::LiftingConstants& constants) {
            auto rules = weather::usual_rules(constants);
            rules.bucket_mm *= bucket;
            rules.drain_lag_h *= lag;
            return rules;
        });
    }
    constexpr unsigned kThreads = 2;
    WorkerPool pool(kThreads);
    const weather::OpenQuestion question;
    std::optional<weather::WeatherAhead> ahead;
    const double once = seconds_of([&] { ahead.emplace(outlook, catalogue, question, pool); });
    double open_h = 0.0;
    const double all = seconds_of([&] {
        for (const auto& field : *weather::open_chances(*ahead, fields, pool)) {
            open_h += field.days[1].open_h.value / kFields;
        }
    });
    const auto& member = outlook.members.front();
    const auto best =
        weather::lifting_constants([&](ConstantId id) { return catalogue.value(id); });
    const auto sky = weather::sky_hours(member);
    const auto roots = weather::root_hours(member, sky, best);
    const std::size_t runs = outlook.members.size() * (question.draws + 1);
    const double bare = seconds_of([&] {
        pool.for_chunks(kFields, 8, [&](std::size_t from, std::size_t to) {
            std::vector<weather::FieldHour> hours(sky.size());
            for (std::size_t k = from * runs; k < to * runs; ++k) {
                weather::judge_hours(sky, roots, weather::usual_rules(best), best, hours);
            }
        });
    });
    std::printf(
        "days ahead: %zu members x %zu draws x %zu fields x %zu h in %.1f s on %u threads (goal "
        "60), %.1f h of tomorrow open; what all fields share took %.2f s of it; %.0f %% of the "
        "bare judging's speed\n",
        outlook.members.size(), question.draws, kFields, member.hours.size(), once + all, kThreads,
        open_h, once, 100.0 * bare / all);
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
    chances_ahead(catalogue);
    std::printf("EPW: %zu hours, %.1f MB, in %.1f ms (goal 20)\n", read / kTimes,
                static_cast<double>(text.size()) / 1e6, 1000.0 * parse / kTimes);
}
