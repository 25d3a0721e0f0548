#include "ledger/draws.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "base/random.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::size_t kDraws = 1000;

double correlation(std::span<const double> a, std::span<const double> b) {
    // Scores have mean zero and the same spread by construction.
    double ab = 0.0;
    double aa = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        ab += a[i] * b[i];
        aa += a[i] * a[i];
    }
    return ab / aa;
}

TEST(Draws, TakeEachSliceOfChanceExactlyOnce) {
    const Draws draws(Catalogue{}, 5, kDraws);
    for (const unsigned amount : {0U, 7U, 19U}) {
        const auto scores = draws.field_scores(stable_hash("Long Acre"), amount);
        std::vector<double> sorted(scores.begin(), scores.end());
        std::ranges::sort(sorted);
        for (std::size_t i = 0; i < kDraws; ++i) {
            const double p = (static_cast<double>(i) + 0.5) / static_cast<double>(kDraws);
            ASSERT_EQ(sorted[i], normal_quantile(p));
        }
    }
}

TEST(Draws, OfAmountsAndFieldsAreUncorrelated) {
    const Draws draws(Catalogue{}, 6, kDraws);
    // Correlations of independent orders have standard deviation 1/sqrt(N-1) = 0.032; over 4 x 190
    // pairs none passes 5 standard deviations but with chance 4e-4.
    for (const char* field : {"a", "b", "c", "d"}) {
        for (unsigned i = 0; i < 20; ++i) {
            for (unsigned j = 0; j < i; ++j) {
                const auto entity = stable_hash(field);
                EXPECT_LT(std::abs(correlation(draws.field_scores(entity, i),
                                               draws.field_scores(entity, j))),
                          0.16);
            }
        }
    }
    EXPECT_LT(std::abs(correlation(draws.field_scores(stable_hash("a"), 3),
                                   draws.field_scores(stable_hash("b"), 3))),
              0.16);
}

// Whatever the ledger does not ask must not be taken, by chance, for a cause of its doubt.
TEST(Draws, LeaveOutWhatTheLedgerDoesNotAsk) {
    const Draws draws(Catalogue{}, 5, kDraws);
    EXPECT_TRUE(draws.scores_of(ConstantId::lifting_thaw_wait).empty());
    EXPECT_TRUE(draws.scores_of(ConstantId::crop_root_start).empty());
    EXPECT_EQ(draws.scores_of(ConstantId::storage_q10).size(), kDraws);
}

TEST(Draws, DependOnTheSeedAloneAndRepeat) {
    const Draws one(Catalogue{}, 9, kDraws);
    const Draws same(Catalogue{}, 9, kDraws);
    const Draws other(Catalogue{}, 10, kDraws);
    const auto a = one.of(ConstantId::tip_loss_at_5cm);
    const auto b = same.of(ConstantId::tip_loss_at_5cm);
    const auto c = other.of(ConstantId::tip_loss_at_5cm);
    EXPECT_TRUE(std::ranges::equal(a, b));
    EXPECT_FALSE(std::ranges::equal(a, c));
}

TEST(Draws, OfAConstantHaveItsOwnMiddleAndEnds) {
    const Catalogue catalogue;
    const Draws draws(catalogue, 11, kDraws);
    for (unsigned c = 0; c < kConstantCount; ++c) {
        if (kPlaces.place[c] == PlacesOfConstants::kNotDrawn) {
            continue;
        }
        const auto id = static_cast<ConstantId>(c);
        std::vector<double> values(draws.of(id).begin(), draws.of(id).end());
        std::ranges::sort(values);
        const double middle = 0.5 * (values[kDraws / 2 - 1] + values[kDraws / 2]);
        const double reach = catalogue.at_score(id, 1.7) - catalogue.at_score(id, -1.7);
        // Neighbouring slices at the middle lie 0.0025 scores apart.
        EXPECT_NEAR(middle, catalogue.at_score(id, 0.0), 0.002 * reach + 1e-12)
            << catalogue_rows()[c].id;
        EXPECT_EQ(draws.scores_of(id).empty(), catalogue_rows()[c].spread == Spread::fixed)
            << catalogue_rows()[c].id;
    }
}

TEST(Draws, OfConstantsAreOrderedEachInItsOwnWay) {
    const Draws draws(Catalogue{}, 12, kDraws);
    std::set<double> firsts;
    std::size_t uncertain = 0;
    for (unsigned c = 0; c < kConstantCount; ++c) {
        if (kPlaces.place[c] == PlacesOfConstants::kNotDrawn) {
            continue;
        }
        const auto scores = draws.scores_of(static_cast<ConstantId>(c));
        if (!scores.empty()) {
            firsts.insert(scores[0]);
            ++uncertain;
        }
    }
    // With ~50 constants over 1000 slices a few first scores coincide by chance, not many.
    EXPECT_GT(firsts.size(), uncertain * 3 / 4);
}

}  // namespace
}  // namespace beetwright::ledger
