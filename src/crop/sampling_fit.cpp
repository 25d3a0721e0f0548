#include "crop/sampling_fit.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/contract.hpp"
#include "base/estimate.hpp"
#include "num/distributions.hpp"

namespace beetwright::crop {
namespace {

/// How much wider than the normal one Student's interval is.
double widening(double freedom) {
    return num::student_quantile(0.5 + 0.5 * kIntervalLevel, freedom) / kIntervalZ;
}

struct Summary {
    double number = 0.0, mean = 0.0, variance = 0.0;
};
/// Of one digging of the years dug twice and of those dug only then.
Summary summary_of(std::span<const TwoDigs> twice, double TwoDigs::*digging,
                   std::span<const double> once) {
    std::vector<double> all(once.begin(), once.end());
    for (const auto& year : twice) {
        all.push_back(year.*digging);
    }
    Summary s;
    s.number = static_cast<double>(all.size());
    for (const double value : all) {
        s.mean += value / s.number;
    }
    for (const double value : all) {
        s.variance += (value - s.mean) * (value - s.mean) / (s.number - 1.0);
    }
    return s;
}

/// The line of the second digging on the first: slope, its precision, and where the middle lies.
struct Line {
    double slope = 0.0;
    double precision = 0.0;
    Summary first, second;
};
Line line_of(std::span<const TwoDigs> twice, const UsualCourse& usual) {
    Line line{.first = summary_of(twice, &TwoDigs::first, {}),
              .second = summary_of(twice, &TwoDigs::second, {})};
    double squares = 0.0, products = 0.0;
    for (const auto& year : twice) {
        const double x = year.first - line.first.mean;
        squares += x * x;
        products += x * (year.second - line.second.mean);
    }
    // The belief is normal, and the scatter about the line the usual one.
    const double scatter = usual.gain_sd * usual.gain_sd;
    const double belief = 1.0 / (usual.persistence_sd * usual.persistence_sd);
    line.precision = squares / scatter + belief;
    line.slope = (products / scatter + usual.persistence * belief) / line.precision;
    return line;
}

}  // namespace

TraitCourse fit_years(const SampledYears& years, const UsualCourse& usual, TraitCourse course) {
    require(years.twice.size() >= 2, "a curve is fitted to at least two years dug twice");
    const Summary start = summary_of(years.twice, &TwoDigs::first, years.only_first);
    const Summary end = summary_of(years.twice, &TwoDigs::second, years.only_second);
    const Line line = line_of(years.twice, usual);
    // What lasts of August cannot make October differ by more than it does.
    const double most = std::min(1.0, std::sqrt(end.variance / start.variance));
    course.persistence = std::clamp(line.slope, 0.0, most);

    const double n = line.first.number;
    double left = 0.0;
    for (const auto& year : years.twice) {
        const double residual =
            year.second - line.second.mean - course.persistence * (year.first - line.first.mean);
        left += residual * residual;
    }
    const double freedom = n - 1.0 + usual.gain_freedom;
    const double variance = (left + usual.gain_freedom * usual.gain_sd * usual.gain_sd) / freedom;

    course.start = start.mean;
    course.start_sd =
        std::sqrt(start.variance * (1.0 + 1.0 / start.number)) * widening(start.number - 1.0);
    // Where a year of the mean start comes to: by the line, and by the years that were dug only
    // then, which differ by their own starts too; each by its precision.
    const double by_line = line.second.mean + course.persistence * (start.mean - line.first.mean);
    const double line_weight = n / variance;
    const double once_weight =
        static_cast<double>(years.only_second.size()) /
        (variance + course.persistence * course.persistence * start.variance);
    double once_sum = 0.0;
    for (const double second : years.only_second) {
        once_sum += second / static_cast<double>(years.only_second.size());
    }
    const double weight = line_weight + once_weight;
    course.gain = (line_weight * by_line + once_weight * once_sum) / weight - start.mean;
    // Of the year itself, of the mean, and of the slope for a year as far out as years usually are.
    course.gain_sd =
        std::sqrt(variance + 1.0 / weight + start.variance / line.precision) * widening(freedom);
    return course;
}

}  // namespace beetwright::crop
