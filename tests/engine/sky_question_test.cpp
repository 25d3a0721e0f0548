// The coming days of the demo season, against hours judged one by one.
#include "engine/sky_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "demo_season/invent.hpp"
#include "engine/as_of.hpp"
#include "engine/ground_state.hpp"
#include "engine/lifting_rules.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}
SkyAnswer answer_of(const ledger::Season& season, const SkyQuestion& question) {
    WorkerPool pool(2);
    auto answer = ask_sky(season, question, pool);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : SkyAnswer{};
}
/// The demo with other weather ahead.
template <class Change>
ledger::Season with_forecast(Change&& change) {
    auto season = demo();
    auto weather = *season.weather;
    for (auto& run : weather.forecast) {
        for (std::size_t k = 0; k < run.hours.size(); ++k) {
            change(run, k);
        }
    }
    season.weather = std::make_shared<const weather::KnownWeather>(std::move(weather));
    return season;
}
double& value(weather::Series& series, std::size_t hour, weather::Element element) {
    return series.hours[hour][static_cast<std::size_t>(element)];
}

TEST(SkyQuestion, IsOfTheDaysAskedFor) {
    const auto answer = answer_of(demo(), {.days = 10});
    ASSERT_EQ(answer.days.size(), 10U);
    ASSERT_EQ(answer.open.size(), 10U);
    EXPECT_EQ(answer.at, as_of(demo()));
    EXPECT_EQ(answer.days.front().hours, 18U);  // from 6 o'clock on
    for (std::size_t d = 0; d < 10; ++d) {
        const auto& day = answer.days[d];
        EXPECT_EQ(day.day, *parse_day("2031-12-04") + std::chrono::days(d));
        EXPECT_EQ(day.hours, d == 0 ? 18U : 24U);
        const auto& open = answer.open[d].open_h;
        EXPECT_LE(0.0, open.low);
        EXPECT_LE(open.low, open.value + 1e-9);
        EXPECT_LE(open.value, open.high + 1e-9);
        EXPECT_LE(open.high, static_cast<double>(day.hours));
    }
}

TEST(SkyQuestion, RainHoldsAndSaysSo) {
    const auto wet = with_forecast([](weather::Series& run, std::size_t k) {
        value(run, k, weather::Element::rain) = k < 48 ? 1.0 : 0.0;
    });
    const auto answer = answer_of(wet, {.days = 3});
    EXPECT_LT(answer.open[1].open_h.value, 0.5);
    EXPECT_LT(answer.open[1].useful_chance, 0.01);
    EXPECT_GT(answer.open[1].held_h[static_cast<std::size_t>(weather::Held::wet)], 23.5);
    EXPECT_EQ(answer.open[1].stretch_begin, answer.open[1].stretch_end);
    EXPECT_NEAR(answer.days[1].rain_mm.value, 24.0, 1e-9);
}

TEST(SkyQuestion, FrostHolds) {
    const auto cold = with_forecast([](weather::Series& run, std::size_t k) {
        value(run, k, weather::Element::air) = 258.0;
        value(run, k, weather::Element::rain) = 0.0;
    });
    const auto answer = answer_of(cold, {.days = 4});
    EXPECT_LT(answer.open[3].useful_chance, 0.01);
    EXPECT_GT(answer.open[3].held_h[static_cast<std::size_t>(weather::Held::frost)], 23.5);
}

// Warm roots are held before a pile and not before a slicer.
TEST(SkyQuestion, WarmthHoldsBeforeAPileAlone) {
    auto warm = with_forecast([](weather::Series& run, std::size_t k) {
        value(run, k, weather::Element::air) = 293.0;
        value(run, k, weather::Element::rain) = 0.0;
    });
    const auto place = [&](const char* destination, ledger::DestinationKind kind) {
        auto season = warm;
        season.destinations.push_back({.name = destination, .kind = kind, .temperatures = {}});
        auto& field = *std::ranges::find(season.fields, "Cuckoo Pen", &ledger::Field::name);
        field.destination = destination;
        return answer_of(season, {.field = "Cuckoo Pen", .days = 10}).open[9];
    };
    EXPECT_LT(place("heap", ledger::DestinationKind::pile).open_h.value, 6.0);
    EXPECT_GT(place("works", ledger::DestinationKind::factory).open_h.value, 20.0);
    EXPECT_GT(answer_of(warm, {.days = 10}).days[9].intake_most_K.value, 286.0);
}

