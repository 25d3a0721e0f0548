#include "crop/growth.hpp"

#include <cmath>

#include "base/contract.hpp"

namespace beetwright::crop {
namespace {

// The states: level and rate of each trait's departure in the year, then how far the delivered
// share is off, then level and rate of each trait's departure in each field.
constexpr std::size_t kLayer = 2 * kTraits;
constexpr std::size_t kDeliveredState = kLayer;
constexpr std::size_t kFirstField = kLayer + 1;

std::size_t place(Trait trait) {
    return static_cast<std::size_t>(trait);
}
std::size_t year_level(Trait trait) {
    return 2 * place(trait);
}
std::size_t field_level(std::size_t field, Trait trait) {
    return kFirstField + field * kLayer + 2 * place(trait);
}

/// A dry August means few roots, much sugar in them and much that holds it back.
double dry_year_sign(Trait trait) {
    return trait == Trait::root ? -1.0 : 1.0;
}

}  // namespace

/// So that the departure gained by 9 October has the variance `gain_sd` squared, `steady_share` of
/// it by a rate that lasts.
GrowthFilter::Departure GrowthFilter::departure(const TraitCourse& course, double persistence,
                                                double gain_sd, double steady_share) {
    Departure d;
    d.keep = std::pow(persistence, 1.0 / kReferenceDays);
    double by_rate = 0.0, by_days = 0.0;
    for (int day = 0; day < kReferenceDays; ++day) {
        const double left = std::pow(d.keep, kReferenceDays - 1 - day);
        by_rate += left * (course.covered(day + 1) - course.covered(day));
        by_days += left * left;
    }
    const double variance = gain_sd * gain_sd;
    d.rate_variance = steady_share * variance / (by_rate * by_rate);
    d.daily_variance = (1.0 - steady_share) * variance / by_days;
    return d;
}

GrowthFilter::GrowthFilter(const GrowthCurve& curve, std::size_t fields)
    : curve_(curve), mean_(kFirstField + fields * kLayer) {
    covariance_.resize(size() * size());
    for (const Trait trait : kAllTraits) {
        const auto& course = curve.of(trait);
        of_year_[place(trait)] =
            departure(course, course.persistence, course.gain_sd, curve.steady_share);
        // A field's own departure is its soil, its seed and its nitrogen, and stays.
        of_field_[place(trait)] = departure(course, 1.0, course.gain_field_sd, curve.steady_share);
    }
    for (const Trait a : kAllTraits) {
        for (const Trait b : kAllTraits) {
            const double alike =
                a == b ? 1.0 : curve.dry_year * dry_year_sign(a) * dry_year_sign(b);
            covariance(year_level(a), year_level(b)) =
                alike * curve.of(a).start_sd * curve.of(b).start_sd;
        }
        covariance(year_level(a) + 1, year_level(a) + 1) = of_year_[place(a)].rate_variance;
        const double own = curve.of(a).start_field_sd * curve.of(a).start_field_sd;
        const double own_rate = of_field_[place(a)].rate_variance;
        for (std::size_t field = 0; field < fields; ++field) {
            const std::size_t level = field_level(field, a);
            covariance(level, level) = own;
            covariance(level + 1, level + 1) = own_rate;
        }
    }
    covariance(kDeliveredState, kDeliveredState) = curve.delivered_sd * curve.delivered_sd;
}

GrowthFilter::Leap GrowthFilter::leap(const Departure& departure, const TraitCourse& course,
                                      int from, int to) {
    Leap leap;
    for (int day = from; day < to; ++day) {
        leap.keep *= departure.keep;
        leap.by_rate =
            departure.keep * leap.by_rate + course.covered(day + 1) - course.covered(day);
        leap.noise = departure.keep * departure.keep * leap.noise + departure.daily_variance;
    }
    return leap;
}

/// A leap in rows and columns.
void GrowthFilter::mix(std::size_t level, const Leap& leap) {
    const std::size_t rate = level + 1;
    mean_[level] = leap.keep * mean_[level] + leap.by_rate * mean_[rate];
    for (std::size_t j = 0; j < size(); ++j) {
        covariance(level, j) =
            leap.keep * covariance(level, j) + leap.by_rate * covariance(rate, j);
    }
    for (std::size_t i = 0; i < size(); ++i) {
        covariance(i, level) =
            leap.keep * covariance(i, level) + leap.by_rate * covariance(i, rate);
    }
    covariance(level, level) += leap.noise;
}

void GrowthFilter::go_to(int day) {
    require(day >= day_, "the filter's days do not go back");
    if (day == day_) {
        return;
    }
    const std::size_t fields = (size() - kFirstField) / kLayer;
    for (const Trait trait : kAllTraits) {
        const auto& course = curve_.of(trait);
        mix(year_level(trait), leap(of_year_[place(trait)], course, day_, day));
        const Leap own = leap(of_field_[place(trait)], course, day_, day);
        for (std::size_t field = 0; field < fields; ++field) {
            mix(field_level(field, trait), own);
        }
    }
    day_ = day;
}

void GrowthFilter::require_field(std::size_t field) const {
    require(field_level(field, Trait::root) < size(), "the field is one of the filter's");
}

/// One number seen: the departure `loadings * state` with a normal error. Joseph's form
/// (I - K H) P (I - K H)' + K r K', written out for one number; it stays symmetric to the last bit.
void GrowthFilter::update(std::array<Loading, 3> loadings, double departure, double error_sd) {
    std::vector<double> across(size());  // P H'
    for (std::size_t i = 0; i < size(); ++i) {
        for (const auto& loading : loadings) {
            across[i] += covariance(i, loading.state) * loading.weight;
        }
    }
    double expected = 0.0, variance = error_sd * error_sd;
    for (const auto& loading : loadings) {
        expected += loading.weight * mean_[loading.state];
        variance += loading.weight * across[loading.state];
    }
    if (variance <= 0.0) {
        return;  // known exactly before, and seen without error
    }
    std::vector<double> gain(size());
    for (std::size_t i = 0; i < size(); ++i) {
        gain[i] = across[i] / variance;
        mean_[i] += gain[i] * (departure - expected);
    }
    for (std::size_t i = 0; i < size(); ++i) {
        for (std::size_t j = 0; j < size(); ++j) {
            covariance(i, j) +=
                variance * (gain[i] * gain[j]) - (gain[i] * across[j] + across[i] * gain[j]);
        }
    }
}

void GrowthFilter::observe_content(std::size_t field, Trait trait, SugarContent seen,
                                   double error_sd) {
    if (!seen.is_known()) {
        return;
    }
    update({{{year_level(trait), 1.0}, {field_level(field, trait), 1.0}, {kDeliveredState, 0.0}}},
           seen.si() - curve_.of(trait).mean(day_), error_sd);
}

void GrowthFilter::observe(const DugSample& sample) {
    require(sample.spots > 0, "a sample has a spot");
    require_field(sample.field);
    go_to(sample.day);
    const double few = 1.0 / std::sqrt(static_cast<double>(sample.spots));
    const double usual_root = curve_.of(Trait::root).mean(day_);
    if (sample.root.is_known()) {
        update({{{year_level(Trait::root), 1.0},
                 {field_level(sample.field, Trait::root), 1.0},
                 {kDeliveredState, 0.0}}},
               sample.root.si() - usual_root, few * curve_.spot.root_share * usual_root);
    }
    observe_content(sample.field, Trait::pol, sample.pol, few * curve_.spot.pol);
    observe_content(sample.field, Trait::molasses, sample.molasses, few * curve_.spot.molasses);
}

void GrowthFilter::observe(const FieldDelivery& delivery) {
    require_field(delivery.field);
    go_to(delivery.day);
    const double usual_root = curve_.of(Trait::root).mean(day_);
    if (delivery.root.is_known()) {
        // The delivered share times the yield: its own error is taken at the curve's yield, which
        // keeps the model linear.
        update({{{year_level(Trait::root), curve_.delivered},
                 {field_level(delivery.field, Trait::root), curve_.delivered},
                 {kDeliveredState, usual_root}}},
               delivery.root.si() - curve_.delivered * usual_root,
               curve_.delivery.root_share * curve_.delivered * usual_root);
    }
    observe_content(delivery.field, Trait::pol, delivery.pol, curve_.delivery.pol);
    observe_content(delivery.field, Trait::molasses, delivery.molasses, curve_.delivery.molasses);
}

FieldForecast GrowthFilter::forecast(std::size_t field, int later_day) const {
    require(later_day >= day_, "a forecast looks ahead");
    require_field(field);
    // Each of the seven is a sum of states as they are now, and of days yet to come.
    struct Part {
        std::size_t state;
        double weight;
    };
    std::array<std::array<Part, 4>, FieldForecast::kSize> parts{};
    std::array<double, FieldForecast::kSize> fresh{};
    FieldForecast forecast;
    for (const Trait trait : kAllTraits) {
        const std::size_t now = FieldForecast::kNow + place(trait);
        const std::size_t later = FieldForecast::kLater + place(trait);
        const std::size_t year = year_level(trait);
        const std::size_t own = field_level(field, trait);
        const auto& course = curve_.of(trait);
        const Leap of_year = leap(of_year_[place(trait)], course, day_, later_day);
        const Leap of_own = leap(of_field_[place(trait)], course, day_, later_day);
        fresh[later] = of_year.noise + of_own.noise;
        parts[now] = {{{year, 1.0}, {own, 1.0}, {year + 1, 0.0}, {own + 1, 0.0}}};
        parts[later] = {{{year, of_year.keep},
                         {own, of_own.keep},
                         {year + 1, of_year.by_rate},
                         {own + 1, of_own.by_rate}}};
        forecast.mean[now] = course.mean(day_);
        forecast.mean[later] = course.mean(later_day);
    }
    parts[FieldForecast::kDelivered] = {{{kDeliveredState, 1.0}, {0, 0.0}, {0, 0.0}, {0, 0.0}}};
    forecast.mean[FieldForecast::kDelivered] = curve_.delivered;

    for (std::size_t a = 0; a < FieldForecast::kSize; ++a) {
        for (const auto& part : parts[a]) {
            forecast.mean[a] += part.weight * mean_[part.state];
        }
        for (std::size_t b = 0; b < FieldForecast::kSize; ++b) {
            double sum = a == b ? fresh[a] : 0.0;
            for (const auto& p : parts[a]) {
                for (const auto& q : parts[b]) {
                    sum += p.weight * q.weight * covariance(p.state, q.state);
                }
            }
            forecast.covariance[a][b] = sum;
        }
    }
    return forecast;
}

double GrowthFilter::neighbours_alike(Trait trait) const {
    require(size() > kFirstField + kLayer, "two fields are compared");
    const std::size_t year = year_level(trait);
    const std::size_t a = field_level(0, trait), b = field_level(1, trait);
    const auto together = [&](std::size_t i, std::size_t j) {
        return covariance(year, year) + covariance(year, i) + covariance(year, j) +
               covariance(i, j);
    };
    return together(a, b) / std::sqrt(together(a, a) * together(b, b));
}

}  // namespace beetwright::crop
