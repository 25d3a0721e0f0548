// The checker must see every way in which an order can be wrong, and reckon by the day.
#include "campaign/slicing_check.hpp"

#include <gtest/gtest.h>

#include <string>

#include "campaign/slicing_fixture.hpp"

namespace beetwright::campaign {
namespace {

/// Three parts of a day each in one pile, and one in another; worth 10, 20, ... on each day from
/// the last.
SlicingQuestion four_days() {
    SlicingQuestion question;
    question.first_day = kFirstDay;
    question.slicer_takes.assign(4, tonnes<CleanMass>(100.0));
    question.loader_move = Money(1.0);
    const std::vector<std::vector<double>> worth{{40.0, 30.0, 20.0, 10.0}, {4.0, 3.0, 2.0, 1.0}};
    for (const std::size_t parts : {3U, 1U}) {
        auto& pile = question.piles.emplace_back();
        pile.name = "pile " + std::to_string(question.piles.size());
        for (std::size_t k = 1; k <= parts; ++k) {
            pile.parts.push_back({.name = "part " + std::to_string(k),
                                  .mass = tonnes<CleanMass>(100.0),
                                  .worth_money = worth});
        }
    }
    return question;
}
std::string said(const SlicingQuestion& question, const std::vector<PartPlace>& order) {
    const auto checked = check_slicing_order(question, order);
    return checked.ok() ? "in order" : checked.problems().front().text();
}
const std::vector<PartPlace> kOrder{{0, 0}, {1, 0}, {0, 1}, {0, 2}};

// 100 by the first member and 10 by the second, less two moves.
TEST(SlicingCheck, ReckonsWorthMovesAndDays) {
    const auto checked = check_slicing_order(four_days(), kOrder);
    ASSERT_TRUE(checked.ok());
    EXPECT_EQ(checked->loader_moves, 2U);
    EXPECT_DOUBLE_EQ(checked->worth_money[0], 98.0);
    EXPECT_DOUBLE_EQ(checked->worth_money[1], 8.0);
    EXPECT_DOUBLE_EQ(checked->mean_money, 53.0);
    EXPECT_EQ(checked->parts[2].first_day, kFirstDay + std::chrono::days(2));
    EXPECT_EQ(checked->parts[2].last_day, kFirstDay + std::chrono::days(2));
}

TEST(SlicingCheck, CountsTheFirstMoveWhereTheLoaderStandsElsewhere) {
    auto question = four_days();
    question.loader_at = 1;
    EXPECT_EQ(check_slicing_order(question, kOrder)->loader_moves, 3U);
    question.loader_at = 0;
    EXPECT_EQ(check_slicing_order(question, kOrder)->loader_moves, 2U);
}

TEST(SlicingCheck, SeesPartsThatAreMissingTwiceOrNone) {
    const auto question = four_days();
    EXPECT_EQ(said(question, {{0, 0}, {0, 1}, {0, 2}}),
              "pile 2, part 1: it is never sliced. put the order right");
    EXPECT_EQ(said(question, {{0, 0}, {0, 0}, {0, 1}, {0, 2}, {1, 0}}),
              "pile 1, part 1: it is sliced twice. put the order right");
    EXPECT_EQ(said(question, {{0, 0}, {0, 1}, {0, 2}, {1, 0}, {2, 0}}),
              "a part that there is not is sliced. name parts of the piles by their places");
}

TEST(SlicingCheck, SeesWhatTheLoaderCannotGetAt) {
    auto question = four_days();
    const std::vector<PartPlace> forth{{0, 0}, {0, 1}, {0, 2}, {1, 0}};
    const std::vector<PartPlace> back{{0, 2}, {0, 1}, {0, 0}, {1, 0}};
    const std::vector<PartPlace> ends{{0, 0}, {0, 2}, {0, 1}, {1, 0}};
    const std::vector<PartPlace> middle{{0, 1}, {0, 0}, {0, 2}, {1, 0}};
    const auto expect = [&](TakenFrom way, std::vector<bool> can_be) {
        question.piles[0].taken_from = way;
        std::vector<bool> is;
        for (const auto& order : {forth, back, ends, middle}) {
            is.push_back(check_slicing_order(question, order).ok());
        }
        EXPECT_EQ(is, can_be) << words(way);
    };
    expect(TakenFrom::beginning, {true, false, false, false});
    expect(TakenFrom::end, {false, true, false, false});
    expect(TakenFrom::either_end, {true, true, true, false});
    expect(TakenFrom::anywhere, {true, true, true, true});
}

TEST(SlicingCheck, SeesDaysThatAreNotKept) {
    auto question = four_days();
    auto& part = question.piles[1].parts[0];
    part.not_before = kFirstDay + std::chrono::days(1);
    part.by = kFirstDay + std::chrono::days(1);
    EXPECT_EQ(said(question, kOrder), "in order");
    part.not_before = kFirstDay + std::chrono::days(2);
    part.by.reset();
    EXPECT_EQ(said(question, kOrder),
              "pile 2, part 1: it is sliced before 2038-06-15. put the order right");
    part.not_before.reset();
    part.by = kFirstDay;
    EXPECT_EQ(said(question, kOrder),
              "pile 2, part 1: it is not gone by 2038-06-13. put the order right");
    question.slicer_takes.back() = tonnes<CleanMass>(99.0);
    part.by.reset();
    EXPECT_EQ(said(question, kOrder),
              "pile 1, part 3: the slicer does not get to it within the horizon. put the order "
              "right");
}

}  // namespace
}  // namespace beetwright::campaign
