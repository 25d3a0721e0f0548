#include "engine/learned_scores.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/pile_twin.hpp"

namespace beetwright::engine {
namespace {

using twin::Twin;

std::unique_ptr<PileStudy> small_study(const Twin& hidden) {
    return hidden.study(hidden.season({}));
}

double& score_of(PileMember& member, ConstantId id) {
    return member.constants[static_cast<std::size_t>(id)];
}

TEST(LearnedScores, GoBackAsTheyCame) {
    const Twin hidden({.seed = 1, .members = 6, .cell = Length(1.0)});
    const auto study = small_study(hidden);
    const auto before = study->members();
    const LearnedScores scores(*study, study->members(), {0});
    scores.put_back();
    for (std::size_t m = 0; m < before.size(); ++m) {
        EXPECT_EQ(study->members()[m].constants, before[m].constants);
        EXPECT_EQ(study->members()[m].parts[0].waves, before[m].parts[0].waves);
        EXPECT_EQ(study->members()[m].parts[0].moved, before[m].parts[0].moved);
    }
}

// Moved by as much in every member: scores by that, whatever they were; what warmth says nothing of
// not at all, nor beets that nobody read in.
TEST(LearnedScores, MoveWhatMakesAPileWarmAndNothingElse) {
    const Twin hidden({.seed = 1, .members = 6, .cell = Length(1.0)});
    const auto study = small_study(hidden);
    const auto before = study->members();
    LearnedScores scores(*study, study->members(), {0});
    std::ranges::for_each(scores.values(), [](double& one) { one += 0.25; });
    scores.put_back();
    for (std::size_t m = 0; m < before.size(); ++m) {
        PileMember was = before[m];
        PileMember& is = study->members()[m];
        EXPECT_NEAR(score_of(is, ConstantId::storage_basal_rate),
                    score_of(was, ConstantId::storage_basal_rate) + 0.25, 1e-12);
        EXPECT_EQ(score_of(is, ConstantId::pile_fleece_cost),
                  score_of(was, ConstantId::pile_fleece_cost));
        EXPECT_NEAR(is.air, was.air + 0.25, 1e-12);
        EXPECT_NEAR(is.parts[0].resistance, was.parts[0].resistance + 0.25, 1e-12);
    }
    const auto members = study->members();
    LearnedScores of_no_part(*study, study->members(), {});
    std::ranges::fill(of_no_part.values(), 0.0);
    of_no_part.put_back();
    for (std::size_t m = 0; m < members.size(); ++m) {
        EXPECT_EQ(study->members()[m].air, 0.0);
        EXPECT_EQ(study->members()[m].parts[0].breathing, members[m].parts[0].breathing);
    }
}

// Traits are moved by their logarithms: a quarter more of it is exp(0.25) times as much leaf.
TEST(LearnedScores, BeetsTraitsMoveInProportion) {
    const Twin hidden({.seed = 1, .members = 6, .cell = Length(1.0)});
    const auto study = small_study(hidden);
    const auto before = study->beets(0, study->members()[2]);
    LearnedScores scores(*study, study->members(), {0});
    std::ranges::for_each(scores.values(), [](double& one) { one += 0.25; });
    scores.put_back();
    const auto after = study->beets(0, study->members()[2]);
    ASSERT_GT(before[0].condition.leaf, 0.0);
    EXPECT_NEAR(after[0].condition.leaf, std::exp(0.25) * before[0].condition.leaf, 1e-12);
    EXPECT_NEAR(after[0].condition.soil, std::exp(0.25) * before[0].condition.soil, 1e-12);
}

}  // namespace
}  // namespace beetwright::engine
