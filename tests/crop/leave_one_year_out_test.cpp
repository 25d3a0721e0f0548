// Would the model have foretold a year it had not seen?
//
// Each of the four years that were dug twice is left out of the curve, its digging of week 33 is
// shown to the filter, and week 41 is foretold. Four years cannot prove a coverage: with intervals
// that hold nine in ten, all four are held with chance 0.66, at least three with 0.95.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <functional>
#include <vector>

#include "crop/growth.hpp"
#include "crop/recoverable.hpp"
#include "sampled_years.hpp"

namespace beetwright::crop {
namespace {

constexpr std::array kYears{2014, 2015, 2016, 2017};

/// A curve for the mean of 21 sites: the years' spread is that of such means, so sites have none of
/// their own left.
GrowthCurve curve_of_means(int left_out) {
    GrowthCurve curve = curve_without(left_out);
    for (const Trait trait : kAllTraits) {
        curve.of(trait).start_field_sd = 0.0;
        curve.of(trait).gain_field_sd = 0.0;
    }
    return curve;
}

FieldForecast foretold(int year) {
    GrowthFilter filter(curve_of_means(year), 1);
    const auto dug = row_of(kFirstWeek, year);
    // The error of one spot at each of 21 sites.
    filter.observe(DugSample{.field = 0,
                             .day = 0,
                             .spots = 21,
                             .root = CleanMassPerArea(trait_of(dug, Trait::root)),
                             .pol = SugarContent(trait_of(dug, Trait::pol)),
                             .molasses = SugarContent(trait_of(dug, Trait::molasses))});
    return filter.forecast(0, kReferenceDays);
}

using OfRow = std::function<double(const SamplingRow&)>;
using OfForecast = std::function<Estimate<double>(const FieldForecast&)>;

/// The mean of all other years' rows of week 41, also of those dug only then.
double mean_curve(int left_out, const OfRow& of_row) {
    double sum = 0.0, years = 0.0;
    for (const auto& row : sampling_rows()) {
        if (row.week == kSecondWeek && row.year != left_out) {
            sum += of_row(row);
            years += 1.0;
        }
    }
    return sum / years;
}

/// The year's own week 33, and the mean gain of the other years that were dug twice.
double carried_on(int left_out, const OfRow& of_row) {
    double gain = 0.0;
    for (const int year : kYears) {
        if (year != left_out) {
            gain += (of_row(row_of(kSecondWeek, year)) - of_row(row_of(kFirstWeek, year))) /
                    (kYears.size() - 1.0);
        }
    }
    return of_row(row_of(kFirstWeek, left_out)) + gain;
}

struct Outcome {
    double model_rmse = 0.0, mean_curve_rmse = 0.0, carried_on_rmse = 0.0;
    int held = 0;
    double widest = 0.0;
};
Outcome judge(const char* what, const OfRow& of_row, const OfForecast& of_forecast) {
    Outcome outcome;
    double model = 0.0, mean = 0.0, carried = 0.0;
    for (const int year : kYears) {
        const double truth = of_row(row_of(kSecondWeek, year));
        const auto estimate = of_forecast(foretold(year));
        model += std::pow(estimate.value - truth, 2) / kYears.size();
        mean += std::pow(mean_curve(year, of_row) - truth, 2) / kYears.size();
        carried += std::pow(carried_on(year, of_row) - truth, 2) / kYears.size();
        outcome.held += estimate.low <= truth && truth <= estimate.high ? 1 : 0;
        outcome.widest = std::max(outcome.widest, estimate.high - estimate.low);
        std::printf("%s %d: %.2f, foretold %.2f (%.2f to %.2f), mean curve %.2f\n", what, year,
                    truth, estimate.value, estimate.low, estimate.high, mean_curve(year, of_row));
    }
    outcome.model_rmse = std::sqrt(model);
    outcome.mean_curve_rmse = std::sqrt(mean);
    outcome.carried_on_rmse = std::sqrt(carried);
    std::printf("%s: RMSE %.3f, of the mean curve %.3f, carried on %.3f; %d of 4 held\n", what,
                outcome.model_rmse, outcome.mean_curve_rmse, outcome.carried_on_rmse, outcome.held);
    return outcome;
}

OfForecast trait_later(Trait trait, double one) {
    return [=](const FieldForecast& forecast) {
        const auto e = trait_estimate(forecast, trait, When::later);
        return Estimate<double>{e.value / one, e.low / one, e.high / one};
    };
}

TEST(LeaveOneYearOut, RootYieldIsForetoldBetterThanByTheMeanCurve) {
    const auto outcome = judge(
        "roots, t/ha", [](const SamplingRow& row) { return row.root_t_ha; },
        trait_later(Trait::root, unit::t_clean_per_ha.si()));
    EXPECT_LE(outcome.model_rmse, outcome.mean_curve_rmse);
    EXPECT_LE(outcome.model_rmse, outcome.carried_on_rmse);
    EXPECT_GE(outcome.held, 3);
    EXPECT_LT(outcome.widest, 60.0);
}

TEST(LeaveOneYearOut, PolIsForetoldNoWorseThanByTheMeanCurve) {
    const auto outcome = judge(
        "pol, %", [](const SamplingRow& row) { return row.pol_percent; },
        trait_later(Trait::pol, 0.01));
    EXPECT_LE(outcome.model_rmse, outcome.mean_curve_rmse);
    EXPECT_LE(outcome.model_rmse, outcome.carried_on_rmse);
    EXPECT_GE(outcome.held, 3);
    EXPECT_LT(outcome.widest, 6.0);
}

TEST(LeaveOneYearOut, MolassesLossIsForetoldNoWorseThanByTheMeanCurve) {
    const auto outcome = judge(
        "molasses loss, %", [](const SamplingRow& row) { return row.molasses_percent; },
        trait_later(Trait::molasses, 0.01));
    EXPECT_LE(outcome.model_rmse, outcome.mean_curve_rmse);
    EXPECT_LE(outcome.model_rmse, outcome.carried_on_rmse);
    EXPECT_GE(outcome.held, 3);
    EXPECT_LT(outcome.widest, 0.6);
}

TEST(LeaveOneYearOut, SugarYieldIsForetoldBetterThanByTheMeanCurve) {
    const auto outcome = judge(
        "sugar, t/ha", [](const SamplingRow& row) { return row.sugar_t_ha; },
        [](const FieldForecast& forecast) {
            const auto e = sugar_yield(forecast, When::later);
            const double one = 1000.0 * unit::kg_sugar_per_ha.si();
            return Estimate<double>{e.value.si() / one, e.low.si() / one, e.high.si() / one};
        });
    EXPECT_LE(outcome.model_rmse, outcome.mean_curve_rmse);
    EXPECT_LE(outcome.model_rmse, outcome.carried_on_rmse);
    EXPECT_GE(outcome.held, 3);
    EXPECT_LT(outcome.widest, 12.0);
}

}  // namespace
}  // namespace beetwright::crop
