// The search where there are too many states: against the exact order where that is known, and by
// its bound where it is not.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "campaign/slicing_fixture.hpp"
#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {
namespace {

using Way = TakenFrom;

/// The same question for the search alone.
SlicingQuestion to_search(SlicingQuestion question) {
    question.effort.most_states = 0;
    return question;
}

SlicingOrder found(const SlicingQuestion& question) {
    auto answer = best_slicing_order(question);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return *answer;
}
double gap_of(const SlicingOrder& answer) {
    return (answer.bound - answer.worth.value) / answer.worth.value;
}

/// A question of one to four piles with one to five parts each, of all ways, masses and rules.
SlicingQuestion small_question(std::uint64_t seed) {
    RandomStream random(seed, "small question");
    Invented kind;
    kind.parts_of_piles.clear();
    kind.taken_from.clear();
    const std::size_t piles = 1 + random.below(4);
    for (std::size_t p = 0; p < piles; ++p) {
        kind.parts_of_piles.push_back(1 + random.below(5));
        kind.taken_from.push_back(static_cast<Way>(random.below(4)));
    }
    kind.days = 8 + random.below(50);
    kind.loader_move_money = random.chance(0.5) ? 0.0 : 3000.0 * random.uniform();
    kind.equal_masses = random.chance(0.4);
    auto question = invented(seed, kind);
    if (random.chance(0.3)) {
        question.loader_at = random.below(static_cast<std::uint32_t>(piles));
    }
    if (random.chance(0.5)) {
        give_days(question, seed, 2 + random.below(5));
    }
    return question;
}

// 400 questions, seeds 1000 to 1399, with a tenth of the usual effort so that the bound is not
// always closed. The bound is under the best order at none; the search misses it in few, and then
// by little.
TEST(SlicingSearch, BoundIsNeverUnderTheBestOrder) {
    std::size_t missed = 0;
    std::size_t open = 0;
    for (std::uint64_t seed = 1000; seed < 1400; ++seed) {
        const auto question = small_question(seed);
        auto harder = to_search(question);
        harder.effort.bound_rounds = 30;
        harder.effort.beam_width = 10;
        const auto best = found(question);
        const auto searched = found(harder);
        ASSERT_TRUE(best.is_exact && !searched.is_exact);
        const double worth = best.worth.value.si();
        EXPECT_GE(searched.bound.si(), worth * (1.0 - 1e-12)) << seed;
        EXPECT_LE(searched.worth.value.si(), worth * (1.0 + 1e-12)) << seed;
        const auto checked = check_slicing_order(question, order_of(searched));
        ASSERT_TRUE(checked.ok()) << seed << ": " << checked.problems().front().text();
        EXPECT_NEAR(checked->mean_money, searched.worth.value.si(), 1e-10 * worth) << seed;
        const bool is_missed = searched.worth.value.si() < worth * (1.0 - 1e-8);
        EXPECT_FALSE(is_missed && searched.is_best) << seed;
        EXPECT_GT(searched.worth.value.si(), 0.999 * worth) << seed;
        missed += is_missed ? 1U : 0U;
        open += searched.is_best ? 0U : 1U;
    }
    EXPECT_LE(missed, 4U);
    EXPECT_LE(open, 20U);
    EXPECT_GE(open, 1U) << "or the bound was never put to the test";
}

// With the effort that people get, these are settled: 8 piles of 12 have 8e8 to 1.5e15 states.
TEST(SlicingSearch, SettlesEightPilesOfTwelve) {
    const std::vector<Way> one_end{Way::beginning};
    const std::vector<Way> ends{Way::either_end};
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        for (const auto& way : {one_end, ends}) {
            const Invented kind{
                .parts_of_piles = std::vector<std::size_t>(8, 12), .taken_from = way, .days = 150};
            const auto question = invented(seed, kind);
            EXPECT_GT(states_of(question), 8e8);
            const auto answer = found(question);
            EXPECT_TRUE(answer.is_best) << seed << ", gap " << gap_of(answer);
            EXPECT_TRUE(check_slicing_order(question, order_of(answer)).ok());
        }
    }
}

