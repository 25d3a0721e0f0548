// What is advised of a machine, and what keeps it from being advised, on the demo's scenes.
#include "engine/harvester_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "demo_season/invent.hpp"
#include "engine/as_of.hpp"
#include "engine/looks_of.hpp"
#include "io/harvester_text.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::hours;

/// Shares held too high, on the fifth of October.
constexpr const char* kShallow = "Chalk Ridge";
/// Turbines that run thin.
constexpr const char* kThin = "Warren Top";

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}
AdviceAnswer advice(const ledger::Season& season, const char* field) {
    auto answer = ask_advice(season, {.field = field});
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : AdviceAnswer{};
}
SetupAnswer setup(const ledger::Season& season, const char* field) {
    auto answer = ask_setup(season, {.field = field});
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : SetupAnswer{};
}

/// Every change that was weighed, the one advised first.
std::vector<ChangeTried> weighed(const AdviceAnswer& answer) {
    std::vector<ChangeTried> all = answer.others;
    if (answer.change) {
        all.insert(all.begin(), *answer.change);
    }
    return all;
}
enum class Way : std::uint8_t { up, down, either };
/// Whether any change that was weighed moves a control this way.
bool moves(const AdviceAnswer& answer, std::string_view control, Way way = Way::either) {
    for (const ChangeTried& tried : weighed(answer)) {
        for (const ChangeLine& line : tried.changes) {
            for (std::size_t i = 0; i < line.from.size(); ++i) {
                const bool is_up = line.to[i].value > line.from[i].value;
                if (line.from[i].control == control &&
                    (way == Way::either || is_up == (way == Way::up))) {
                    return true;
                }
            }
        }
    }
    return false;
}
double set_to(const AdviceAnswer& answer, std::string_view control) {
    const auto found = std::ranges::find(answer.settings, control, &ControlReading::control);
    EXPECT_NE(found, answer.settings.end()) << control;
    return found->value;
}

void pin(ledger::Season& season, std::string_view machine, const std::string& control) {
    auto& owner = *std::ranges::find(season.machines, machine, &ledger::Machine::name);
    const auto known = std::ranges::find(owner.controls, control, &ledger::OwnControl::control);
    if (known != owner.controls.end()) {
        known->hands_off = true;
    } else {
        ledger::OwnControl own;
        own.control = control;
        own.hands_off = true;
        owner.controls.push_back(std::move(own));
    }
}
/// A note in a field, so long after the last one there that everything has been seen.
Instant note(ledger::Season& season, const char* field, check::Answer answer,
             std::vector<check::SetControl> controls) {
    check::SettingsNote later;
    for (const auto& one : season.settings) {
        if (one.field == field && one.at >= later.at) {
            later = one;
        }
    }
    later.at += hours(5);
    later.id = Uuid::version7(later.at, 1, season.settings.size());
    later.answer = answer;
    later.controls = std::move(controls);
    season.settings.push_back(later);
    return later.at;
}

TEST(HarvesterQuestion, TheSameSeedGivesTheSameAnswerToTheBit) {
    // Numbers are written so that they are read back to the bit.
    const auto advised = [](const ledger::Season& season) {
        return io::advice_json(advice(season, kShallow), season.currency);
    };
    const auto entered = [](const ledger::Season& season) {
        return io::setup_json(setup(season, kThin), season.currency);
    };
    auto again = demo();
    EXPECT_EQ(advised(demo()), advised(again));
    EXPECT_EQ(entered(demo()), entered(again));
    // Notes are put in order by their instants, however they come.
    std::ranges::reverse(again.settings);
    EXPECT_EQ(advised(demo()), advised(again));
    again.seed = demo().seed + 1;
    EXPECT_NE(advised(demo()), advised(again));
}

TEST(HarvesterQuestion, AFaultIsSetRightWhereItArises) {
    const auto shallow = advice(demo(), kShallow);
    EXPECT_EQ(shallow.verdict, Verdict::change);
    EXPECT_TRUE(moves(shallow, "share.depth", Way::up));
    const auto thin = advice(demo(), kThin);
    EXPECT_EQ(thin.verdict, Verdict::change);
    EXPECT_TRUE(moves(thin, "turbine_1.speed", Way::down));
    EXPECT_FALSE(moves(thin, "share.depth"));
}