TEST(SkyQuestion, NightsAreHeldForWhoDoesNotWorkInThem) {
    const auto always = answer_of(demo(), {.days = 3});
    const auto days = answer_of(demo(), {.days = 3, .works_at_night = false});
    const auto dark = days.open[1].held_h[static_cast<std::size_t>(weather::Held::dark)];
    EXPECT_EQ(always.open[1].held_h[static_cast<std::size_t>(weather::Held::dark)], 0.0);
    // 5 December at 54 degrees north: the sun is up for 7.5 h, civil twilight adds 0.7 h on each
    // side; hours are dark or not by their middles.
    EXPECT_NEAR(dark, 15.0, 1.0);
    EXPECT_LE(days.open[1].open_h.high, 24.0 - dark + 1e-9);
}

TEST(SkyQuestion, GoesByTheRulesOfTheFieldsSoil) {
    auto season = with_forecast([](weather::Series& run, std::size_t k) {
        value(run, k, weather::Element::rain) = k < 6 ? 0.8 : 0.0;  // 4.8 mm
    });
    season.soils.clear();
    auto& field = *std::ranges::find(season.fields, "Cuckoo Pen", &ledger::Field::name);
    field.soil = "our bog";
    const auto open = [&] { return answer_of(season, {.field = "Cuckoo Pen"}).open[0].open_h; };
    const auto usual = open();
    ledger::SoilRules ours;
    ours.name = "our bog";
    auto easy = ours;
    easy.soil_class = weather::SoilClass::sand;
    easy.holds = Length(0.4);
    easy.drain_lag = 1.0 * unit::hour;
    easy.rain_stop = Length(0.010);
    season.soils = {easy};
    EXPECT_GT(open().value, usual.value + 6.0);
    ours.rain_stop = Length(0.0005);
    season.soils = {ours};
    EXPECT_LT(open().value, usual.value + 1e-9);
    const auto catalogue = Catalogue{};
    const auto constants =
        weather::lifting_constants([&](ConstantId id) { return catalogue.value(id); });
    EXPECT_EQ(rules_of(season, field)(constants).rain_stop_mm, 0.5);
    EXPECT_EQ(rules_of(season, field)(constants).bucket_mm, constants.bucket_mm);  // loam's
}

TEST(SkyQuestion, GoesOnWithWhatIsUsualWhereTheForecastEnds) {
    const auto answer = answer_of(demo(), {.days = 20});
    ASSERT_EQ(answer.days.size(), 20U);
    const auto width = [&](std::size_t d) {
        return (answer.days[d].most_K.high - answer.days[d].most_K.low);
    };
    EXPECT_GT(width(15), width(1));
    EXPECT_EQ(answer.forecast_until, Instant(*parse_day("2031-12-14")) + std::chrono::hours(5));
}

TEST(SkyQuestion, IsTheSameForAnyNumberOfThreads) {
    WorkerPool one(1);
    WorkerPool three(3);
    const auto a = *ask_sky(demo(), {.field = "Cuckoo Pen"}, one);
    const auto b = *ask_sky(demo(), {.field = "Cuckoo Pen"}, three);
    for (std::size_t d = 0; d < a.open.size(); ++d) {
        EXPECT_EQ(a.open[d].open_h.value, b.open[d].open_h.value);
        EXPECT_EQ(a.days[d].intake_most_K.high, b.days[d].intake_most_K.high);
    }
}

TEST(SkyQuestion, RefusesWhatCannotBeAsked) {
    WorkerPool pool(1);
    auto dark = demo();
    dark.weather = nullptr;
    EXPECT_NE(ask_sky(dark, {}, pool).problems().front().what.find("no weather yet"),
              std::string::npos);
    EXPECT_EQ(
        ask_sky(demo(), {.field = "Nowhere", .days = 0, .members = 0}, pool).problems().size(), 3U);
    auto over = demo();
    auto weather = *over.weather;
    weather.climate.reset();
    weather.forecast.clear();
    over.weather = std::make_shared<const weather::KnownWeather>(weather);
    EXPECT_FALSE(ask_sky(over, {}, pool).ok());
}

