// The filter against an independent dense computation, and what it must do in plain cases.
#include "crop/growth.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "base/random.hpp"
#include "crop/recoverable.hpp"
#include "dense_normal.hpp"

namespace beetwright::crop {
namespace {

const GrowthCurve kCurve = growth_curve(Catalogue());

DugSample dug(std::size_t field, int day, int spots, double root_t_ha, double pol_percent,
              double molasses_percent) {
    return {field,
            day,
            spots,
            root_t_ha * unit::t_clean_per_ha,
            pol_percent * unit::percent_sugar,
            molasses_percent * unit::percent_sugar};
}
FieldDelivery delivered(std::size_t field, int day, double root_t_ha, double pol_percent,
                        double molasses_percent) {
    return {field, day, root_t_ha * unit::t_clean_per_ha, pol_percent * unit::percent_sugar,
            molasses_percent * unit::percent_sugar};
}
double sd_of(const FieldForecast& forecast, std::size_t at) {
    return std::sqrt(forecast.covariance[at][at]);
}

/// What was seen, for both computations at once.
class BothWays {
 public:
    BothWays(std::size_t fields, int days) : filter(kCurve, fields), model(kCurve, fields, days) {}

    void see(const DugSample& s) {
        filter.observe(s);
        const double few = 1.0 / std::sqrt(static_cast<double>(s.spots));
        const double usual = kCurve.of(Trait::root).mean(s.day);
        add(s.field, Trait::root, s.day, s.root.si(), few * kCurve.spot.root_share * usual);
        add(s.field, Trait::pol, s.day, s.pol.si(), few * kCurve.spot.pol);
        add(s.field, Trait::molasses, s.day, s.molasses.si(), few * kCurve.spot.molasses);
    }
    void see(const FieldDelivery& d) {
        filter.observe(d);
        const double usual = kCurve.of(Trait::root).mean(d.day);
        Row row = model.trait(d.field, Trait::root, static_cast<std::size_t>(d.day));
        const Row share = model.delivered();
        for (std::size_t i = 0; i < row.size(); ++i) {
            row[i] = kCurve.delivered * row[i] + usual * share[i];
        }
        seen.push_back(row);
        departures.push_back(d.root.si() - kCurve.delivered * usual);
        errors.push_back(kCurve.delivery.root_share * kCurve.delivered * usual);
        add(d.field, Trait::pol, d.day, d.pol.si(), kCurve.delivery.pol);
        add(d.field, Trait::molasses, d.day, d.molasses.si(), kCurve.delivery.molasses);
    }
    /// Means and covariances of a forecast agree to a rounding error.
    void expect_alike(std::size_t field, int later) {
        const auto forecast = filter.forecast(field, later);
        std::vector<Row> asked;
        Row means;
        for (const int day : {filter.day(), later}) {
            for (const Trait trait : kAllTraits) {
                asked.push_back(model.trait(field, trait, static_cast<std::size_t>(day)));
                means.push_back(kCurve.of(trait).mean(day));
            }
        }
        asked.push_back(model.delivered());
        means.push_back(kCurve.delivered);
        const auto dense = condition(model, seen, departures, errors, asked);
        for (std::size_t a = 0; a < FieldForecast::kSize; ++a) {
            EXPECT_NEAR(forecast.mean[a], means[a] + dense.mean[a], 1e-11 * means[0]) << a;
            for (std::size_t b = 0; b < FieldForecast::kSize; ++b) {
                const double scale = std::sqrt(dense.covariance[a][a] * dense.covariance[b][b]);
                EXPECT_NEAR(forecast.covariance[a][b], dense.covariance[a][b], 1e-9 * scale)
                    << a << ' ' << b;
            }
        }
    }

    GrowthFilter filter;

