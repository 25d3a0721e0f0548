// The best order against all orders that there are, and what is told of it.
#include "campaign/slicing_order.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "campaign/slicing_fixture.hpp"

namespace beetwright::campaign {
namespace {

constexpr double kClose = 1e-10;  ///< relative; sums of some dozens of terms

SlicingOrder found(const SlicingQuestion& question) {
    auto answer = best_slicing_order(question);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return *answer;
}

void expect_best_of_all(const SlicingQuestion& question, const std::string& what) {
    const auto answer = found(question);
    const double best = best_of_all_orders(question);
    EXPECT_NEAR(answer.worth.value.si(), best, kClose * std::abs(best)) << what;
    EXPECT_TRUE(answer.is_exact && answer.is_best) << what;
    EXPECT_EQ(answer.bound, answer.worth.value) << what;
    const auto checked = check_slicing_order(question, order_of(answer));
    ASSERT_TRUE(checked.ok()) << what << ": " << checked.problems().front().text();
    EXPECT_NEAR(checked->mean_money, best, kClose * std::abs(best)) << what;
}

// 8! = 40,320 orders each.
TEST(SlicingOrder, OfEightPilesIsTheBestOfAllOrders) {
    for (const std::uint64_t seed : {1U, 2U, 3U, 4U}) {
        expect_best_of_all(
            invented(seed, {.parts_of_piles = std::vector<std::size_t>(8, 1), .members = 2}),
            "seed " + std::to_string(seed));
    }
}

TEST(SlicingOrder, OfEightPilesIsTheBestWhereDaysAreSet) {
    for (const std::uint64_t seed : {5U, 6U}) {
        auto question =
            invented(seed, {.parts_of_piles = std::vector<std::size_t>(8, 1), .members = 2});
        give_days(question, seed, 4);
        expect_best_of_all(question, "seed " + std::to_string(seed));
    }
}

// Eight parts in four piles, so that staying at one is worth something; from nothing
// to prohibitive.
TEST(SlicingOrder, WeighsTheLoadersMoves) {
    std::size_t fewest = 8;
    for (const double cost : {50.0, 1'000.0, 1e6}) {
        auto question = invented(7, {.parts_of_piles = {2, 2, 2, 2},
                                     .taken_from = {TakenFrom::beginning, TakenFrom::anywhere},
                                     .members = 2,
                                     .loader_move_money = cost});
        expect_best_of_all(question, "cost " + std::to_string(cost));
        question.loader_at = 2;
        expect_best_of_all(question, "at the third pile, cost " + std::to_string(cost));
        const auto moves = found(question).loader_moves;
        EXPECT_LE(moves, fewest);
        fewest = moves;
    }
    EXPECT_EQ(fewest, 3U) << "at such a cost it begins where it stands and leaves no pile twice";
}

TEST(SlicingOrder, OfPilesTakenInAnyWayIsTheBestOfAllOrders) {
    using Way = TakenFrom;
    const std::vector<std::vector<Way>> ways{{Way::beginning},
                                             {Way::end},
                                             {Way::either_end},
                                             {Way::anywhere},
                                             {Way::either_end, Way::anywhere},
                                             {Way::beginning, Way::either_end}};
    std::uint64_t seed = 20;
    for (const auto& way : ways) {
        for (const double cost : {0.0, 800.0}) {
            auto question = invented(++seed, {.parts_of_piles = {4, 3},
                                              .taken_from = way,
                                              .members = 2,
                                              .loader_move_money = cost});
            expect_best_of_all(question, "seed " + std::to_string(seed));
            give_days(question, seed, 5);
            expect_best_of_all(question, "with days, seed " + std::to_string(seed));
        }
    }
}

// From one end 4 + 1 ways to leave it; from either 5 · 6 / 2 + 1; anywhere 2^6; and three places of
// the loader where its moves cost.
TEST(SlicingOrder, ReckonsItsStatesBeforehand) {
    auto question =
        invented(1, {.parts_of_piles = {4, 5, 6},
                     .taken_from = {TakenFrom::end, TakenFrom::either_end, TakenFrom::anywhere}});
    EXPECT_EQ(states_of(question), 5.0 * 16.0 * 64.0);
    question.loader_move = Money(1.0);
    EXPECT_EQ(states_of(question), 3.0 * 5.0 * 16.0 * 64.0);
    EXPECT_EQ(found(question).states, 3.0 * 5.0 * 16.0 * 64.0);
}

/// Two parts of 1,500 t, 1,000 t a day, the third day none; paid 100 a day less each day, the
/// second twice as much; under 21 members times 1, 2, ... 21.
SlicingQuestion two_parts() {
    SlicingQuestion question;
    question.first_day = kFirstDay;
    for (const double takes_t : {1000.0, 1000.0, 0.0, 1000.0, 1000.0}) {
        question.slicer_takes.push_back(tonnes<CleanMass>(takes_t));
    }
    auto& pile = question.piles.emplace_back(PileToSlice{"yard", TakenFrom::anywhere, {}});
    for (const double factor : {1.0, 2.0}) {
        auto& part = pile.parts.emplace_back();
        part.name = factor > 1.0 ? "south" : "north";
        part.mass = tonnes<CleanMass>(1500.0);
        for (int m = 1; m <= 21; ++m) {
            auto& worth = part.worth_money.emplace_back();
            for (int d = 0; d < 5; ++d) {
                worth.push_back(factor * m * (1000.0 - 100.0 * d));
            }
        }
    }
    return question;
}

// South on the first day and half of the second: 2/3 · 2000 + 1/3 · 1800; north on half of the
// second and, the third being idle, on the fourth: 1/3 · 900 + 2/3 · 700. In all 1933.3 + 766.7 =
// 2700 times the member, whose mean is 11 and of whom nine in ten lie from 2 to 20. The other way
// round: 1/3 900 + 2/3 1000 = 966.7 and 1/3 1800 + 2/3 1400 = 1533.3, in all 2500.
TEST(SlicingOrder, TellsDaysWorthAndWhy) {
    const auto answer = found(two_parts());
    ASSERT_EQ(answer.parts.size(), 2U);
    const auto& [first, second] = std::tie(answer.parts[0], answer.parts[1]);
    EXPECT_EQ(first.place.part, 1U);
    EXPECT_EQ(first.first_day, kFirstDay);
    EXPECT_EQ(first.last_day, kFirstDay + std::chrono::days(1));
    EXPECT_EQ(second.first_day, kFirstDay + std::chrono::days(1));
    EXPECT_EQ(second.last_day, kFirstDay + std::chrono::days(3));
    EXPECT_NEAR(answer.worth.value.si(), 2700.0 * 11.0, 1e-6);
    EXPECT_NEAR(answer.worth.low.si(), 2700.0 * 2.0, 1e-6);
    EXPECT_NEAR(answer.worth.high.si(), 2700.0 * 20.0, 1e-6);
    EXPECT_NEAR(second.worth.value.si(), 2300.0 / 3.0 * 11.0, 1e-6);
    EXPECT_EQ(first.held_by, HeldBy::worth);
    EXPECT_NEAR(first.lost_if_later.value.si(), 200.0 * 11.0, 1e-6);
    EXPECT_NEAR(first.lost_if_later.low.si(), 200.0 * 2.0, 1e-6);
    EXPECT_EQ(second.held_by, HeldBy::end);
    EXPECT_FALSE(second.lost_if_later.value.is_known());
}

TEST(SlicingOrder, SaysWhatHoldsAPart) {
    auto question = two_parts();
    question.piles[0].taken_from = TakenFrom::end;
    EXPECT_EQ(found(question).parts[0].held_by, HeldBy::pile);
    question.piles[0].taken_from = TakenFrom::anywhere;
    question.piles[0].parts[1].by = kFirstDay + std::chrono::days(1);
    EXPECT_EQ(found(question).parts[0].held_by, HeldBy::days);
    question.piles[0].parts[1].by.reset();
    question.piles[0].parts[1].not_before = kFirstDay + std::chrono::days(1);
    const auto later = found(question);
    EXPECT_EQ(later.parts[0].place.part, 0U) << "the dearer one may not go on the first day";
    EXPECT_NEAR(later.worth.value.si(), 2500.0 * 11.0, 1e-6);
}

// Against the checker: the worth of the order with the two changed.
TEST(SlicingOrder, TellsWhatAPlaceLaterWouldLose) {
    for (const std::uint64_t seed : {30U, 31U, 32U}) {
        const auto question =
            invented(seed, {.parts_of_piles = {5, 4, 4},
                            .taken_from = {TakenFrom::beginning, TakenFrom::anywhere},
                            .loader_move_money = 300.0});
        const auto answer = found(question);
        std::size_t told = 0;
        for (std::size_t n = 0; n + 1 < answer.parts.size(); ++n) {
            auto order = order_of(answer);
            std::swap(order[n], order[n + 1]);
            const auto changed = check_slicing_order(question, order);
            EXPECT_EQ(changed.ok(), answer.parts[n].held_by == HeldBy::worth);
            if (changed.ok()) {
                const double lost = answer.worth.value.si() - changed->mean_money;
                EXPECT_NEAR(answer.parts[n].lost_if_later.value.si(), lost,
                            kClose * answer.worth.value.si());
                EXPECT_GE(lost, -kClose * answer.worth.value.si());
                ++told;
            }
        }
        EXPECT_GT(told, 3U);
    }
}

TEST(SlicingOrder, IsComparedWithRote) {
    auto question = two_parts();
    EXPECT_FALSE(found(question).first_piled_first);
    EXPECT_FALSE(found(question).warmest_first);
    auto& parts = question.piles[0].parts;
    parts[0].piled = kFirstDay - std::chrono::days(9);
    parts[1].piled = kFirstDay - std::chrono::days(8);
    parts[0].temperature = Temperature::celsius(4.0);
    parts[1].temperature = Temperature::celsius(5.0);
    const auto answer = found(question);
    ASSERT_TRUE(answer.first_piled_first && answer.warmest_first);
    EXPECT_EQ(answer.first_piled_first->order.front().part, 0U);
    EXPECT_NEAR(answer.first_piled_first->worth.value.si(), 2500.0 * 11.0, 1e-6);
    EXPECT_NEAR(answer.first_piled_first->less_than_found.high.si(), 200.0 * 20.0, 1e-6);
    EXPECT_EQ(answer.warmest_first->order.front().part, 1U);
    EXPECT_NEAR(answer.warmest_first->less_than_found.value.si(), 0.0, 1e-6);

    // Rote heeds a day before which nothing is sliced, and oversees one by which all must be gone.
    parts[0].not_before = kFirstDay + std::chrono::days(1);
    EXPECT_EQ(found(question).first_piled_first->order.front().part, 1U);
    parts[0].not_before.reset();
    parts[1].by = kFirstDay + std::chrono::days(1);
    const auto off = found(question).first_piled_first->off_their_days;
    ASSERT_EQ(off.size(), 1U);
    EXPECT_EQ(off.front().part, 1U);
}

// Seeds 40 to 59; rote that keeps all days is one of the orders that were weighed.
TEST(SlicingOrder, IsNeverWorthLessThanRote) {
    for (std::uint64_t seed = 40; seed < 60; ++seed) {
        const auto answer = found(invented(
            seed, {.parts_of_piles = {4, 4, 3},
                   .taken_from = {TakenFrom::beginning, TakenFrom::either_end, TakenFrom::anywhere},
                   .loader_move_money = 200.0}));
        for (const auto& rote : {answer.first_piled_first, answer.warmest_first}) {
            EXPECT_GE(rote->less_than_found.value.si(), -kClose * answer.worth.value.si());
            EXPECT_TRUE(rote->off_their_days.empty());
        }
    }
}

/// What is said of a question that is spoilt.
std::string said_of(const std::function<void(SlicingQuestion&)>& spoil) {
    auto question = two_parts();
    spoil(question);
    const auto answer = best_slicing_order(question);
    return answer.ok() ? "nothing" : answer.problems().front().text();
}

TEST(SlicingOrder, SaysWhichNumbersCannotBe) {
    const auto expect = [](const std::string& text, const std::string& said) {
        EXPECT_NE(said.find(text), std::string::npos) << said;
    };
    using Q = SlicingQuestion;
    expect("not known what it takes", said_of([](Q& q) { q.slicer_takes.clear(); }));
    expect("takes on 2038-06-14 is no mass",
           said_of([](Q& q) { q.slicer_takes[1] = CleanMass(-1.0); }));
    expect("yard, north: its mass is not over nought",
           said_of([](Q& q) { q.piles[0].parts[0].mass = CleanMass(); }));
    expect("yard, south: its worth is known for 20 weather members, that of the first part for 21",
           said_of([](Q& q) { q.piles[0].parts[1].worth_money.pop_back(); }));
    expect("yard, south: its worth is not known on every day",
           said_of([](Q& q) { q.piles[0].parts[1].worth_money[3].pop_back(); }));
    expect("yard, south: its worth is not known on every day",
           said_of([](Q& q) { q.piles[0].parts[1].worth_money[3][1] = std::nan(""); }));
    expect("gone by 2038-06-12 and not sliced before 2038-06-13", said_of([](Q& q) {
               q.piles[0].parts[0].not_before = kFirstDay;
               q.piles[0].parts[0].by = kFirstDay - std::chrono::days(1);
           }));
    expect("none of them holds a part", said_of([](Q& q) { q.piles.clear(); }));
    expect("come to 3000 t, and it takes 2000 t up to 2038-06-17",
           said_of([](Q& q) { q.slicer_takes[0] = q.slicer_takes[1] = CleanMass::zero(); }));
    expect("a move costs is less than nought", said_of([](Q& q) { q.loader_move = Money(-1.0); }));
    expect("a pile that there is not", said_of([](Q& q) { q.loader_at = 1; }));
    expect("1001 parts",
           said_of([](Q& q) { q.piles[0].parts.resize(1001, q.piles[0].parts.front()); }));
}

TEST(SlicingOrder, TellsAllThatCannotBeAtOnce) {
    auto question = two_parts();
    question.piles[0].parts[0].mass = CleanMass::zero();
    question.piles[0].parts[1].mass = CleanMass::zero();
    question.loader_move = Money();
    EXPECT_EQ(best_slicing_order(question).problems().size(), 3U);
}

}  // namespace
}  // namespace beetwright::campaign
