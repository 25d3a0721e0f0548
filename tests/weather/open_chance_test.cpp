#include "weather/open_chance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "base/random.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr std::size_t kMembers = 10;
const auto kMidnight = *parse_instant("2031-11-03T00:00+01:00");

struct Made {
    double air_C = 8.0;
    double rain_mm = 0.0;
};

/// Ten members from ten days before `now` to ten days after; `made` says what an hour is, by the
/// member and the hours from now on.
Outlook made_up(const std::function<Made(std::size_t, int)>& made, Instant now = kMidnight) {
    Outlook outlook;
    outlook.now = outlook.known_until = outlook.forecast_until = now;
    for (std::size_t m = 0; m < kMembers; ++m) {
        Series& series = outlook.members.emplace_back();
        series.place = Place::degrees(53.0, 8.0, 10.0);
        series.clock = hours(1);
        series.begin = now - days(10);
        for (int k = -240; k < 240; ++k) {
            const Made what = made(m, k);
            auto& hour = series.hours.emplace_back(unknown_hour());
            hour[static_cast<std::size_t>(Element::air)] = 273.15 + what.air_C;
            hour[static_cast<std::size_t>(Element::rain)] = what.rain_mm;
        }
    }
    return outlook;
}

const Catalogue kCatalogue;

struct Answer {
    std::vector<DayAhead> days;
    std::vector<SpanAhead> spans;
    OpenChances field;
};

Answer ask(const Outlook& outlook, const RulesOf& rules = usual_rules,
           const OpenQuestion& question = {}) {
    WorkerPool pool(1);
    const WeatherAhead ahead(outlook, kCatalogue, question, pool);
    const std::array fields{rules};
    auto answers = open_chances(ahead, fields, pool);
    return {{ahead.days().begin(), ahead.days().end()},
            {ahead.spans().begin(), ahead.spans().end()},
            answers->front()};
}

TEST(OpenChance, MildAndDryIsOpenForSure) {
    const auto answer = ask(made_up([](std::size_t, int) { return Made{}; }));
    ASSERT_EQ(answer.field.days.size(), 10U);
    for (const auto& day : answer.field.days) {
        EXPECT_EQ(day.open_h.value, 24.0);
        EXPECT_EQ(day.open_h.low, 24.0);
        EXPECT_EQ(day.open_h.high, 24.0);
        EXPECT_EQ(day.useful_chance, 1.0);
        EXPECT_EQ(day.stretch_end - day.stretch_begin, hours(24));
    }
    EXPECT_EQ(answer.field.days.front().stretch_begin, kMidnight);
    for (const auto& span : answer.field.spans) {
        EXPECT_EQ(span.none_chance, 0.0);
        EXPECT_EQ(span.too_wet_chance, 0.0);
    }
}

// Three members of ten rain 4 mm a day, at noon: more than the 3 mm that stop, which no draw moves.
TEST(OpenChance, TheChanceIsTheShareOfTheMembersThatAreDry) {
    const auto answer = ask(made_up([](std::size_t m, int k) {
        return Made{.rain_mm = m < 3 && (k + 240) % 24 == 12 ? 4.0 : 0.0};
    }));
    for (std::size_t d = 0; d < 10; ++d) {
        const auto& day = answer.field.days[d];
        EXPECT_NEAR(day.open_h.value, 0.7 * 24.0, 1e-12);
        EXPECT_EQ(day.open_h.low, 0.0);
        EXPECT_EQ(day.open_h.high, 24.0);
        EXPECT_NEAR(day.useful_chance, 0.7, 1e-12);
        EXPECT_NEAR(day.held_h[static_cast<std::size_t>(Held::wet)], 0.3 * 24.0, 1e-12);
        EXPECT_NEAR(day.held_h[static_cast<std::size_t>(Held::frost)], 0.0, 1e-12);
        EXPECT_EQ(day.stretch_end - day.stretch_begin, hours(24)) << "seven of ten are open";
        EXPECT_NEAR(answer.days[d].rain_mm.value, 0.3 * 4.0, 1e-12);
        EXPECT_EQ(answer.days[d].rain_mm.low, 0.0);
        EXPECT_EQ(answer.days[d].rain_mm.high, 4.0);
    }
    for (const auto& span : answer.field.spans) {
        EXPECT_NEAR(span.none_chance, 0.3, 1e-12);
        EXPECT_NEAR(span.too_wet_chance, 0.3, 1e-12);
    }
}

