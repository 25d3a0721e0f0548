// The diggings of Franconia as years to fit a curve to.
#pragma once

#include <optional>
#include <vector>

#include "base/quantity.hpp"
#include "crop/growth_curve.hpp"
#include "crop/sampling_fit.hpp"
#include "sampling_rows.hpp"

namespace beetwright::crop {

inline constexpr int kFirstWeek = 33, kSecondWeek = 41;
inline constexpr int kFirstYear = 2012, kLastYear = 2024;

inline std::optional<SamplingRow> find_row(int week, int year) {
    for (const auto& row : sampling_rows()) {
        if (row.week == week && row.year == year) {
            return row;
        }
    }
    return std::nullopt;
}
inline SamplingRow row_of(int week, int year) {
    const auto found = find_row(week, year);
    EXPECT_TRUE(found) << "nothing was dug in week " << week << " of " << year;
    return found.value_or(SamplingRow{});
}

/// The row's number of a trait in SI.
inline double trait_of(const SamplingRow& row, Trait trait) {
    switch (trait) {
        case Trait::root: return row.root_t_ha * unit::t_clean_per_ha.si();
        case Trait::pol: return 0.01 * row.pol_percent;
        case Trait::molasses: return 0.01 * row.molasses_percent;
    }
    return 0.0;
}

/// What is believed before the years are looked at: what has grown stays, contents are thinned or
/// not; and a scatter about the line that counts for two years.
inline UsualCourse usual_course(Trait trait) {
    switch (trait) {
        case Trait::root: return {1.0, 0.2, 6.0 * unit::t_clean_per_ha.si(), 2.0};
        case Trait::pol: return {0.5, 0.3, 0.006, 2.0};
        case Trait::molasses: return {0.5, 0.3, 0.0006, 2.0};
    }
    return {};
}

/// The catalogue's curve, fitted anew to all the years but this one (0: to all).
inline GrowthCurve curve_without(int left_out) {
    GrowthCurve curve = growth_curve(Catalogue());
    for (const Trait trait : kAllTraits) {
        std::vector<TwoDigs> twice;
        std::vector<double> only_first, only_second;
        for (int year = kFirstYear; year <= kLastYear; ++year) {
            const auto first = find_row(kFirstWeek, year), second = find_row(kSecondWeek, year);
            if (year == left_out) {
                continue;
            }
            if (first && second) {
                twice.push_back({trait_of(*first, trait), trait_of(*second, trait)});
            } else if (first) {
                only_first.push_back(trait_of(*first, trait));
            } else if (second) {
                only_second.push_back(trait_of(*second, trait));
            }
        }
        curve.of(trait) =
            fit_years({twice, only_first, only_second}, usual_course(trait), curve.of(trait));
    }
    return curve;
}

}  // namespace beetwright::crop
