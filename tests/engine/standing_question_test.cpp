// What stands in a field of the demo season, and what waiting is worth, against what is reckoned
// apart.
#include "engine/standing_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "demo_season/invent.hpp"
#include "engine/as_of.hpp"
#include "engine/crop_state.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "worth/settle.hpp"

namespace beetwright::engine {
namespace {

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}

Result<StandingAnswer> asked(const ledger::Season& season, const StandingQuestion& question) {
    WorkerPool pool(1);
    return ask_standing(season, question, pool);
}
StandingAnswer answer_of(const ledger::Season& season, const StandingQuestion& question) {
    auto answer = asked(season, question);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : StandingAnswer{};
}
Instant noon(const char* day) {
    return Instant(*parse_day(day)) + std::chrono::hours(12);
}
/// Without weather, so that nothing goes wrong but what the crop itself does.
ledger::Season without_weather() {
    auto season = demo();
    season.weather = nullptr;
    return season;
}

TEST(StandingQuestion, KnowsAFieldBetterTheMoreIsSeenOfIt) {
    auto nothing = without_weather();
    nothing.standing.clear();
    for (auto& field : nothing.fields) {
        field.lifted.reset();
    }
    nothing.loads.clear();
    auto elsewhere = without_weather();
    std::erase_if(elsewhere.standing, [](const auto& look) { return look.field == "Cuckoo Pen"; });
    const auto width = [](const ledger::Season& season, RestsOn rests_on) {
        const auto answer = answer_of(season, {.field = "Cuckoo Pen", .at = noon("2031-12-04")});
        EXPECT_EQ(answer.rests_on, rests_on) << answer.evidence;
        return (answer.now.root.high - answer.now.root.low).si();
    };
    const double by_curve = width(nothing, RestsOn::published);
    const double by_neighbours = width(elsewhere, RestsOn::learned);
    const double by_digs = width(without_weather(), RestsOn::measured);
    EXPECT_LT(by_neighbours, 0.9 * by_curve);
    EXPECT_LT(by_digs, 0.9 * by_neighbours);
}

// The truth of both fields that still stand lies in the interval of what would be delivered: the
// demo's truth is drawn apart from the growth curve.
TEST(StandingQuestion, HoldsTheTruthOfFieldsThatStand) {
    const auto invented = demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{}));
    int standing = 0;
    for (std::size_t i = 0; i < invented.season.fields.size(); ++i) {
        const auto& field = invented.season.fields[i];
        if (field.lifted) {
            continue;
        }
        ++standing;
        const auto answer = answer_of(invented.season, {.field = field.name});
        EXPECT_LT(answer.now.root.low.si(), invented.truth[i].standing.si()) << field.name;
        EXPECT_GT(answer.now.root.high.si(), 0.79 * invented.truth[i].standing.si()) << field.name;
    }
    EXPECT_EQ(standing, 2);
}

TEST(StandingQuestion, JudgesADayGoneByByWhatWasKnownThen) {
    const StandingQuestion question{
        .field = "Upper Sallow", .wait_days = 10, .at = noon("2031-10-05")};
    const auto whole = answer_of(demo(), question);
    auto then = demo();
    const auto is_later = [&](const auto& one) { return one.at > *question.at; };
    std::erase_if(then.standing, is_later);
    std::erase_if(then.loads, is_later);
    for (auto& field : then.fields) {
        if (field.lifted && *field.lifted > *parse_day("2031-10-05")) {
            field.lifted.reset();
        }
    }
    std::erase_if(then.tares, is_later);
    std::erase_if(then.labs, is_later);
    std::erase_if(then.beet_sheets, is_later);
    std::erase_if(then.strips, is_later);
    then.weather = std::make_shared<const weather::KnownWeather>(
        weather::known_at(*demo().weather, *question.at));
    const auto cut = answer_of(then, question);
    EXPECT_EQ(whole.evidence, cut.evidence);
    EXPECT_EQ(whole.mishaps.too_wet, cut.mishaps.too_wet);
    EXPECT_EQ(whole.mishaps.leaf_frost, cut.mishaps.leaf_frost);
    EXPECT_EQ(whole.wait.change.value, cut.wait.change.value);
    EXPECT_EQ(whole.wait.money.value, cut.wait.money.value);
    EXPECT_EQ(whole.ground->moisture, cut.ground->moisture);
    EXPECT_EQ(whole.ground->day, *parse_day("2031-10-05"));
}

