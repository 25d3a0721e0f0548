// Sugar per area from a field's traits: yield times content, both uncertain and alike in part.
#pragma once

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "crop/growth.hpp"

namespace beetwright::crop {

enum class When { now, later };

/// Mean and standard deviation of the product of two jointly normal numbers; exact.
struct Moments {
    double mean = 0.0;
    double sd = 0.0;
};
Moments product(Moments a, Moments b, double covariance);

/// Roots times pol, as dug.
Estimate<SugarPerArea> sugar_yield(const FieldForecast& forecast, When when);
/// Roots times what is left of pol after molasses and the fixed loss of processing, as dug.
Estimate<SugarPerArea> recoverable_yield(const FieldForecast& forecast, When when,
                                         const Catalogue& catalogue);
/// One trait alone [SI].
Estimate<double> trait_estimate(const FieldForecast& forecast, Trait trait, When when);

}  // namespace beetwright::crop
