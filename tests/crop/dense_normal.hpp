// The growth model worked out another way: every number that is seen or asked for as a sum of
// independent causes, all at once, and the condition of a multivariate normal by elimination.
//
// It shares nothing with the filter but the curve: no steps from day to day, no gains.
#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

#include "crop/growth_curve.hpp"

namespace beetwright::crop {

using Row = std::vector<double>;
using Matrix = std::vector<Row>;

/// The causes of `fields` fields over `days` days, and what they add up to.
class DenseNormal {
 public:
    DenseNormal(const GrowthCurve& curve, std::size_t fields, int days)
        : curve_(curve), days_(static_cast<std::size_t>(days)), fields_(fields) {
        variances_.assign(causes(), 0.0);
        for (const Trait trait : kAllTraits) {
            const auto& c = curve.of(trait);
            set_variances(trait, 0, c.start_sd, c.gain_sd, c.persistence);
            for (std::size_t field = 0; field < fields; ++field) {
                set_variances(trait, 1 + field, c.start_field_sd, c.gain_field_sd, 1.0);
            }
        }
        variances_[causes() - 1] = curve.delivered_sd * curve.delivered_sd;
    }

    /// How much each cause adds to a trait's departure on a day.
    [[nodiscard]] Row trait(std::size_t field, Trait trait, std::size_t day) const {
        Row row(causes(), 0.0);
        add_layer(row, trait, 0, curve_.of(trait).persistence, day);
        add_layer(row, trait, 1 + field, 1.0, day);
        return row;
    }
    [[nodiscard]] Row delivered() const {
        Row row(causes(), 0.0);
        row.back() = 1.0;
        return row;
    }
    [[nodiscard]] double covariance(const Row& a, const Row& b) const {
        double sum = 0.0;
        for (std::size_t i = 0; i < causes(); ++i) {
            sum += a[i] * b[i] * variances_[i];
        }
        // The years' starts go together.
        const auto& root = curve_.of(Trait::root);
        const auto& pol = curve_.of(Trait::pol);
        const auto& molasses = curve_.of(Trait::molasses);
        const std::size_t r = start_of(Trait::root, 0), p = start_of(Trait::pol, 0),
                          m = start_of(Trait::molasses, 0);
        const double q = curve_.dry_year;
        sum -= q * root.start_sd * pol.start_sd * (a[r] * b[p] + a[p] * b[r]);
        sum -= q * root.start_sd * molasses.start_sd * (a[r] * b[m] + a[m] * b[r]);
        sum += q * pol.start_sd * molasses.start_sd * (a[p] * b[m] + a[m] * b[p]);
        return sum;
    }

 private:
    // A layer (the year, or a field) has, for each trait, a start, a rate and each day's own move.
    [[nodiscard]] std::size_t per_trait() const { return 2 + days_; }
    [[nodiscard]] std::size_t causes() const { return (1 + fields_) * kTraits * per_trait() + 1; }
    [[nodiscard]] std::size_t start_of(Trait trait, std::size_t layer) const {
        return (layer * kTraits + static_cast<std::size_t>(trait)) * per_trait();
    }
    [[nodiscard]] double covered_in(Trait trait, std::size_t day) const {
        const auto& c = curve_.of(trait);
        return c.covered(static_cast<double>(day + 1)) - c.covered(static_cast<double>(day));
    }
    void set_variances(Trait trait, std::size_t layer, double start_sd, double gain_sd,
                       double persistence) {
        double by_rate = 0.0, by_days = 0.0;
        for (std::size_t day = 0; day < 56; ++day) {
            const double left = std::pow(persistence, (55.0 - static_cast<double>(day)) / 56.0);
            by_rate += left * covered_in(trait, day);
            by_days += left * left;
        }
        const std::size_t at = start_of(trait, layer);
        variances_[at] = start_sd * start_sd;
        variances_[at + 1] = curve_.steady_share * std::pow(gain_sd / by_rate, 2);
        for (std::size_t day = 0; day < days_; ++day) {
            variances_[at + 2 + day] = (1.0 - curve_.steady_share) * gain_sd * gain_sd / by_days;
        }
    }
    void add_layer(Row& row, Trait trait, std::size_t layer, double persistence,
                   std::size_t until) const {
        const std::size_t at = start_of(trait, layer);
        row[at] = std::pow(persistence, static_cast<double>(until) / 56.0);
        for (std::size_t day = 0; day < until; ++day) {
            const double left = std::pow(persistence, static_cast<double>(until - 1 - day) / 56.0);
            row[at + 1] += left * covered_in(trait, day);
            row[at + 2 + day] = left;
        }
    }

    GrowthCurve curve_;
    std::size_t days_, fields_;
    Row variances_;
};

struct Conditioned {
    Row mean;
    Matrix covariance;
};

/// The asked given the seen: Gauss and Jordan on [seen seen, seen asked; asked seen, asked asked].
inline Conditioned condition(const DenseNormal& model, const std::vector<Row>& seen,
                             const Row& departures, const Row& errors,
                             const std::vector<Row>& asked) {
    const std::size_t n = seen.size(), all = n + asked.size();
    Matrix joint(all, Row(all + 1, 0.0));
    const auto row_at = [&](std::size_t i) -> const Row& { return i < n ? seen[i] : asked[i - n]; };
    for (std::size_t i = 0; i < all; ++i) {
        for (std::size_t j = 0; j < all; ++j) {
            joint[i][j] = model.covariance(row_at(i), row_at(j));
        }
        if (i < n) {
            joint[i][i] += errors[i] * errors[i];
            joint[i][all] = departures[i];
        }
    }
    for (std::size_t pivot = 0; pivot < n; ++pivot) {
        for (std::size_t i = pivot + 1; i < all; ++i) {
            const double factor = joint[i][pivot] / joint[pivot][pivot];
            for (std::size_t j = pivot; j <= all; ++j) {
                joint[i][j] -= factor * joint[pivot][j];
            }
        }
    }
    Conditioned result;
    for (std::size_t i = n; i < all; ++i) {
        result.mean.push_back(-joint[i][all]);
        result.covariance.emplace_back(joint[i].begin() + static_cast<std::ptrdiff_t>(n),
                                       joint[i].begin() + static_cast<std::ptrdiff_t>(all));
    }
    return result;
}

}  // namespace beetwright::crop
