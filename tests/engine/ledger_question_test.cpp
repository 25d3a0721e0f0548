#include "engine/ledger_question.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <vector>

#include "demo_season/invent.hpp"
#include "engine/check_question.hpp"
#include "engine/crowns_question.hpp"
#include "engine/enough_question.hpp"
#include "engine/report_question.hpp"
#include "engine/settle_question.hpp"

namespace beetwright::engine {
namespace {

using ledger::Line;

const ledger::Season& demo() {
    static const ledger::Season season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}

LedgerAnswer must_ask(const LedgerQuestion& question, unsigned threads = 1) {
    WorkerPool pool(threads);
    auto answer = ask(demo(), question, pool);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems()[0].text());
    return answer.ok() ? std::move(*answer) : LedgerAnswer{};
}

void expect_same_account(const ledger::Account& a, const ledger::Account& b) {
    ASSERT_EQ(a.entries.size(), b.entries.size());
    for (std::size_t l = 0; l < a.entries.size(); ++l) {
        EXPECT_EQ(a.entries[l].sugar.value, b.entries[l].sugar.value);
        EXPECT_EQ(a.entries[l].money.low, b.entries[l].money.low);
        EXPECT_EQ(a.entries[l].money.high, b.entries[l].money.high);
        EXPECT_EQ(a.entries[l].cost_at_slicing.value, b.entries[l].cost_at_slicing.value);
    }
}

TEST(LedgerQuestion, GivesTheSameBitsForAnyNumberOfThreads) {
    LedgerQuestion question;
    question.draws = 300;
    question.groups = {GroupBy::machine};
    const auto one = must_ask(question, 1);
    for (const unsigned threads : {2U, 3U, 5U}) {
        const auto many = must_ask(question, threads);
        expect_same_account(one.season, many.season);
        ASSERT_EQ(one.fields.size(), many.fields.size());
        for (std::size_t f = 0; f < one.fields.size(); ++f) {
            expect_same_account(one.fields[f], many.fields[f]);
        }
    }
}

TEST(LedgerQuestion, LinesTogetherAddUpInTheMeanAndAreSurerThanEachAlone) {
    const auto answer = must_ask({});
    for (const auto& field : answer.fields) {
        double mean = 0.0;
        double widths = 0.0;
        for (const auto& entry : field.entries) {
            if (ledger::is_storage(entry.line)) {
                mean += entry.sugar.value.si();
                widths += entry.sugar.high.si() - entry.sugar.low.si();
            }
        }
        const auto& together = field.in_storage;
        EXPECT_NEAR(together.value.si(), mean, 1e-9 * std::abs(mean));
        EXPECT_LE(together.high.si() - together.low.si(), widths);
        EXPECT_LE(together.low, together.value);
        EXPECT_LE(together.value, together.high);
        EXPECT_NEAR(field.left_behind.value.si(),
                    field.entry(Line::whole_roots).sugar.value.si() +
                        field.entry(Line::pieces).sugar.value.si(),
                    1e-12);
    }
    LedgerQuestion brief;
    brief.detail = ledger::Detail::lines;
    EXPECT_FALSE(must_ask(brief).season.in_storage.value.is_known());
}

TEST(LedgerQuestion, ClosesForEveryFieldAndGroup) {
    LedgerQuestion question;
    question.groups = {GroupBy::machine, GroupBy::operator_name, GroupBy::destination, GroupBy::day,
                       GroupBy::grower};
    const auto answer = must_ask(question);
    const auto expect_closed = [](const ledger::Account& account) {
        const auto& standing = account.entry(Line::standing_crop);
        EXPECT_LT(account.mass_left_over / standing.mass.value, 1e-12) << account.name;
        EXPECT_LT(account.sugar_left_over / standing.sugar.value, 1e-12) << account.name;
        EXPECT_LT(account.money_left_over / standing.money.value, 1e-12) << account.name;
    };
    expect_closed(answer.season);
    for (const auto& field : answer.fields) {
        expect_closed(field);
    }
    for (const auto& group : answer.groups) {
        std::size_t fields = 0;
        for (const auto& account : group.accounts) {
            expect_closed(account);
            fields += account.fields;
        }
        EXPECT_EQ(fields, demo().fields.size());
    }
}

TEST(LedgerQuestion, TheSeasonIsTheSumOfItsFields) {
    const auto answer = must_ask({});
    Money paid = Money::zero();
    for (const auto& field : answer.fields) {
        paid += field.entry(Line::paid).money.value * field.area;
    }
    const Money season = answer.season.entry(Line::paid).money.value * answer.season.area;
    EXPECT_NEAR(paid / season, 1.0, 1e-12);
}

TEST(LedgerQuestion, OneFieldTellsOnlyWhatWasAssumedOfIt) {
    LedgerQuestion lifted;
    lifted.field = demo().fields.front().name;
    EXPECT_TRUE(must_ask(lifted).assumptions.empty());
    const auto waiting = std::ranges::find_if(
        demo().fields, [](const ledger::Field& field) { return !field.lifted; });
    ASSERT_NE(waiting, demo().fields.end());
    LedgerQuestion not_lifted;
    not_lifted.field = waiting->name;
    const auto answer = must_ask(not_lifted);
    ASSERT_FALSE(answer.assumptions.empty());
    EXPECT_TRUE(answer.assumptions.front().starts_with(waiting->name + ": not lifted yet"));
}

TEST(LedgerQuestion, AFieldOnItsOwnIsAsItIsAmongTheOthers) {
    LedgerQuestion one;
    one.field = demo().fields[4].name;
    const auto alone = must_ask(one);
    ASSERT_EQ(alone.fields.size(), 1U);
    expect_same_account(alone.fields[0], must_ask({}).fields[4]);
}

TEST(LedgerQuestion, ATailCostsVisiblyMoreWhenSlicedAfterFourMonths) {
    LedgerQuestion soon;
    soon.slice_after_days = 2;
    LedgerQuestion late;
    late.slice_after_days = 120;
    const auto now = must_ask(soon);
    const auto then = must_ask(late);
    const auto cost = [](const LedgerAnswer& answer) {
        return answer.season.entry(Line::tails).cost_at_slicing.value;
    };
    EXPECT_GT(cost(then) / cost(now), 1.3);
    EXPECT_LT(then.season.entry(Line::recovered).sugar.value,
              now.season.entry(Line::recovered).sugar.value);
}

TEST(LedgerQuestion, EveryLineHasAnIntervalAndAFooting) {
    for (const auto& field : must_ask({}).fields) {
        for (const auto& entry : field.entries) {
            EXPECT_LE(entry.sugar.low, entry.sugar.value) << ledger::words(entry.line);
            EXPECT_LE(entry.sugar.value, entry.sugar.high) << ledger::words(entry.line);
            EXPECT_FALSE(entry.evidence.empty()) << ledger::words(entry.line);
        }
        EXPECT_FALSE(field.entry(Line::paid).contributor.what.empty());
    }
}

TEST(LedgerQuestion, AFieldNobodyCountedIsNotCalledMeasured) {
    const auto answer = must_ask({});
    int uncounted = 0;
    for (const auto& field : answer.fields) {
        const bool counted = std::ranges::any_of(
            demo().beet_sheets, [&](const auto& sheet) { return sheet.field == field.name; });
        if (!counted) {
            ++uncounted;
            EXPECT_NE(field.entry(Line::tails).rests_on, RestsOn::measured);
            EXPECT_FALSE(field.not_proven.empty());
        }
    }
    EXPECT_GE(uncounted, 2) << "the demo has two such fields";
}

TEST(LedgerQuestion, SaysFromWhichFieldsAFigureIsLearned) {
    LedgerQuestion question;
    question.field = "Station Piece";
    const auto field = must_ask(question).fields.at(0);
    const auto told = [&](std::string_view start) {
        const auto found = std::ranges::find_if(
            field.not_proven, [&](const auto& sentence) { return sentence.starts_with(start); });
        return found == field.not_proven.end() ? std::string() : *found;
    };
    // Tails go with the machine, what the laboratory finds with the crop of the season.
    EXPECT_EQ(told("Tails"),
              "Tails broken and left: no broken tails were counted here; the figure is learned "
              "from the machine's other fields.");
    EXPECT_EQ(told("Held back"),
              "Held back in molasses: no laboratory sample was taken here; the figure is learned "
              "from the season's other fields.");
}

TEST(LedgerQuestion, MoreBeetsNarrowTheInterval) {
    auto season = demo();
    // The first field with a sheet: four times the same beets at new spots.
    auto& sheet = season.beet_sheets.at(0);
    const auto beets = sheet.beets;
    for (int copy = 1; copy < 4; ++copy) {
        for (auto beet : beets) {
            beet.spot += 1000 * copy;
            sheet.beets.push_back(beet);
        }
    }
    LedgerQuestion question;
    question.field = sheet.field;
    WorkerPool pool(1);
    const auto more = ask(season, question, pool);
    const auto few = ask(demo(), question, pool);
    ASSERT_TRUE(more.ok() && few.ok());
    const auto width = [](const LedgerAnswer& answer) {
        const auto& sugar = answer.fields[0].entry(Line::tails).sugar;
        return (sugar.high - sugar.low).si();
    };
    EXPECT_LT(width(*more), 0.85 * width(*few));
}

TEST(LedgerQuestion, SaysWhatIsWrongWithTheQuestion) {
    WorkerPool pool(1);
    LedgerQuestion question;
    question.field = "no such field";
    auto answer = ask(demo(), question, pool);
    ASSERT_FALSE(answer.ok());
    EXPECT_EQ(answer.problems()[0].kind, ProblemKind::missing);
    question = {};
    question.draws = 5;
    answer = ask(demo(), question, pool);
    ASSERT_FALSE(answer.ok());
    EXPECT_EQ(answer.problems()[0].kind, ProblemKind::limit);
    auto season = demo();
    season.replacements.push_back({"tip.loss_at_5cm", 9.0, 12.0, 10.0, ""});
    EXPECT_FALSE(ask(season, {}, pool).ok());
}

TEST(LedgerQuestion, AUsersOwnNumberTakesEffect) {
    auto season = demo();
    season.replacements.push_back({"tip.loss_at_5cm", 18.0, 17.9, 18.1, "twice as much"});
    WorkerPool pool(1);
    const auto doubled = ask(season, {}, pool);
    ASSERT_TRUE(doubled.ok());
    const double ratio = doubled->season.entry(Line::tails).sugar.value /
                         must_ask({}).season.entry(Line::tails).sugar.value;
    EXPECT_NEAR(ratio, 18.0 / 9.36, 0.1);
}

TEST(LedgerQuestion, ASupersededSheetDoesNotCount) {
    auto season = demo();
    auto correction = season.beet_sheets.at(0);
    correction.supersedes = correction.id;
    correction.id = Uuid::version7(correction.at, 7, 7);
    for (auto& beet : correction.beets) {
        beet.tip = check::TipBreak::measured(Length(0.0));
    }
    season.beet_sheets.push_back(correction);
    LedgerQuestion question;
    question.field = correction.field;
    WorkerPool pool(1);
    const auto answer = ask(season, question, pool);
    ASSERT_TRUE(answer.ok());
    const bool only_sheet =
        std::ranges::count(demo().beet_sheets, correction.field, &check::BeetSheet::field) == 1;
    if (only_sheet) {
        EXPECT_EQ(answer->fields[0].entry(Line::tails).sugar.value.si(), 0.0);
    }
}

TEST(CheckQuestion, JudgesEachTargetAndComparesSheets) {
    const auto& sheet = demo().beet_sheets.at(0);
    const auto answer = ask_check(demo(), sheet.field);
    ASSERT_TRUE(answer.ok());
    EXPECT_GT(answer->beets, 0.0);
    EXPECT_FALSE(answer->shares.empty());
    EXPECT_EQ(answer->targets.size(), check::schemes().size());
    for (const auto& share : answer->shares) {
        EXPECT_LE(share.estimate.share.low, share.estimate.share.high);
    }
    EXPECT_FALSE(ask_check(demo(), "no such field").ok());
}

TEST(EnoughQuestion, IsSettledByEnoughBeetsAndRefusesWhatIsNoCount) {
    const std::vector<SpotCount> clean(30, {.hits = 0, .beets = 10});
    const auto fine = ask_enough(demo(), clean);
    ASSERT_TRUE(fine.ok());
    EXPECT_EQ(fine->standing.sure, check::Sure::fine);
    EXPECT_EQ(fine->words, "Enough: it is fine.");
    const auto too_few = ask_enough(demo(), {{.hits = 1, .beets = 10}});
    ASSERT_TRUE(too_few.ok());
    EXPECT_TRUE(too_few->words.starts_with("Not yet: about ")) << too_few->words;
    EXPECT_TRUE(too_few->words.ends_with(" more beets would tell 5 % from 10 %."))
        << too_few->words;

    const auto kind_of = [](const std::vector<SpotCount>& spots) {
        const auto answer = ask_enough(demo(), spots);
        return answer.ok() ? std::nullopt : std::optional(answer.problems()[0].kind);
    };
    EXPECT_EQ(kind_of({}), ProblemKind::input);
    EXPECT_EQ(kind_of({{.hits = 11, .beets = 10}}), ProblemKind::input);
    EXPECT_EQ(kind_of({{.hits = -1, .beets = -1}}), ProblemKind::input);
    // Each spot may be; together they would not fit into a whole number.
    const std::vector<SpotCount> endless(3000, {.hits = 0, .beets = 1'000'000});
    EXPECT_EQ(kind_of(endless), ProblemKind::limit);
}

TEST(CrownsQuestion, TellsHowEvenAStandIsByTheSeasonsOwnLimits) {
    std::vector<Length> heights;
    for (const double cm : {4.0, 5.5, 6.0, 5.0, 4.5, 5.0, 6.5, 5.5}) {
        heights.push_back(cm * unit::cm);
    }
    const auto even = ask_crowns(demo(), heights);
    ASSERT_TRUE(even.ok());
    EXPECT_EQ(even->crowns.likeliest, crop::Evenness::even);
    EXPECT_NEAR(even->crowns.mean.value / unit::cm, 42.0 / 8.0, 1e-12);
    EXPECT_TRUE(even->words.starts_with("Likeliest even, with a chance of 9")) << even->words;
    auto strict = demo();
    strict.replacements.push_back(
        {.id = "crop.heights_even", .value = 4.0, .low = 4.0, .high = 4.0, .why = "ours"});
    const auto not_even = ask_crowns(strict, heights);
    ASSERT_TRUE(not_even.ok());
    EXPECT_EQ(not_even->crowns.likeliest, crop::Evenness::fair) << "8 mm is over 4";
    heights.resize(4);
    const auto too_few = ask_crowns(demo(), heights);
    ASSERT_FALSE(too_few.ok());
    EXPECT_EQ(too_few.problems()[0].kind, ProblemKind::input);
}

TEST(SettleQuestion, PaysEveryLoadOfTheSeason) {
    const auto answer = ask_settle(demo(), "");
    ASSERT_TRUE(answer.ok());
    EXPECT_EQ(answer->settled.loads.size(), demo().loads.size());
    EXPECT_GT(answer->settled.total(), 0);
    const auto one = ask_settle(demo(), demo().loads[0].field);
    ASSERT_TRUE(one.ok());
    EXPECT_LT(one->settled.total(), answer->settled.total());
}

TEST(ReportQuestion, PutsTheDearestCountsFirst) {
    WorkerPool pool(2);
    const auto report = ask_report(demo(), {}, pool);
    ASSERT_TRUE(report.ok());
    ASSERT_EQ(report->next.size(), 8U);
    for (std::size_t i = 1; i < report->next.size(); ++i) {
        EXPECT_GE(report->next[i - 1].at_stake, report->next[i].at_stake);
    }
}

}  // namespace
}  // namespace beetwright::engine
