// The shape of one root and the sizes of a crop's roots.
//
// A root is a cone, cut off at the tail, with a spherical cap on its broad end (Kumbar et al. 2016,
// Listy cukrovarnicke a reparske 132:87-90 [V]). docs/methods/shape.md.
#pragma once

#include "base/catalogue.hpp"
#include "base/quantity.hpp"

namespace beetwright::beet {

/// A truncated cone and a spherical cap on its broad end.
struct RootShape {
    Length shoulder_radius;  ///< where cone and cap meet: the root's widest
    Length tail_radius;      ///< where the tail ends, whole
    Length cone_length;
    Length cap_height;  ///< from the shoulder up to the top of the crown

    [[nodiscard]] Volume volume() const;
    /// All of the outside: cone, cap and the end of the tail.
    [[nodiscard]] Area surface() const;
};

/// The root of this volume with this full cone angle, a tail of `tail_radius`, and a cap
/// `cap_ratio` as high as the shoulder's radius (1: a hemisphere).
RootShape shape_of(Volume volume, double full_angle_rad, Length tail_radius, double cap_ratio);

/// How wide a tail is, in radius, where it ends whole.
inline constexpr Length kWholeTailRadius(0.005);

/// Root masses of a crop: lognormal, because a crop holds many middling roots and a few large ones.
struct RootSizes {
    CleanMass mean;
    double cv = 0.0;  ///< standard deviation over mean

    /// The mass that this share of the roots does not exceed, 0 < share < 1.
    [[nodiscard]] CleanMass quantile(double share) const;
    /// The mean of (mass / mean mass)^power; 2/3 for surfaces, 1/3 for diameters.
    [[nodiscard]] double moment(double power) const;
};

}  // namespace beetwright::beet