TEST(HarvesterQuestion, PinnedControlsAreInNoChange) {
    auto season = demo();
    pin(season, "Harvester South", "share.depth");
    ASSERT_TRUE(moves(advice(demo(), kShallow), "share.depth"));
    EXPECT_FALSE(moves(advice(season, kShallow), "share.depth"));
    // It is not set otherwise than usual for the entry either.
    const auto entry = setup(season, kShallow);
    for (const SetupLine& line : entry.lines) {
        if (line.reading.control == "share.depth") {
            EXPECT_EQ(line.reading.value, line.usual);
            EXPECT_TRUE(line.reasons.empty());
        }
    }
    // One of three turbines: not with the others either.
    pin(season, "Harvester North", "turbine_2.speed");
    ASSERT_TRUE(moves(advice(demo(), kThin), "turbine_2.speed"));
    EXPECT_FALSE(moves(advice(season, kThin), "turbine_2.speed"));
}

TEST(HarvesterQuestion, WhatWasDeclinedIsNotAdvisedAgainThatWayInThatField) {
    auto season = demo();
    constexpr const char* kElsewhere = "Upper Sallow";
    ASSERT_TRUE(moves(advice(season, kElsewhere), "share.depth", Way::up));
    note(season, kShallow, check::Answer::declined, {{"share.depth", 0.085}});
    EXPECT_FALSE(moves(advice(season, kShallow), "share.depth", Way::up));
    EXPECT_TRUE(moves(advice(season, kElsewhere), "share.depth", Way::up));
    // Nothing was set by it.
    EXPECT_EQ(set_to(advice(season, kShallow), "share.depth"),
              set_to(advice(demo(), kShallow), "share.depth"));
    // The other way is free: shallower was declined, and deeper is advised as before.
    season = demo();
    note(season, kShallow, check::Answer::declined, {{"share.depth", 0.050}});
    EXPECT_TRUE(moves(advice(season, kShallow), "share.depth", Way::up));
}

TEST(HarvesterQuestion, ANoteChangesTheSettings) {
    auto season = demo();
    const auto before = advice(season, kShallow);
    const Instant at = note(season, kShallow, check::Answer::accepted, {{"share.depth", 0.090}});
    const auto after = advice(season, kShallow);
    EXPECT_LT(set_to(before, "share.depth"), 0.060);
    EXPECT_EQ(set_to(after, "share.depth"), 0.090);
    EXPECT_EQ(after.set_at, at);
    // What the note leaves out stayed as it was.
    EXPECT_EQ(set_to(after, "turbine_1.speed"), set_to(before, "turbine_1.speed"));
    const auto tails = static_cast<std::size_t>(harvester::Figure::tails_broken);
    EXPECT_LT(after.now[tails].value, 0.75 * before.now[tails].value);
}

TEST(HarvesterQuestion, AFieldSetAsItIsEnteredIsLeft) {
    auto season = demo();
    constexpr const char* kNotBegun = "Cuckoo Pen";
    std::vector<check::SetControl> all;
    for (const SetupLine& line : setup(season, kNotBegun).lines) {
        all.push_back({line.reading.control, line.reading.value});
    }
    note(season, kShallow, check::Answer::accepted, std::move(all));
    season.settings.back().field = kNotBegun;
    season.settings.back().at = as_of(season);
    const auto answer = advice(season, kNotBegun);
    EXPECT_EQ(answer.checks_here, 0);
    EXPECT_NE(answer.verdict, Verdict::change);
    EXPECT_FALSE(answer.change);
}

TEST(HarvesterQuestion, NothingIsSaidTwice) {
    // Turbines run thin under tined guards, and nothing but these may be moved.
    auto season = demo();
    for (const ControlReading& reading : advice(season, kThin).settings) {
        if (!reading.control.starts_with("turbine_") || reading.control.ends_with("clearance")) {
            pin(season, "Harvester North", reading.control);
        }
    }
    const auto answer = advice(season, kThin);
    ASSERT_TRUE(answer.change);
    ASSERT_EQ(answer.change->changes.size(), 2U);
    EXPECT_EQ(answer.change->changes[0].confirm, answer.change->changes[1].confirm);
    EXPECT_EQ(answer.change->confirm, std::vector{answer.change->changes[0].confirm});
    const std::string text = io::advice_text(answer, season.currency, UnitSystem::metric);
    const auto first = text.find("then look at");
    EXPECT_NE(first, std::string::npos);
    EXPECT_EQ(text.find("then look at", first + 1), std::string::npos);
}