// Ground of the demo: dry in September, wet in October; the harder pressed the worse.
TEST(GroundState, FollowsTheRainAndTheWheel) {
    const auto at = [](const char* day, double load_t) {
        auto season = known_season(demo(), Instant(*parse_day(day)));
        auto& field = *std::ranges::find(season.fields, "Cuckoo Pen", &ledger::Field::name);
        auto& machine = *std::ranges::find(season.machines, field.machine, &ledger::Machine::name);
        machine.heaviest_wheel.load = Mass(1000.0 * load_t);
        return *ground_state(season, field, *ledger::season_catalogue(season));
    };
    const auto dry = at("2031-10-08", 8.0);
    const auto wet = at("2031-10-25", 8.0);
    EXPECT_LT(dry.moisture + 0.05, wet.moisture);
    EXPECT_LT(dry.consistency, wet.consistency);
    EXPECT_LT(dry.bearing.ploughed.chance[2], wet.bearing.ploughed.chance[2]);
    EXPECT_LT(at("2031-10-25", 3.0).bearing.below.stress_kPa, wet.bearing.below.stress_kPa);
    EXPECT_EQ(wet.machine, "Harvester South");
    EXPECT_NEAR(std::accumulate(wet.consistency_chance.begin(), wet.consistency_chance.end(), 0.0),
                1.0, 1e-9);
}

// Thirty millimetres fall on the first day, or nothing does.
TEST(GroundAhead, GoesOnFromWhatWasMeasured) {
    const auto of = [](double rain_mm_per_h) {
        const auto season = with_forecast([&](weather::Series& run, std::size_t k) {
            value(run, k, weather::Element::rain) = k < 15 ? rain_mm_per_h : 0.0;
        });
        return answer_of(season, {.field = "Cuckoo Pen", .days = 8}).ground;
    };
    const auto dry = of(0.0);
    const auto wet = of(2.0);
    ASSERT_EQ(dry.size(), 8U);
    ASSERT_EQ(wet.size(), 8U);
    const auto& field = *std::ranges::find(demo().fields, "Cuckoo Pen", &ledger::Field::name);
    const auto now = *ground_state(demo(), field, *ledger::season_catalogue(demo()));
    EXPECT_LT(dry[0].moisture.high, now.moisture + 1e-3);
    EXPECT_GT(wet[0].moisture.low, now.moisture + 0.03);
    for (std::size_t d = 0; d < 8; ++d) {
        EXPECT_EQ(dry[d].day, *parse_day("2031-12-04") + std::chrono::days(d));
        EXPECT_LE(dry[d].moisture.value, d == 0 ? 1.0 : dry[d - 1].moisture.value + 1e-9);
        EXPECT_LE(dry[d].bearing_chance[2], wet[d].bearing_chance[2] + 1e-9);
        for (const auto& chances : {wet[d].consistency_chance}) {
            EXPECT_NEAR(std::accumulate(chances.begin(), chances.end(), 0.0), 1.0, 1e-9);
        }
        EXPECT_NEAR(wet[d].bearing_chance[0] + wet[d].bearing_chance[1] + wet[d].bearing_chance[2],
                    1.0, 1e-9);
    }
    // It drains: a week later less is left of the difference.
    EXPECT_LT(wet[7].moisture.value - dry[7].moisture.value,
              0.7 * (wet[0].moisture.value - dry[0].moisture.value));
}

TEST(GroundAhead, IsNotToldOfNoFieldAndWithoutMeasuredWeather) {
    EXPECT_TRUE(answer_of(demo(), {}).ground.empty());
    auto season = demo();
    auto weather = *season.weather;
    weather.observed.reset();
    season.weather = std::make_shared<const weather::KnownWeather>(std::move(weather));
    EXPECT_TRUE(answer_of(season, {.field = "Cuckoo Pen"}).ground.empty());
}

TEST(GroundState, OfAMachineWithoutWheelsIsOfAUsualOne) {
    auto season = demo();
    for (auto& machine : season.machines) {
        machine.heaviest_wheel = {};
    }
    const auto& field = *std::ranges::find(season.fields, "Cuckoo Pen", &ledger::Field::name);
    const auto state = *ground_state(season, field, Catalogue{});
    EXPECT_EQ(state.machine, "");
    EXPECT_NEAR(state.tyre.load_N, 8000.0 * 9.80665, 1e-6);
    EXPECT_NEAR(state.tyre.pressure_kPa, 220.0, 1e-9);
    season.weather = nullptr;
    EXPECT_FALSE(ground_state(season, field, Catalogue{}).has_value());
}

}  // namespace
}  // namespace beetwright::engine
