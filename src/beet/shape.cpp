#include "beet/shape.hpp"

#include <cmath>
#include <numbers>

#include "base/contract.hpp"
#include "base/random.hpp"

namespace beetwright::beet {
namespace {

constexpr double kPi = std::numbers::pi;

/// Variance of the logarithm of a lognormal of this coefficient of variation.
double log_variance(double cv) {
    return std::log1p(cv * cv);
}

}  // namespace

Volume RootShape::volume() const {
    const Length r = shoulder_radius;
    const Length t = tail_radius;
    const Length h = cap_height;
    const Volume cone = (kPi / 3.0) * cone_length * (r * r + r * t + t * t);
    const Volume cap = (kPi / 6.0) * h * (3.0 * (r * r) + h * h);
    return cone + cap;
}

Area RootShape::surface() const {
    const double r = shoulder_radius.si();
    const double t = tail_radius.si();
    const double slant = std::hypot(cone_length.si(), r - t);
    const double cap = kPi * (r * r + cap_height.si() * cap_height.si());
    return Area(kPi * (r + t) * slant + cap + kPi * t * t);
}

RootShape shape_of(Volume volume, double full_angle_rad, Length tail_radius, double cap_ratio) {
    require(volume.si() > 0.0 && full_angle_rad > 0.0 && full_angle_rad < kPi,
            "a root has a volume and an angle");
    const double per_radius = 1.0 / std::tan(0.5 * full_angle_rad);
    const auto with_radius = [&](double radius_m) {
        return RootShape{Length(radius_m), tail_radius,
                         Length((radius_m - tail_radius.si()) * per_radius),
                         Length(cap_ratio * radius_m)};
    };
    // The volume grows with the shoulder's radius: halve the span that holds it.
    double low = tail_radius.si();
    double high = std::cbrt(volume.si()) + tail_radius.si();
    for (int i = 0; i < 80; ++i) {
        const double middle = 0.5 * (low + high);
        (with_radius(middle).volume() < volume ? low : high) = middle;
    }
    return with_radius(0.5 * (low + high));
}

CleanMass RootSizes::quantile(double share) const {
    const double variance = log_variance(cv);
    return std::exp(std::sqrt(variance) * normal_quantile(share) - 0.5 * variance) * mean;
}

double RootSizes::moment(double power) const {
    // E[(X/m)^p] = exp(p (p - 1) s^2 / 2) for a lognormal of mean m and log variance s^2.
    return std::exp(0.5 * power * (power - 1.0) * log_variance(cv));
}

}  // namespace beetwright::beet
