// Rules that cannot all be kept are named, and as few of them as there are.
#include "campaign/slicing_clash.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "campaign/slicing_fixture.hpp"

namespace beetwright::campaign {
namespace {

Day day(int number) {
    return kFirstDay + std::chrono::days(number - 1);
}

/// Two piles of four parts, each part a day of slicing; days 1 to 8 are 2038-06-13 to 2038-06-20.
SlicingQuestion eight_days() {
    SlicingQuestion question;
    question.first_day = kFirstDay;
    question.slicer_takes.assign(8, tonnes<CleanMass>(100.0));
    for (const auto* name : {"A", "B"}) {
        auto& pile = question.piles.emplace_back(PileToSlice{name, TakenFrom::beginning, {}});
        for (int k = 1; k <= 4; ++k) {
            pile.parts.push_back({.name = std::to_string(k),
                                  .mass = tonnes<CleanMass>(100.0),
                                  .worth_money = {std::vector<double>(8, 1.0)}});
        }
    }
    return question;
}
PilePart& part(SlicingQuestion& question, std::size_t pile, std::size_t number) {
    return question.piles[pile].parts[number - 1];
}

std::string said(const SlicingQuestion& question) {
    const auto answer = best_slicing_order(question);
    return answer.ok() ? "" : answer.problems().front().text();
}
/// For the search, which cannot go through all states: what is shown to clash without.
std::string said_by_search(SlicingQuestion question) {
    question.effort.most_states = 0;
    question.effort.beam_width = 1;
    return said(question);
}
void expect_said(const SlicingQuestion& question, const std::string& text) {
    EXPECT_EQ(said(question), text);
    EXPECT_EQ(said_by_search(question), text);
}

TEST(RuleClash, OfADayAndTheWayIsBoth) {
    auto question = eight_days();
    part(question, 0, 4).by = day(4);
    EXPECT_EQ(said(question), "");
    part(question, 0, 4).by = day(3);
    expect_said(question,
                "A, 4: no order keeps all of this: A, 4 by 2038-06-15; A is taken from its "
                "beginning. let go of one of them, or let the slicer take other amounts");
    part(question, 0, 4).by.reset();
    part(question, 1, 1).not_before = day(6);
    expect_said(question,
                "B, 1: no order keeps all of this: B, 1 not before 2038-06-18; B is taken from its "
                "beginning. let go of one of them, or let the slicer take other amounts");
}

TEST(RuleClash, OfOneDayNamesNothingElse) {
    auto question = eight_days();
    question.slicer_takes[0] = tonnes<CleanMass>(50.0);
    question.slicer_takes.push_back(tonnes<CleanMass>(50.0));
    for (auto& pile : question.piles) {
        for (auto& one : pile.parts) {
            one.worth_money[0].push_back(1.0);
        }
    }
    part(question, 0, 1).by = day(2);
    part(question, 1, 4).by = day(9);
    EXPECT_EQ(said(question), "");
    part(question, 0, 1).by = day(1);
    expect_said(question,
                "A, 1: no order keeps all of this: A, 1 by 2038-06-13. let go of it, or let the "
                "slicer take other amounts");
}

// Three parts by the second day; the others, though they have days too, are not to blame.
TEST(RuleClash, OfTooMuchByADayNamesWhatIsTooMuch) {
    auto question = eight_days();
    for (auto& pile : question.piles) {
        pile.taken_from = TakenFrom::anywhere;
    }
    for (const std::size_t number : {1U, 2U, 3U, 4U}) {
        part(question, 0, number).by = day(6);
    }
    part(question, 0, 1).by = day(2);
    part(question, 0, 2).by = day(2);
    part(question, 1, 4).not_before = day(3);
    EXPECT_EQ(said(question), "");
    part(question, 1, 1).by = day(2);
    expect_said(question,
                "A, 1: no order keeps all of this: A, 1 by 2038-06-14; A, 2 by 2038-06-14; B, 1 by "
                "2038-06-14. let go of one of them, or let the slicer take other amounts");
    EXPECT_TRUE(clash_of(question)->is_smallest);
}

// From either end, of five parts one in the middle cannot come before two others.
TEST(RuleClash, KnowsWhatLiesBeforeFromEitherEnd) {
    auto question = eight_days();
    question.piles[0].taken_from = TakenFrom::either_end;
    part(question, 0, 3).by = day(2);
    EXPECT_EQ(said(question), "");
    part(question, 0, 3).by = day(1);
    expect_said(question,
                "A, 3: no order keeps all of this: A, 3 by 2038-06-13; A is taken from either end. "
                "let go of one of them, or let the slicer take other amounts");
}

// Halves would fit: a part of two days has to begin on day 2 or 3, and another of one day on day 3
// and no other. Whoever goes through all orders sees that it cannot be, by states or by beginnings.
TEST(RuleClash, IsSeenWherePartsWouldHaveToBeHalved) {
    auto question = eight_days();
    for (auto& pile : question.piles) {
        pile.taken_from = TakenFrom::anywhere;
    }
    part(question, 0, 1).mass = tonnes<CleanMass>(200.0);
    part(question, 0, 2).mass = tonnes<CleanMass>(50.0);
    part(question, 0, 3).mass = tonnes<CleanMass>(50.0);
    part(question, 0, 1).not_before = day(2);
    part(question, 0, 1).by = day(4);
    EXPECT_EQ(said(question), "");
    part(question, 1, 1).not_before = day(3);
    part(question, 1, 1).by = day(3);
    for (const bool by_states : {true, false}) {
        question.effort.most_states = by_states ? 1'000'000 : 0;
        const auto clash = clash_of(question);
        ASSERT_TRUE(clash) << by_states;
        EXPECT_TRUE(clash->is_smallest) << by_states;
        EXPECT_EQ(text_of(question, *clash),
                  "A, 1 not before 2038-06-14; A, 1 by 2038-06-16; B, 1 not before 2038-06-15; B, "
                  "1 by 2038-06-15");
    }
}

// No rule of the set can be spared, and it does clash: by the states, for questions drawn with days
// that nobody looked at. Seeds 200 to 259.
TEST(RuleClash, LosesItsClashWithAnyOfItsRules) {
    std::size_t clashes = 0;
    for (std::uint64_t seed = 200; seed < 260; ++seed) {
        auto question = invented(
            seed, {.parts_of_piles = {2, 3, 2},
                   .taken_from = {TakenFrom::beginning, TakenFrom::either_end, TakenFrom::end},
                   .days = 20});
        RandomStream random(seed, "days at random");
        for (auto& pile : question.piles) {
            for (auto& one : pile.parts) {
                if (random.chance(0.4)) {
                    one.by = day(static_cast<int>(3 + random.below(18)));
                } else if (random.chance(0.3)) {
                    one.not_before = day(static_cast<int>(1 + random.below(14)));
                }
            }
        }
        const auto clash = clash_of(question);
        EXPECT_EQ(clash.has_value(), std::isinf(best_of_all_orders(question))) << seed;
        if (!clash) {
            continue;
        }
        ++clashes;
        // With these rules alone, less each in turn.
        for (std::size_t without = 0; without <= clash->rules.size(); ++without) {
            auto some = question;
            for (auto& pile : some.piles) {
                pile.taken_from = TakenFrom::anywhere;
                for (auto& one : pile.parts) {
                    one.by.reset();
                    one.not_before.reset();
                }
            }
            for (std::size_t k = 0; k < clash->rules.size(); ++k) {
                const auto& [kind, place] = clash->rules[k];
                const auto& asked = question.piles[place.pile].parts[place.part];
                auto& kept = some.piles[place.pile].parts[place.part];
                if (k == without) {
                    continue;
                }
                switch (kind) {
                    case SlicingRule::Kind::by: kept.by = asked.by; break;
                    case SlicingRule::Kind::not_before: kept.not_before = asked.not_before; break;
                    case SlicingRule::Kind::taken_from:
                        some.piles[place.pile].taken_from = question.piles[place.pile].taken_from;
                        break;
                }
            }
            const bool is_whole = without == clash->rules.size();
            EXPECT_EQ(best_slicing_order(some).ok(), !is_whole) << seed;
        }
    }
    EXPECT_GT(clashes, 20U);
    EXPECT_LT(clashes, 55U);
}

// A pile has to be sliced on the fifth day and no other, and before it only those of 130 t and 270
// t make up four days. Whoever carries on a single beginning with what stands first, 150 t, does
// not find them, and must not say more than it knows.
TEST(RuleClash, IsNotSaidOfWhatMerelyWasNotFound) {
    SlicingQuestion question;
    question.first_day = kFirstDay;
    question.slicer_takes.assign(10, tonnes<CleanMass>(100.0));
    for (const double mass_t : {150.0, 160.0, 190.0, 130.0, 270.0, 100.0}) {
        auto& pile = question.piles.emplace_back();
        pile.parts.push_back({.name = "all",
                              .mass = tonnes<CleanMass>(mass_t),
                              .worth_money = {std::vector<double>(10, 1.0)}});
    }
    part(question, 5, 1).not_before = day(5);
    part(question, 5, 1).by = day(5);
    EXPECT_EQ(
        said_by_search(question),
        "days: no order was found that keeps all days; there may be one. let go of some days, "
        "or put parts together so that all orders can be gone through");
    EXPECT_EQ(said(question), "");
    question.effort.most_states = 0;
    EXPECT_EQ(said(question), "") << "with all the effort the search finds it as well";
    EXPECT_FALSE(clash_of(question));
}

}  // namespace
}  // namespace beetwright::campaign
