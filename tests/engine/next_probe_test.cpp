// Where a further probe would teach most: against a pile in which that is known.
#include "engine/next_probe.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "engine/pile_twin.hpp"

namespace beetwright::engine {
namespace {

/// Courses by hand: the same warmth everywhere in all members, but for some places; and what is
/// lost of the sugar.
class Made {
 public:
    explicit Made(const PileStudy& study)
        : study_(study), grid_(*part_grid(study.basis())), courses_(1, study.member_count()) {
        for (std::size_t m = 0; m < study.member_count(); ++m) {
            courses_.of(0, m).frames.emplace_back();
            courses_.of(0, m).frames[0].day = study.today();
            courses_.of(0, m).frames[0].celsius.assign(grid_.across * grid_.up, 8.0F);
            courses_.of(0, m).days.emplace_back();
        }
    }
    void set_lost(std::size_t member, double lost_kg) {
        courses_.of(0, member).days[0].sugar_left = 1.0 - lost_kg / study_.sugar_kg(0, member);
    }
    /// All that lies left or right of the middle.
    void set_side(std::size_t member, bool right, double celsius) {
        for (std::size_t c = 0; c < grid_.across * grid_.up; ++c) {
            if ((grid_.across_at(c) > Length(0.6)) == right &&
                (grid_.across_at(c) < Length(-0.6)) == !right) {
                courses_.of(0, member).frames[0].celsius[c] = static_cast<float>(celsius);
            }
        }
    }
    [[nodiscard]] const Courses& courses() const { return courses_; }

 private:
    const PileStudy& study_;
    PartGrid grid_;
    Courses courses_;
};

// What is lost follows the warmth on the right by 500 kg/K and not that on the left, which is as
// uncertain. A reading on the right with an error of variance 0.4^2 + 0.5^2 leaves
// error/(variance + error) of the variance; after it no further one helps by a thirtieth but one on
// the same side, which says the same again.
TEST(NextProbe, IsWhereWarmthAndLossGoTogether) {
    const twin::Twin hidden({.seed = 4, .members = 40, .cell = Length(1.0)});
    const auto study = hidden.study(hidden.season({}));
    Made made(*study);
    RandomStream random(1, "test next probe");
    double squares = 0.0;
    double mean = 0.0;
    std::vector<double> right;
    for (std::size_t m = 0; m < study->member_count(); ++m) {
        right.push_back(2.0 * random.normal());
        mean += right.back() / static_cast<double>(study->member_count());
        made.set_side(m, true, 8.0 + right.back());
        made.set_side(m, false, 8.0 + 2.0 * random.normal());
        made.set_lost(m, 5000.0 + 500.0 * right.back());
    }
    for (const double one : right) {
        squares += (one - mean) * (one - mean) / static_cast<double>(right.size() - 1);
    }
    const auto next = next_probes(*study, made.courses());
    ASSERT_FALSE(next.empty());
    EXPECT_GT(next[0].place.across, Length(0.6));
    constexpr double kError = 0.4 * 0.4 + 0.5 * 0.5;
    EXPECT_NEAR(next[0].half_width_before_kg, kIntervalZ * 500.0 * std::sqrt(squares), 0.5);
    EXPECT_NEAR(next[0].half_width_after_kg,
                next[0].half_width_before_kg * std::sqrt(kError / (squares + kError)), 0.5);
    for (const auto& one : next) {
        EXPECT_GT(one.place.across, Length(0.6));
        EXPECT_LT(one.half_width_after_kg, 0.97 * one.half_width_before_kg);
    }
}

// Nothing to be learned of it anywhere.
TEST(NextProbe, IsNowhereWhereNothingWouldTeach) {
    const twin::Twin hidden({.seed = 4, .members = 40, .cell = Length(1.0)});
    const auto study = hidden.study(hidden.season({}));
    Made made(*study);
    for (std::size_t m = 0; m < study->member_count(); ++m) {
        made.set_lost(m, 5000.0 + 100.0 * static_cast<double>(m % 7));
    }
    EXPECT_TRUE(next_probes(*study, made.courses()).empty());
}

}  // namespace
}  // namespace beetwright::engine