// With recoverable sugar paid at a flat price and nothing else, money is sugar times the price.
TEST(StandingQuestion, PaysWaitingByTheTerms) {
    auto season = without_weather();
    season.terms = worth::Terms{};
    season.terms.currency = season.currency;
    season.terms.recoverable = worth::RecoverablePayment{
        .price = MoneyPerSugar(0.4),
        .fixed_loss = SugarContent(Catalogue{}.value(ConstantId::molasses_factory_loss))};
    const StandingQuestion question{.field = "Cuckoo Pen", .at = noon("2031-11-01")};
    const auto flat = answer_of(season, question);
    EXPECT_NEAR(flat.wait.money.value.si(), 0.4 * flat.wait.change.value.si(),
                1e-6 * flat.wait.now.value.si());
    EXPECT_NEAR(flat.wait.money.low.si(), 0.4 * flat.wait.change.low.si(),
                1e-6 * flat.wait.now.value.si());
    EXPECT_EQ(flat.wait.chance_of_less_money, flat.wait.chance_of_loss);
    // A tenth more until the first of the two days only: what is delivered later misses it.
    season.terms.premiums.push_back(
        {.from = *parse_day("2031-10-01"), .to = *parse_day("2031-11-01"), .share = 0.1});
    const auto early = answer_of(season, question);
    EXPECT_NEAR(early.wait.money.value.si(),
                flat.wait.money.value.si() - 0.1 * 0.4 * flat.wait.now.value.si(),
                1e-6 * flat.wait.now.value.si());
    EXPECT_GT(early.wait.chance_of_less_money, 0.9);
    season.terms.recoverable.reset();
    season.terms.premiums.clear();
    EXPECT_FALSE(answer_of(season, question).wait.money.value.is_known());
}

// The same beet settled by the cent: the difference of two days' payments, terms and all.
TEST(StandingQuestion, PaysAsASettlementDoes) {
    auto season = without_weather();
    for (auto& look : season.standing) {  // disease is not in the crop's means
        look.leaf_sick = std::nan("");
        look.leaf_frozen = check::Seen::not_judged;
    }
    const auto catalogue = *ledger::season_catalogue(season);
    const auto amounts = ledger::season_amounts(ledger::without_superseded(season), catalogue);
    const auto place = static_cast<std::size_t>(
        std::ranges::find(season.fields, "Cuckoo Pen", &ledger::Field::name) -
        season.fields.begin());
    const double soil = amounts[place].of(ledger::Amount::soil).number.mean;
    const double tops = amounts[place].of(ledger::Amount::tops).number.mean;
    const auto paid = [&](const char* day, double clean_kg, double pol, double molasses) {
        worth::Delivery delivery;
        delivery.delivered = *parse_day(day);
        delivery.clean = CleanMass(clean_kg);
        delivery.soil = Mass(soil * clean_kg);
        delivery.tops = Mass(tops * clean_kg);
        delivery.pol = SugarContent(pol);
        delivery.molasses_loss = SugarContent(molasses);
        delivery.haul = season.fields[place].haul;
        const auto settled = worth::settle(season.terms, delivery);
        EXPECT_TRUE(settled.ok());
        return 0.01 * static_cast<double>(settled->total());
    };
    // Over a wait on which the crop is known for sure, mean values pay nearly what the mean of the
    // draws does: the demo's terms are straight lines in mass and content.
    const auto answer =
        answer_of(season, {.field = "Cuckoo Pen", .wait_days = 21, .at = noon("2031-10-15")});
    constexpr double kShare = 0.79;
    constexpr double kHectare_m2 = 1e4;
    const auto of = [&](const CropOnDay& crop, const char* day) {
        return paid(day, kShare * crop.root.value.si() * kHectare_m2, crop.pol.value.si(),
                    crop.molasses.value.si());
    };
    const double by_settlement = of(answer.later, "2031-11-05") - of(answer.now, "2031-10-15");
    const double by_question = answer.wait.money.value / unit::money_per_ha;
    // Mass and content vary together, which means alone do not know.
    EXPECT_NEAR(by_question, by_settlement, 0.05 * std::abs(by_settlement) + 15.0);
}

