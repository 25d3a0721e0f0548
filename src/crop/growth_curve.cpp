#include "crop/growth_curve.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "base/estimate.hpp"
#include "base/quantity.hpp"

namespace beetwright::crop {
namespace {

/// Half of what lies between a constant's 5 % and 95 % points, as a standard deviation.
double spread_of(const Catalogue& catalogue, ConstantId id) {
    return (catalogue.at_score(id, kIntervalZ) - catalogue.at_score(id, -kIntervalZ)) /
           (2.0 * kIntervalZ);
}

/// An error's standard deviation is known by a lognormal spread; what counts for a look of unknown
/// error is the root of the mean variance, which lies above the middle.
double error_of(const Catalogue& catalogue, ConstantId id) {
    const double scatter =
        std::log(catalogue.at_score(id, kIntervalZ) / catalogue.at_score(id, -kIntervalZ)) /
        (2.0 * kIntervalZ);
    return catalogue.value(id) * std::exp(scatter * scatter);
}

struct TraitIds {
    ConstantId start, field_sd, gain, persistence, turn_day;
    AfterTurn after_turn;
};

TraitCourse course(const Catalogue& catalogue, const TraitIds& ids) {
    TraitCourse c;
    c.start = catalogue.value(ids.start);
    c.start_sd = spread_of(catalogue, ids.start);
    const double gained = catalogue.value(ConstantId::crop_field_gained);
    c.start_field_sd = catalogue.value(ids.field_sd) * std::sqrt(1.0 - gained);
    c.gain = catalogue.value(ids.gain);
    c.gain_sd = spread_of(catalogue, ids.gain);
    c.gain_field_sd = catalogue.value(ids.field_sd) * std::sqrt(gained);
    c.persistence = std::clamp(catalogue.value(ids.persistence), 0.0, 1.0);
    c.turn_day = catalogue.value(ids.turn_day) / unit::day.si();
    c.after_turn = ids.after_turn;
    return c;
}

}  // namespace

double TraitCourse::covered(double day) const {
    const double until = after_turn == AfterTurn::holds ? std::min(day, turn_day) : day;
    return until - until * until / (2.0 * turn_day);
}

GrowthCurve growth_curve(const Catalogue& catalogue) {
    using enum ConstantId;
    GrowthCurve curve;
    curve.of(Trait::root) =
        course(catalogue, {crop_root_start, crop_root_field_sd, crop_root_gain,
                           crop_root_persistence, crop_root_turn, AfterTurn::holds});
    curve.of(Trait::pol) =
        course(catalogue, {crop_pol_start, crop_pol_field_sd, crop_pol_gain, crop_pol_persistence,
                           crop_pol_turn, AfterTurn::turns});
    curve.of(Trait::molasses) =
        course(catalogue, {crop_molasses_start, crop_molasses_field_sd, crop_molasses_gain,
                           crop_molasses_persistence, crop_molasses_turn, AfterTurn::holds});
    curve.dry_year = catalogue.value(crop_dry_year);
    curve.steady_share = catalogue.value(crop_steady_share);
    curve.delivered = catalogue.value(crop_delivered);
    curve.delivered_sd = spread_of(catalogue, crop_delivered);
    const auto error = [&](ConstantId id) { return error_of(catalogue, id); };
    curve.spot = {error(crop_spot_root), error(crop_spot_pol), error(crop_spot_molasses)};
    curve.delivery = {error(crop_delivery_root), error(crop_delivery_pol),
                      error(crop_delivery_molasses)};
    return curve;
}

int autumn_day(Day day) {
    using namespace std::chrono;
    const Day first{year_month_day(day).year() / August / 14};
    return static_cast<int>((day - first).count());
}

}  // namespace beetwright::crop