TEST(HarvesterQuestion, DrySoilCushionsNothing) {
    auto season = demo();
    const Instant dry = Day(std::chrono::year(2031) / 10 / 10);
    constexpr const char* kDry = "Lower Sallow";
    const auto& field = *std::ranges::find(season.fields, kDry, &ledger::Field::name);
    auto& owner = *std::ranges::find(season.machines, field.machine, &ledger::Machine::name);
    const auto known =
        std::ranges::find(owner.controls, "roller_bed.speed", &ledger::OwnControl::control);
    auto& rolls = known != owner.controls.end() ? *known : owner.controls.emplace_back();
    rolls.control = "roller_bed.speed";
    rolls.usual = 120.0 / 60.0;  // so slow that dry soil too wants more
    const auto entry = ask_setup(season, {.field = kDry, .at = dry});
    ASSERT_TRUE(entry.ok());
    EXPECT_EQ(entry->soil, "hard");
    const auto line = std::ranges::find(entry->lines, "roller_bed.speed",
                                        [](const SetupLine& one) { return one.reading.control; });
    ASSERT_GT(line->reading.value, line->usual);
    ASSERT_EQ(line->reasons.size(), 1U);
    EXPECT_EQ(line->reasons[0], "faster, so that clods and loose soil fall through");
}

TEST(HarvesterQuestion, SkinIsJudgedWhereTheWayEnds) {
    check::BeetSheet sheet;
    check::CountedBeet beet;
    beet.skin_damage = 80.0 * unit::cm2;
    beet.topping = check::Topping::correct;
    sheet.beets.assign(10, beet);
    const auto judged = [&](check::SeenAt seen_at) {
        sheet.seen_at = seen_at;
        return look_of(sheet, Catalogue{}).skin_beets;
    };
    EXPECT_GT(judged(check::SeenAt::tank), 0.0);
    EXPECT_EQ(judged(check::SeenAt::before_cleaning), 0.0);
    EXPECT_EQ(judged(check::SeenAt::row), 0.0);
}

TEST(HarvesterQuestion, AFieldThatWasLeftIsAsItWasSetThere) {
    // The machine went on to nine other fields, and was set for them.
    const auto answer = advice(demo(), kShallow);
    EXPECT_LT(set_to(answer, "share.depth"), 0.060);
    ASSERT_TRUE(answer.set_at.has_value());
    EXPECT_EQ(to_text(std::chrono::floor<std::chrono::days>(*answer.set_at)), "2031-10-05");
    // One that is not begun is as the machine stands now.
    const auto& last =
        *std::ranges::find_if(demo().settings.rbegin(), demo().settings.rend(),
                              [](const auto& one) { return one.machine == "Harvester South"; });
    const auto standing = advice(demo(), "Cuckoo Pen");
    EXPECT_EQ(standing.set_at, last.at);
}

TEST(HarvesterQuestion, WithoutTermsItSaysSo) {
    const auto says = [](const std::vector<std::string>& assumptions) {
        return std::ranges::any_of(assumptions, [](const std::string& one) {
            return one.find("no terms that pay") != std::string::npos;
        });
    };
    auto season = demo();
    EXPECT_FALSE(says(advice(season, kShallow).assumptions));
    season.terms = {};
    const auto unpaid = advice(season, kShallow);
    EXPECT_TRUE(says(unpaid.assumptions));
    EXPECT_TRUE(says(setup(season, kShallow).assumptions));
    for (const FaultCost& cost : unpaid.on_the_way.costs) {
        EXPECT_LT(std::abs(cost.cost.value.si()), 1e-9) << harvester::traits(cost.figure).key;
    }
}

TEST(HarvesterQuestion, WhatIsMissingIsToldWithAWayOut) {
    const auto said = [](const ledger::Season& season, const char* field) {
        const auto answer = ask_advice(season, {.field = field});
        EXPECT_FALSE(answer.ok());
        const auto entry = ask_setup(season, {.field = field});
        EXPECT_FALSE(entry.ok());
        const std::string text = answer.ok() ? "" : answer.problems().front().text();
        EXPECT_EQ(entry.ok() ? "" : entry.problems().front().text(), text);
        return text;
    };
    EXPECT_NE(said(demo(), "Chalk Rige").find("did you mean \"Chalk Ridge\""), std::string::npos);
    auto season = demo();
    std::ranges::find(season.fields, kShallow, &ledger::Field::name)->machine.clear();
    EXPECT_NE(said(season, kShallow).find("name it among the fields"), std::string::npos);
    season = demo();
    std::ranges::find(season.machines, "Harvester South", &ledger::Machine::name)->build.reset();
    EXPECT_NE(said(season, kShallow).find("has no build"), std::string::npos);
}

}  // namespace
}  // namespace beetwright::engine
