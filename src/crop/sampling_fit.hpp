// The curve's numbers from years that were dug on 14 August, on 9 October, or on both.
//
// Years that were dug twice are few, so the share of an early departure that lasts and the scatter
// about the line lean on a usual value, and spreads are those of a year not seen yet. Years dug
// once still say where a course begins, where it comes to, and, by how much less they differ in
// October than in August, how little of a departure can have lasted.
// docs/methods/growth.md.
#pragma once

#include <span>

#include "crop/growth_curve.hpp"

namespace beetwright::crop {

/// One trait's means of a year's two diggings.
struct TwoDigs {
    double first = 0.0;
    double second = 0.0;
};

/// What is believed of a trait before any year is looked at.
struct UsualCourse {
    double persistence = 0.5;
    double persistence_sd = 0.3;
    double gain_sd = 0.0;       ///< of years about the line
    double gain_freedom = 2.0;  ///< degrees of freedom that the above counts for
};

/// One trait's diggings, year by year.
struct SampledYears {
    std::span<const TwoDigs> twice;
    std::span<const double> only_first;
    std::span<const double> only_second;
};

/// start, gain, their spreads and the persistence; the rest stays as it is in `course`. At least
/// two years dug twice. Spreads are such that 1.645 of them is a Student interval of 90 %.
TraitCourse fit_years(const SampledYears& years, const UsualCourse& usual, TraitCourse course);

}  // namespace beetwright::crop
