// The course that a crop takes through an autumn before anybody has dug in it: root yield, pol and
// molasses loss, how fast they change, and how far years and fields depart from it.
//
// Days count from 14 August, the first of the sequential diggings; a year's departure of that day
// and the gain until 9 October, 56 days later, are what those diggings tell.
// docs/methods/growth.md.
#pragma once

#include <array>
#include <cstddef>

#include "base/catalogue.hpp"
#include "base/time.hpp"

namespace beetwright::crop {

enum class Trait : std::size_t { root, pol, molasses };
inline constexpr std::size_t kTraits = 3;
inline constexpr std::array kAllTraits{Trait::root, Trait::pol, Trait::molasses};
/// Days from 14 August to 9 October.
inline constexpr int kReferenceDays = 56;

/// What a course does after the day on which its rate has fallen to nothing.
enum class AfterTurn { holds, turns };

/// The course of one trait, in SI: roots [kg clean/m2], contents [kg/kg].
struct TraitCourse {
    double start = 0.0;           ///< mean on 14 August
    double start_sd = 0.0;        ///< of years about it
    double start_field_sd = 0.0;  ///< of fields about their year
    double gain = 0.0;            ///< mean change until 9 October
    double gain_sd = 0.0;         ///< of years about it
    double gain_field_sd = 0.0;   ///< of fields about their year
    double persistence = 1.0;     ///< share of a year's early departure that is left on 9 October
    double turn_day = 100.0;      ///< when the rate has fallen to nothing; over 56
    AfterTurn after_turn = AfterTurn::holds;

    /// How many days at the first day's rate the course has covered by this day, the rate falling
    /// evenly to nothing at the turn.
    [[nodiscard]] double covered(double day) const;
    /// The mean rate of the first day [1/d].
    [[nodiscard]] double first_rate() const { return gain / covered(kReferenceDays); }
    [[nodiscard]] double mean(double day) const { return start + first_rate() * covered(day); }
};

/// How far one look at a field is off: standard deviations, of roots against the curve's mean.
struct LookErrors {
    double root_share = 0.0;
    double pol = 0.0;
    double molasses = 0.0;
};

struct GrowthCurve {
    std::array<TraitCourse, kTraits> traits;
    double dry_year = 0.0;      ///< how alike a dry August acts on the traits: a correlation
    double steady_share = 0.5;  ///< of the variance of a gain: a rate that lasts all autumn
    double delivered = 1.0;     ///< delivered clean beet per clean beet dug by hand
    double delivered_sd = 0.0;  ///< of that, the same for all deliveries
    LookErrors spot;            ///< of one dug spot
    LookErrors delivery;        ///< of one field's deliveries
    [[nodiscard]] const TraitCourse& of(Trait trait) const {
        return traits[static_cast<std::size_t>(trait)];
    }
    [[nodiscard]] TraitCourse& of(Trait trait) { return traits[static_cast<std::size_t>(trait)]; }
};

/// The curve by the catalogue's `crop.*`, or a season's own numbers in their places.
GrowthCurve growth_curve(const Catalogue& catalogue);

/// Days after 14 August of the day's own year.
int autumn_day(Day day);

/// Sugar yield in per cent of 7.54 t/ha, `days` after 19 September: the printed fit of Hull and
/// Webb 1970 to five autumns in Suffolk. A reference for the shape of the curve; no model uses it.
constexpr double hull_webb_percent(double days) {
    return 80.22 + (0.836 - 0.006 * days) * days;
}
/// Where that fit is highest [days after 19 September].
inline constexpr double kHullWebbBestDay = 0.836 / (2.0 * 0.006);

}  // namespace beetwright::crop