TEST(StandingQuestion, SetsFrostAndWetAgainstAWait) {
    auto cold = demo();
    auto weather = *cold.weather;
    for (auto& run : weather.forecast) {
        for (auto& hour : run.hours) {
            hour[static_cast<std::size_t>(weather::Element::air)] -= 25.0;
        }
    }
    cold.weather = std::make_shared<const weather::KnownWeather>(weather);
    const auto frozen = answer_of(cold, {.field = "Cuckoo Pen"});
    const auto mild = answer_of(demo(), {.field = "Cuckoo Pen"});
    EXPECT_EQ(frozen.mishaps.leaf_frost, 1.0);
    EXPECT_GT(frozen.mishaps.frozen_roots, 0.9);
    EXPECT_LT(mild.mishaps.frozen_roots, 0.1);
    EXPECT_LT(frozen.wait.change.value.si(), 0.0);
    EXPECT_GT(frozen.wait.chance_of_loss, 0.9);
    EXPECT_EQ(frozen.wait.change_if_all_goes_well.value, mild.wait.change_if_all_goes_well.value);
}

TEST(StandingQuestion, SaysWhatItDoesNotKnow) {
    const auto dark = answer_of(without_weather(), {.field = "Cuckoo Pen"});
    EXPECT_FALSE(dark.mishaps_known);
    EXPECT_FALSE(dark.ground.has_value());
    EXPECT_TRUE(std::ranges::any_of(dark.assumptions, [](const auto& sentence) {
        return sentence.find("no weather is known") != std::string::npos;
    }));
    auto unseen = demo();
    std::erase_if(unseen.standing, [](const auto& look) { return look.field == "Cuckoo Pen"; });
    const auto answer = answer_of(unseen, {.field = "Cuckoo Pen"});
    EXPECT_FALSE(answer.leaf.has_value());
    EXPECT_FALSE(answer.crowns.has_value());
}

TEST(StandingQuestion, TakesTheLastLookThatStands) {
    auto season = demo();
    const auto first = std::ranges::find_if(season.standing, [](const auto& look) {
        return look.field == "Cuckoo Pen" && !look.crowns.empty();
    });
    ASSERT_NE(first, season.standing.end());
    check::StandingLook right = *first;
    right.id = Uuid::version7(first->at, 7, 7);
    right.supersedes = first->id;
    right.crowns.assign(10, Length(0.02));
    right.crowns[3] = Length(0.10);
    season.standing.push_back(right);
    const auto answer = answer_of(season, {.field = "Cuckoo Pen"});
    EXPECT_EQ(answer.crowns->heights.beets, 10);
    EXPECT_NEAR(answer.crowns->heights.mean.value.si(), 0.028, 1e-12);
}

TEST(StandingQuestion, RefusesWhatCannotBeAsked) {
    EXPECT_EQ(asked(demo(), {.field = "Nowhere"}).problems().front().kind, ProblemKind::missing);
    const auto lifted = asked(demo(), {.field = "Upper Sallow"});
    EXPECT_NE(lifted.problems().front().what.find("was lifted on 2031-10-26"), std::string::npos);
    EXPECT_EQ(asked(demo(), {.field = "Cuckoo Pen", .wait_days = 0}).problems().front().kind,
              ProblemKind::limit);
    EXPECT_EQ(asked(demo(), {.field = "Upper Sallow", .wait_days = 61}).problems().size(), 2U);
}

TEST(CropState, CountsDaysThroughTheTurnOfTheYear) {
    const auto& season = demo();
    EXPECT_EQ(autumn_day_of(season, *parse_day("2031-08-14")), 0);
    EXPECT_EQ(autumn_day_of(season, *parse_day("2031-10-09")), 56);
    EXPECT_EQ(autumn_day_of(season, *parse_day("2032-01-05")), 144);
}

TEST(CropState, LeavesOutDigsBeforeTheCurveBeginsAndSaysSo) {
    auto season = without_weather();
    for (auto& look : season.standing) {
        look.at -= std::chrono::days(30);
    }
    const auto answer = answer_of(season, {.field = "Cuckoo Pen", .at = noon("2031-12-04")});
    EXPECT_TRUE(std::ranges::any_of(answer.assumptions, [](const auto& sentence) {
        return sentence.find("before 14 August") != std::string::npos;
    }));
}

TEST(AsOf, IsTheLastThatIsKnown) {
    EXPECT_EQ(as_of(demo()), Instant(*parse_day("2031-12-04")) + std::chrono::hours(5));
    EXPECT_EQ(clock_of(demo()), std::chrono::minutes(60));
    ledger::Season empty;
    empty.first_day = *parse_day("2031-09-20");
    EXPECT_EQ(as_of(empty), Instant(empty.first_day));
    EXPECT_EQ(clock_of(empty), std::chrono::minutes(0));
}

}  // namespace
}  // namespace beetwright::engine