 private:
    void add(std::size_t field, Trait trait, int day, double value, double error) {
        seen.push_back(model.trait(field, trait, static_cast<std::size_t>(day)));
        departures.push_back(value - kCurve.of(trait).mean(day));
        errors.push_back(error);
    }
    DenseNormal model;
    std::vector<Row> seen;
    Row departures, errors;
};

TEST(GrowthFilter, AgreesWithADenseNormalBeforeAnythingIsSeen) {
    BothWays both(2, 90);
    both.filter.go_to(20);
    both.expect_alike(1, 60);
}

TEST(GrowthFilter, AgreesWithADenseNormalOnSamplesAndDeliveries) {
    BothWays both(3, 110);
    both.see(dug(0, 5, 4, 58.0, 18.6, 1.6));
    both.see(dug(1, 12, 6, 81.0, 16.1, 1.3));
    both.expect_alike(2, 40);
    both.see(dug(0, 30, 4, 77.0, 18.0, 1.4));
    both.see(delivered(1, 45, 73.0, 17.9, 1.2));
    both.expect_alike(0, 45);
    both.expect_alike(2, 59);
    both.see(delivered(2, 70, 80.0, 18.4, 1.15));
    both.expect_alike(0, 100);
}

TEST(GrowthFilter, LeavesOutWhatWasNotLookedAt) {
    GrowthFilter with(kCurve, 1), without(kCurve, 1);
    DugSample sample = dug(0, 10, 5, 70.0, 17.0, 1.3);
    sample.pol = SugarContent();
    sample.molasses = SugarContent();
    with.observe(sample);
    without.go_to(10);
    const auto seen = with.forecast(0, 10), unseen = without.forecast(0, 10);
    EXPECT_LT(sd_of(seen, 0), 0.6 * sd_of(unseen, 0));
    // A dry year goes with few roots and much pol, so roots tell something of pol, but not much.
    EXPECT_LT(sd_of(seen, 1), sd_of(unseen, 1));
    EXPECT_GT(sd_of(seen, 1), 0.5 * sd_of(unseen, 1));
}

TEST(GrowthFilter, LearnsFromItsNeighbours) {
    GrowthFilter filter(kCurve, 12);
    EXPECT_GT(filter.neighbours_alike(Trait::root), 0.5);
    EXPECT_LT(filter.neighbours_alike(Trait::root), 0.9);
    filter.go_to(50);
    const auto before = filter.forecast(0, 70);
    for (std::size_t field = 1; field < 12; ++field) {
        // A good year: a fifth over the curve.
        filter.observe(delivered(
            field, 50,
            1.2 * kCurve.delivered * kCurve.of(Trait::root).mean(50) / unit::t_clean_per_ha.si(),
            19.0, 1.2));
    }
    const auto after = filter.forecast(0, 70);
    EXPECT_GT(after.mean[3], 1.05 * before.mean[3]);
    for (std::size_t at = 0; at < 6; ++at) {
        EXPECT_LT(sd_of(after, at), sd_of(before, at)) << at;
    }
    // Never better than its own departures from its year allow.
    EXPECT_GT(sd_of(after, 0), kCurve.of(Trait::root).start_field_sd);
    // The year is known now, so what is left of two fields is less alike than before.
    GrowthFilter prior(kCurve, 2);
    prior.go_to(50);
    EXPECT_LT(filter.neighbours_alike(Trait::pol), prior.neighbours_alike(Trait::pol));
}

TEST(GrowthFilter, KeepsItsCovarianceSymmetricAndPositive) {
    GrowthFilter filter(kCurve, 4);
    RandomStream random(7, "many looks");
    for (int day = 0; day < 120; ++day) {
        filter.observe(dug(static_cast<std::size_t>(day) % 4, day, 10'000,
                           60.0 + 0.5 * day + random.normal(), 17.0 + random.normal(), 1.3));
        const auto forecast = filter.forecast(random.below(4), day + 20);
        for (std::size_t a = 0; a < FieldForecast::kSize; ++a) {
            EXPECT_GE(forecast.covariance[a][a], 0.0);
            for (std::size_t b = 0; b < a; ++b) {
                EXPECT_NEAR(forecast.covariance[a][b], forecast.covariance[b][a],
                            1e-12 * sd_of(forecast, a) * sd_of(forecast, b));
                EXPECT_LE(std::abs(forecast.covariance[a][b]),
                          (1.0 + 1e-9) * sd_of(forecast, a) * sd_of(forecast, b));
            }
        }
    }
}

// E[XY] and Var(XY) of jointly normal numbers against 1,000,000 draws, seed 11; five standard
// errors, which of a variance with the product's tails are under 5 * 0.0025.
TEST(Recoverable, ProductOfTwoNormalsHasTheseMoments) {
    const Moments a{9.0, 1.5}, b{0.17, 0.02};
    const double correlation = -0.6;
    const auto exact = product(a, b, correlation * a.sd * b.sd);
    RandomStream random(11, "products");
    double sum = 0.0, squares = 0.0;
    constexpr int kDraws = 1'000'000;
    for (int i = 0; i < kDraws; ++i) {
        const double z = random.normal();
        const double w =
            correlation * z + std::sqrt(1.0 - correlation * correlation) * random.normal();
        const double xy = (a.mean + a.sd * z) * (b.mean + b.sd * w);
        sum += xy;
        squares += xy * xy;
    }
    const double mean = sum / kDraws;
    const double sd = std::sqrt(squares / kDraws - mean * mean);
    EXPECT_NEAR(exact.mean, mean, 5.0 * sd / std::sqrt(1.0 * kDraws));
    EXPECT_NEAR(exact.sd / sd, 1.0, 0.0125 / 2.0);
}

// value.md 8A.6 [C]: 116.9 t/ha at 18.5 and 1.15 % is 21.63 t sugar and 19.58 recoverable.
TEST(Recoverable, YieldsOfTheRecordWeekWithoutDoubt) {
    FieldForecast sure;
    sure.mean = {11.69, 0.185, 0.0115, 11.69, 0.185, 0.0115, 0.79};
    const double tonne_per_ha = 1000.0 * unit::kg_sugar_per_ha.si();
    EXPECT_NEAR(sugar_yield(sure, When::now).value.si() / tonne_per_ha, 21.63, 0.005);
    const auto recoverable = recoverable_yield(sure, When::later, Catalogue());
    EXPECT_NEAR(recoverable.value.si() / tonne_per_ha, 19.58, 0.005);
    EXPECT_EQ(recoverable.low, recoverable.high);
}

// 10 kg/m2 exactly; pol known to 1 and molasses loss to 0.4 points, correlation 0.5: their
// difference to sqrt(1 + 0.16 - 0.4) points.
TEST(Recoverable, ContentsThatGoTogetherAreKnownBetterByTheirDifference) {
    FieldForecast f;
    f.mean = {10.0, 0.18, 0.012, 10.0, 0.18, 0.012, 0.8};
    f.covariance[1][1] = 1e-4;
    f.covariance[2][2] = 1.6e-5;
    f.covariance[1][2] = f.covariance[2][1] = 0.5 * 0.01 * 0.004;
    const auto e = recoverable_yield(f, When::now, Catalogue());
    EXPECT_NEAR(e.value.si(), 10.0 * (0.18 - 0.012 - 0.006), 1e-12);
    EXPECT_NEAR((e.high - e.value).si(), kIntervalZ * 10.0 * 0.01 * std::sqrt(0.76), 1e-12);
    // Roots that are few where pol is high: known better than either alone would say.
    f.covariance[0][0] = 1.0;
    f.covariance[0][1] = f.covariance[1][0] = -0.9 * 0.01;
    const auto together = recoverable_yield(f, When::now, Catalogue());
    f.covariance[0][1] = f.covariance[1][0] = 0.0;
    const auto apart = recoverable_yield(f, When::now, Catalogue());
    EXPECT_LT((together.high - together.low).si(), 0.7 * (apart.high - apart.low).si());
    EXPECT_NEAR((apart.value - together.value).si(), 0.9 * 0.01, 1e-12);
    // Molasses loss that is high where roots are many takes from the mean.
    f.covariance[0][2] = f.covariance[2][0] = 0.002;
    EXPECT_NEAR((apart.value - recoverable_yield(f, When::now, Catalogue()).value).si(), 0.002,
                1e-12);
}

}  // namespace
}  // namespace beetwright::crop