// Two members of ten fall to -20 °C on the third day and stay there. The root follows with a lag of
// six days (five to seven): from 8 °C it reaches -3 °C after 6 ln(28/17) = 3 days, in the second
// span.
TEST(OpenChance, FrostOfCrownsAndThenOfRoots) {
    const auto answer = ask(
        made_up([](std::size_t m, int k) { return Made{.air_C = m < 2 && k >= 48 ? -20.0 : 8.0}; }),
        usual_rules, {.span = days(3)});
    ASSERT_EQ(answer.spans.size(), 4U);
    EXPECT_EQ(answer.spans[0].hours, 72U);
    EXPECT_EQ(answer.spans[3].hours, 24U);
    EXPECT_NEAR(answer.spans[0].crown_frost_chance, 0.2, 1e-12);
    EXPECT_NEAR(answer.spans[0].root_frost_chance, 0.0, 1e-12);
    EXPECT_NEAR(answer.spans[1].root_frost_chance, 0.2, 1e-12);
    EXPECT_NEAR(answer.field.spans[1].none_chance, 0.2, 1e-12);
    EXPECT_NEAR(answer.field.spans[1].too_wet_chance, 0.0, 1e-12) << "it is frost that holds";
    EXPECT_NEAR(answer.days[4].least_K.value, 273.15 + 0.8 * 8.0 - 0.2 * 20.0, 1e-9);
    EXPECT_NEAR(answer.days[4].most_K.high, 273.15 + 8.0, 1e-9);
}

// Rain that comes at another hour to some members than to others.
TEST(OpenChance, TheLongestStretchIsThatOfMostMembers) {
    const RulesOf to_slicer = [](const LiftingConstants& constants) {
        auto rules = usual_rules(constants);
        rules.goes_to_pile = false;
        rules.first_filling = 0.2;
        return rules;
    };
    // Four of ten have 3 mm at six in the morning of the first day, two others at nine.
    const auto answer = ask(made_up([](std::size_t m, int k) {
                                const bool rains = (m < 4 && k == 6) || (m >= 4 && m < 6 && k == 9);
                                return Made{.rain_mm = rains ? 3.0 : 0.0};
                            }),
                            to_slicer);
    const auto& today = answer.field.days[0];
    EXPECT_EQ(today.stretch_begin, kMidnight);
    EXPECT_EQ(today.stretch_end, kMidnight + hours(9)) << "from nine on six of ten are wet";
    const auto& tomorrow = answer.field.days[1];
    // Rain of six counts until it has been a day: until its end at six, of nine until nine.
    EXPECT_EQ(tomorrow.stretch_begin, kMidnight + hours(24 + 6));
    EXPECT_EQ(tomorrow.stretch_end, kMidnight + hours(48));
    EXPECT_NEAR(today.open_h.value, (4 * 6 + 2 * 9 + 4 * 24) / 10.0, 1e-12);
}

TEST(OpenChance, TodayIsWhatIsLeftOfIt) {
    const auto answer =
        ask(made_up([](std::size_t, int) { return Made{}; }, kMidnight + hours(15)));
    ASSERT_EQ(answer.days.size(), 11U);
    EXPECT_EQ(answer.days.front().hours, 9U);
    EXPECT_EQ(answer.days.back().hours, 15U);
    EXPECT_EQ(answer.field.days.front().open_h.value, 9.0);
    EXPECT_EQ(answer.field.days.back().useful_chance, 1.0);
    ASSERT_EQ(answer.spans.size(), 2U);
    EXPECT_EQ(answer.spans[0].hours, 9U + 6U * 24U);
    EXPECT_EQ(answer.spans[1].hours, 3U * 24U + 15U);
    EXPECT_EQ(answer.spans[1].first, answer.spans[0].last + days(1));
    // Ten days in spans of five: the last would be of 15 hours, and belongs to the second.
    const auto fives = ask(made_up([](std::size_t, int) { return Made{}; }, kMidnight + hours(15)),
                           usual_rules, {.span = days(5)});
    ASSERT_EQ(fives.spans.size(), 2U);
    EXPECT_EQ(fives.spans[1].last, fives.days.back().day);
}