TEST(SlicingSearch, SettlesThemWithCostsOfMovesAndDays) {
    for (const std::uint64_t seed : {4U, 5U}) {
        auto question = invented(seed, {.parts_of_piles = std::vector<std::size_t>(8, 12),
                                        .taken_from = {Way::beginning, Way::end},
                                        .days = 150,
                                        .loader_move_money = 2000.0});
        EXPECT_TRUE(found(question).is_best) << seed;
        give_days(question, seed, 12);
        const auto answer = found(question);
        EXPECT_TRUE(answer.is_best) << seed << ", gap " << gap_of(answer);
        const auto checked = check_slicing_order(question, order_of(answer));
        EXPECT_TRUE(checked.ok()) << checked.problems().front().text();
    }
}

// Not settled, but near: 96 parts that can be taken in any order, 300 parts in ten rows. Gaps as
// they came out: 0.015 and 0.021 %, and 0.037 % of the worth.
TEST(SlicingSearch, ComesNearWhereItDoesNotSettle) {
    for (const std::uint64_t seed : {1U, 2U}) {
        const auto answer = found(invented(seed, {.parts_of_piles = std::vector<std::size_t>(8, 12),
                                                  .taken_from = {Way::anywhere},
                                                  .days = 150}));
        EXPECT_LT(gap_of(answer), 4e-4) << seed;
        EXPECT_GT(answer.first_piled_first->less_than_found.value.si(),
                  100.0 * gap_of(answer) * answer.worth.value.si())
            << "what is left open is little beside what an order is about";
    }
    const auto many = found(invented(
        1, {.parts_of_piles = std::vector<std::size_t>(10, 30), .members = 1, .days = 150}));
    EXPECT_LT(gap_of(many), 1e-3);
}

// Parts of one mass are cut into cells that fit them all, which needs no finer ones.
TEST(SlicingSearch, SettlesPartsOfOneMass) {
    for (const std::uint64_t seed : {6U, 7U}) {
        const auto answer = found(to_search(
            invented(seed, {.parts_of_piles = std::vector<std::size_t>(5, 10),
                            .taken_from = {Way::beginning, Way::either_end, Way::beginning},
                            .days = 100,
                            .equal_masses = true})));
        EXPECT_TRUE(answer.is_best) << seed;
    }
}

TEST(SlicingSearch, GivesTheSameAnswerTwice) {
    const auto question = to_search(
        invented(9, {.parts_of_piles = {6, 6, 6}, .taken_from = {Way::anywhere, Way::end}}));
    const auto once = found(question);
    const auto again = found(question);
    EXPECT_EQ(order_of(once), order_of(again));
    EXPECT_EQ(once.bound, again.bound);
}

class Impatient : public Progress {
 public:
    explicit Impatient(int asks) : asks_(asks) {}
    bool go_on(double share) override {
        EXPECT_GE(share, last_);
        EXPECT_LE(share, 1.0);
        last_ = share;
        return --asks_ > 0;
    }

 private:
    int asks_;
    double last_ = 0.0;
};

TEST(SlicingSearch, CanBeStopped) {
    const Invented kind{.parts_of_piles = {8, 8, 8, 8}, .taken_from = {Way::either_end}};
    for (const bool exact : {true, false}) {
        const auto question = exact ? invented(9, kind) : to_search(invented(9, kind));
        for (const int asks : {1, 5, 20}) {
            Impatient impatient(asks);
            const auto answer = best_slicing_order(question, &impatient);
            ASSERT_FALSE(answer.ok()) << asks;
            EXPECT_EQ(answer.problems().front().kind, ProblemKind::outside);
        }
        Impatient patient(1'000'000);
        EXPECT_TRUE(best_slicing_order(question, &patient).ok());
    }
}

}  // namespace
}  // namespace beetwright::campaign
