// Observations are samples of the truth: right on average, and as scattered as they should be.
#include "demo_season/observe.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string_view>

#include "demo_season/invent.hpp"

namespace beetwright::demo {
namespace {

using check::Topping;

constexpr std::uint64_t kSeed = 7;
constexpr int kSheets = 400;
// A fixed seed; a right sampler would fail one check in about 100,000 seeds.
constexpr double kStandardErrors = 4.5;

struct Running {
    double n = 0.0;
    double sum = 0.0;
    double squares = 0.0;
    void add(double x) {
        n += 1.0;
        sum += x;
        squares += x * x;
    }
    [[nodiscard]] double mean() const { return sum / n; }
    [[nodiscard]] double variance() const { return (squares - sum * sum / n) / (n - 1.0); }
    [[nodiscard]] double standard_error() const { return std::sqrt(variance() / n); }
};

class DemoObservation : public testing::Test {
 protected:
    const FieldPlan& plan(std::string_view name) const {
        for (const auto& one : field_plans()) {
            if (one.name == name) {
                return one;
            }
        }
        return field_plans().front();
    }
    FieldTruth truth(std::string_view name) const {
        return field_truth(plan(name), Weather(kSeed), kSeed, loss_physics(Catalogue{}));
    }
};

TEST_F(DemoObservation, SheetsAreRightOnAverage) {
    const auto field = truth("Hollow Oak");
    const Look look{.plan = plan("Hollow Oak"), .truth = field, .seed = kSeed};
    Running deep;
    Running rot;
    Running skin;
    Running moment;
    for (int i = 0; i < kSheets; ++i) {
        const auto sheet = observed_sheet(look, i);
        ASSERT_EQ(sheet.beets.size(), 100U);
        double deep_beets = 0.0;
        double rotten_beets = 0.0;
        double skin_cm2 = 0.0;
        double tails = 0.0;
        for (const auto& beet : sheet.beets) {
            deep_beets += beet.topping == Topping::too_deep ? 1.0 : 0.0;
            rotten_beets += beet.rot == check::Seen::yes ? 1.0 : 0.0;
            skin_cm2 += beet.skin_damage / unit::cm2;
            tails += std::pow(beet.tip.from / (5.0 * unit::cm), 2.0);
        }
        deep.add(deep_beets / 100.0);
        rot.add(rotten_beets / 100.0);
        skin.add(skin_cm2 / 100.0);
        moment.add(tails / 100.0);
    }
    const double deep_truth = field.topping[static_cast<std::size_t>(Topping::too_deep)];
    EXPECT_NEAR(deep.mean(), deep_truth, kStandardErrors * deep.standard_error());
    EXPECT_NEAR(rot.mean(), field.rotten, kStandardErrors * rot.standard_error());
    // Rounding to 1 cm2 is even: it shifts the mean by well under 0.1.
    EXPECT_NEAR(skin.mean(), field.skin_damage / unit::cm2,
                kStandardErrors * skin.standard_error() + 0.1);
    // Rounding to 0.1 cm adds 0.1^2/12 cm2 to the mean square, 3e-5 of (5 cm)^2.
    EXPECT_NEAR(moment.mean(), field.tails.moment(2.0),
                kStandardErrors * moment.standard_error() + 1e-4);
}

// With concentration c two beets of a spot correlate by 1 / (c + 1), so the share of 10 spots of 10
// has 1 + 9 / (c + 1) times the variance of 100 beets picked one by one.
TEST_F(DemoObservation, SpotsScatterMoreThanSingleBeetsByTheDesignEffect) {
    const auto field = truth("Hollow Oak");
    const Look look{.plan = plan("Hollow Oak"), .truth = field, .seed = kSeed};
    Running correct;
    for (int i = 0; i < kSheets; ++i) {
        double count = 0.0;
        for (const auto& beet : observed_sheet(look, i).beets) {
            count += beet.topping == Topping::correct ? 1.0 : 0.0;
        }
        correct.add(count / 100.0);
    }
    const double p = field.topping[static_cast<std::size_t>(Topping::correct)];
    const double effect = 1.0 + 9.0 / (field.topping_concentration + 1.0);
    const double expected = effect * p * (1.0 - p) / 100.0;
    // A variance of 400 near-normal values has a relative standard error of sqrt(2/399) = 7 %.
    EXPECT_NEAR(correct.variance() / expected, 1.0, kStandardErrors * 0.0708);
    EXPECT_GT(effect, 1.2);
}

TEST_F(DemoObservation, StripsTaresAndLabsAreRightOnAverage) {
    const auto field = truth("Plover Ground");
    const Look look{.plan = plan("Plover Ground"), .truth = field, .seed = kSeed};
    Running whole;
    Running soil;
    Running pol;
    for (int i = 0; i < kSheets; ++i) {
        const auto strip = observed_strip(look, i);
        whole.add((strip.whole_roots / strip.area).si());
        const auto tare = observed_tare(look, i);
        const double clean =
            tare.gross.si() - tare.soil.si() - (tare.tops.is_known() ? tare.tops.si() : 0.0);
        soil.add(tare.soil.si() / clean);
        pol.add(observed_lab(look, i).pol.si());
    }
    EXPECT_NEAR(whole.mean(), field.whole_roots.si(), kStandardErrors * whole.standard_error());
    // Where the tops were not sorted out they count as beet here: up to 3 % of the soil.
    EXPECT_NEAR(soil.mean(), field.soil,
                kStandardErrors * soil.standard_error() + 0.03 * field.soil);
    EXPECT_NEAR(pol.mean(), field.pol.si(), kStandardErrors * pol.standard_error());
}

TEST_F(DemoObservation, ClassesHoldTheDiametersTheyStandFor) {
    const auto field = truth("Reed Side");
    const Look look{.plan = plan("Reed Side"), .truth = field, .seed = kSeed};
    for (const auto& beet : observed_sheet(look, 0).beets) {
        EXPECT_LE(beet.tip.from, beet.tip.to);
        EXPECT_TRUE(beet.tip.to == Length::zero() || beet.tip.to > beet.tip.from);
        EXPECT_FALSE(beet.skin_damage.is_known());
    }
}

TEST_F(DemoObservation, ReadsWhatInstrumentsShow) {
    const Reader metric(UnitSystem::metric);
    const Reader us(UnitSystem::us);
    EXPECT_EQ(metric.read(0.02314 * unit::m, scale::break_diameter),
              find_unit("cm")->to_si(2.3) * unit::m);
    // 2.314 cm is 0.911 in, read to a twentieth of an inch.
    EXPECT_EQ(us.read(0.02314 * unit::m, scale::break_diameter),
              find_unit("in")->to_si(0.9) * unit::m);
}

}  // namespace
}  // namespace beetwright::demo
