#include "crop/recoverable.hpp"

#include <cmath>

namespace beetwright::crop {
namespace {

std::size_t first_of(When when) {
    return when == When::now ? FieldForecast::kNow : FieldForecast::kLater;
}

Estimate<SugarPerArea> estimate_of(Moments m) {
    return {SugarPerArea(m.mean), SugarPerArea(m.mean - kIntervalZ * m.sd),
            SugarPerArea(m.mean + kIntervalZ * m.sd)};
}

}  // namespace

Moments product(Moments a, Moments b, double covariance) {
    const double a2 = a.sd * a.sd, b2 = b.sd * b.sd;
    const double variance = a.mean * a.mean * b2 + b.mean * b.mean * a2 +
                            2.0 * a.mean * b.mean * covariance + a2 * b2 + covariance * covariance;
    return {a.mean * b.mean + covariance, std::sqrt(variance)};
}

Estimate<SugarPerArea> sugar_yield(const FieldForecast& forecast, When when) {
    const std::size_t root = first_of(when), pol = root + 1;
    const auto& c = forecast.covariance;
    return estimate_of(product({forecast.mean[root], std::sqrt(c[root][root])},
                               {forecast.mean[pol], std::sqrt(c[pol][pol])}, c[root][pol]));
}

Estimate<SugarPerArea> recoverable_yield(const FieldForecast& forecast, When when,
                                         const Catalogue& catalogue) {
    const std::size_t root = first_of(when), pol = root + 1, molasses = root + 2;
    const auto& c = forecast.covariance;
    const double content = forecast.mean[pol] - forecast.mean[molasses] -
                           catalogue.value(ConstantId::molasses_factory_loss);
    const double variance = c[pol][pol] + c[molasses][molasses] - 2.0 * c[pol][molasses];
    return estimate_of(product({forecast.mean[root], std::sqrt(c[root][root])},
                               {content, std::sqrt(variance)}, c[root][pol] - c[root][molasses]));
}

Estimate<double> trait_estimate(const FieldForecast& forecast, Trait trait, When when) {
    const std::size_t at = first_of(when) + static_cast<std::size_t>(trait);
    const double reach = kIntervalZ * std::sqrt(forecast.covariance[at][at]);
    return {forecast.mean[at], forecast.mean[at] - reach, forecast.mean[at] + reach};
}

}  // namespace beetwright::crop
