// What stands in the fields, from the curve, the samples dug and what neighbours delivered.
//
// A linear Gaussian state-space model. Each trait of a field is the curve's mean, plus a departure
// of the year that all fields share, plus one of its own; each departure has a level and a rate
// that falls through the autumn as the curve's own rate does. All fields stand in one filter, so
// that what one of them shows of the year informs the others exactly; one filter a field, passing
// the year on, would count a neighbour's news again at each pass. docs/methods/growth.md.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "base/quantity.hpp"
#include "crop/growth_curve.hpp"

namespace beetwright::crop {

/// What was dug by hand in a field; what was not looked at stays unknown.
struct DugSample {
    std::size_t field = 0;
    int day = 0;    ///< after 14 August
    int spots = 1;  ///< dug; their mean is given
    CleanMassPerArea root;
    SugarContent pol;
    SugarContent molasses;
};

/// What a field delivered, when all of it has been.
struct FieldDelivery {
    std::size_t field = 0;
    int day = 0;            ///< after 14 August, on which most of it was lifted
    CleanMassPerArea root;  ///< clean beet weighed in per area of the field
    SugarContent pol;
    SugarContent molasses;
};

/// One field's traits now and on a later day, jointly normal, in SI.
struct FieldForecast {
    static constexpr std::size_t kNow = 0;                  ///< root, pol, molasses
    static constexpr std::size_t kLater = kTraits;          ///< root, pol, molasses
    static constexpr std::size_t kDelivered = 2 * kTraits;  ///< delivered per dug clean beet
    static constexpr std::size_t kSize = 2 * kTraits + 1;
    std::array<double, kSize> mean{};
    std::array<std::array<double, kSize>, kSize> covariance{};
};

class GrowthFilter {
 public:
    /// On 14 August, nothing seen yet.
    GrowthFilter(const GrowthCurve& curve, std::size_t fields);

    /// Lets the days go by; never back.
    void go_to(int day);
    /// Each takes the filter to its day, which is none of the past.
    void observe(const DugSample& sample);
    void observe(const FieldDelivery& delivery);

    [[nodiscard]] int day() const { return day_; }
    [[nodiscard]] FieldForecast forecast(std::size_t field, int later_day) const;
    /// How alike two fields' traits are thought to be as things stand: a correlation.
    [[nodiscard]] double neighbours_alike(Trait trait) const;

 private:
    /// How one trait's departure goes on: a day keeps this much of the level, the rate has this
    /// variance at first, and the level moves at random by this variance.
    struct Departure {
        double keep = 1.0;
        double rate_variance = 0.0;
        double daily_variance = 0.0;
    };
    static Departure departure(const TraitCourse& course, double persistence, double gain_sd,
                               double steady_share);

    struct Loading {
        std::size_t state;
        double weight;
    };
    [[nodiscard]] std::size_t size() const { return mean_.size(); }
    void require_field(std::size_t field) const;
    double& covariance(std::size_t a, std::size_t b) { return covariance_[a * size() + b]; }
    [[nodiscard]] double covariance(std::size_t a, std::size_t b) const {
        return covariance_[a * size() + b];
    }
    /// What some days do to a departure at once: level <- keep level + by_rate rate + noise.
    struct Leap {
        double keep = 1.0;
        double by_rate = 0.0;
        double noise = 0.0;  ///< a variance
    };
    static Leap leap(const Departure& departure, const TraitCourse& course, int from, int to);
    void mix(std::size_t level, const Leap& leap);
    void update(std::array<Loading, 3> loadings, double departure, double error_sd);
    void observe_content(std::size_t field, Trait trait, SugarContent seen, double error_sd);

    GrowthCurve curve_;
    std::array<Departure, kTraits> of_year_;
    std::array<Departure, kTraits> of_field_;
    int day_ = 0;
    std::vector<double> mean_;        ///< departures from the curve
    std::vector<double> covariance_;  ///< row by row
};

}  // namespace beetwright::crop