/// Weather in which all reasons occur.
Outlook unsettled() {
    std::vector<RandomStream> random;
    for (std::size_t m = 0; m < kMembers; ++m) {
        random.emplace_back(1, "unsettled", m);
    }
    return made_up([&](std::size_t m, int k) {
        const double daily = 6.0 * std::sin(2.0 * 3.14159265 * (k + 15) / 24.0);
        return Made{.air_C = 4.0 - 0.03 * k + daily + random[m].normal(),
                    .rain_mm = random[m].chance(0.05) ? 3.0 * random[m].uniform() : 0.0};
    });
}

std::vector<RulesOf> some_fields(std::size_t count) {
    std::vector<RulesOf> fields;
    for (std::size_t f = 0; f < count; ++f) {
        fields.emplace_back([f](const LiftingConstants& constants) {
            auto rules = usual_rules(constants);
            rules.bucket_mm *= 0.5 + 0.1 * static_cast<double>(f % 10);
            return rules;
        });
    }
    return fields;
}

TEST(OpenChance, DoesNotDependOnTheThreads) {
    const auto outlook = unsettled();
    const auto fields = some_fields(40);
    const auto with = [&](unsigned threads) {
        WorkerPool pool(threads);
        const WeatherAhead ahead(outlook, kCatalogue, {}, pool);
        return *open_chances(ahead, fields, pool);
    };
    const auto one = with(1);
    const auto three = with(3);
    bool is_mixed = false;
    for (std::size_t f = 0; f < fields.size(); ++f) {
        for (std::size_t d = 0; d < one[f].days.size(); ++d) {
            const auto& a = one[f].days[d];
            const auto& b = three[f].days[d];
            EXPECT_EQ(a.open_h.value, b.open_h.value);
            EXPECT_EQ(a.open_h.low, b.open_h.low);
            EXPECT_EQ(a.open_h.high, b.open_h.high);
            EXPECT_EQ(a.useful_chance, b.useful_chance);
            EXPECT_EQ(a.held_h, b.held_h);
            EXPECT_EQ(a.stretch_begin, b.stretch_begin);
            EXPECT_LE(a.open_h.low, a.open_h.value);
            EXPECT_LE(a.open_h.value, a.open_h.high);
            is_mixed = is_mixed || (a.useful_chance > 0.1 && a.useful_chance < 0.9);
        }
        EXPECT_EQ(one[f].spans[0].none_chance, three[f].spans[0].none_chance);
        EXPECT_LE(one[f].spans[0].too_wet_chance, one[f].spans[0].none_chance);
    }
    EXPECT_TRUE(is_mixed) << "the weather was not so easy";
}

// What a member gives under one draw, judged apart by the functions that the command line uses.
TEST(OpenChance, CountsWhatTheHoursAreJudgedToBe) {
    const auto outlook = unsettled();
    const auto answer = ask(outlook, usual_rules, {.draws = 1});
    const auto best = lifting_constants([](ConstantId id) { return kCatalogue.value(id); });
    std::array<double, kHolds> held{};
    for (const auto& member : outlook.members) {
        const auto sky = sky_hours(member);
        const auto roots = root_hours(member, sky, best);
        std::vector<FieldHour> judged(member.hours.size());
        judge_hours(sky, roots, usual_rules(best), best, judged);
        for (std::size_t k = 240 + 48; k < 240 + 72; ++k) {
            for (std::size_t h = 0; h < kHolds; ++h) {
                held[h] += judged[k].holds.has(static_cast<Held>(h)) ? 1.0 / kMembers : 0.0;
            }
        }
    }
    for (std::size_t h = 0; h < kHolds; ++h) {
        EXPECT_NEAR(answer.field.days[2].held_h[h], held[h], 1e-9);
    }
}

class StopsAfter : public Progress {
 public:
    explicit StopsAfter(int calls) : calls_(calls) {}
    bool go_on(double share) override {
        EXPECT_GE(share, last_);
        last_ = share;
        return --calls_ > 0;
    }
    double last_ = 0.0;

 private:
    int calls_;
};

TEST(OpenChance, TellsHowFarItIsAndStops) {
    WorkerPool pool(2);
    const WeatherAhead ahead(unsettled(), kCatalogue, {}, pool);
    const auto fields = some_fields(20);
    StopsAfter never(1000);
    EXPECT_TRUE(open_chances(ahead, fields, pool, &never));
    EXPECT_DOUBLE_EQ(never.last_, 1.0);
    StopsAfter soon(3);
    EXPECT_FALSE(open_chances(ahead, fields, pool, &soon));
}

}  // namespace
}  // namespace beetwright::weather
