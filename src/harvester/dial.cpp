#include "harvester/dial.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

#include "base/number_text.hpp"
#include "base/sorted.hpp"

namespace beetwright::harvester {
namespace {

/// Of a step: what may be lost in reading decimals.
constexpr double kRounding = 1e-6;

std::string number(double value) {
    return general_text(value, 6);
}

Problem problem(ProblemKind kind, const Control& control, std::string what, std::string fix) {
    return {kind, {.file = "", .line = 0, .field = control.id()}, std::move(what), std::move(fix)};
}

void look_at_points(const Control& control, std::span<const DialPoint> points, Problems& problems) {
    for (const DialPoint& point : points) {
        if (!std::isfinite(point.shown) || !std::isfinite(point.actual)) {
            problems.push_back(problem(ProblemKind::input, control, "a point is not two numbers",
                                       "give the display's number and what was measured"));
        } else if (!control.is_within(point.actual)) {
            problems.push_back(problem(
                ProblemKind::limit, control,
                "at " + number(point.shown) + " stands " + control.text(point.actual) +
                    ", outside what this machine can",
                "it goes from " + control.text(control.least) + " to " +
                    control.text(control.most) + ": measure again, or correct the machine"));
        }
    }
}

void look_at_steps(const Control& control, double step, std::span<const DialPoint> sorted,
                   Problems& problems) {
    for (const DialPoint& point : sorted.subspan(1)) {
        const double steps = (point.shown - sorted.front().shown) / step;
        if (std::abs(steps - std::round(steps)) > kRounding) {
            problems.push_back(problem(ProblemKind::input, control,
                                       number(point.shown) + " is no whole number of steps of " +
                                           number(step) + " from " + number(sorted.front().shown),
                                       "correct the point or the step"));
        }
    }
}

void look_at_order(const Control& control, std::span<const DialPoint> sorted, Problems& problems) {
    const std::size_t before = problems.size();
    for (std::size_t i = 1; i < sorted.size(); ++i) {
        const DialPoint& low = sorted[i - 1];
        const DialPoint& high = sorted[i];
        if (low.shown == high.shown) {
            problems.push_back(problem(ProblemKind::conflict, control,
                                       number(low.shown) + " stands for " +
                                           control.text(low.actual) + " and for " +
                                           control.text(high.actual),
                                       "measure it again and keep one"));
        } else if (low.actual == high.actual) {
            problems.push_back(problem(ProblemKind::conflict, control,
                                       number(low.shown) + " and " + number(high.shown) +
                                           " both stand for " + control.text(low.actual),
                                       "measure both again"));
        }
    }
    if (problems.size() > before) {
        return;
    }
    for (std::size_t i = 2; i < sorted.size(); ++i) {
        const double first = sorted[i - 1].actual - sorted[i - 2].actual;
        const double second = sorted[i].actual - sorted[i - 1].actual;
        if (std::signbit(first) != std::signbit(second)) {
            problems.push_back(problem(
                ProblemKind::conflict, control,
                "from " + number(sorted[i - 2].shown) + " to " + number(sorted[i - 1].shown) +
                    " it " + (first > 0 ? "rises" : "falls") + ", on to " +
                    number(sorted[i].shown) + " it " + (second > 0 ? "rises" : "falls"),
                "measure " + number(sorted[i - 1].shown) + " again"));
        }
    }
}

}  // namespace

Dial::Dial(Control control, double step, std::vector<DialPoint> points)
    : control_(std::move(control)), step_(step), points_(std::move(points)) {}

Result<Dial> Dial::make(const Control& control, double step, std::vector<DialPoint> points) {
    if (traits(control.kind).is_choice()) {
        return problem(ProblemKind::input, control, "this is chosen, not measured",
                       "leave its points out");
    }
    Problems problems;
    if (!(step > 0.0 && std::isfinite(step))) {
        problems.push_back(problem(ProblemKind::input, control,
                                   "a display's step of " + number(step) + " cannot be",
                                   "give the smallest change that it shows"));
    }
    look_at_points(control, points, problems);
    if (!problems.empty()) {
        return problems;
    }
    sort_list(points, [](const DialPoint& a, const DialPoint& b) {
        return std::pair(a.shown, a.actual) < std::pair(b.shown, b.actual);
    });
    // The same point twice says nothing new, and no wrong.
    const auto same = std::ranges::unique(points, [](const DialPoint& a, const DialPoint& b) {
        return a.shown == b.shown && a.actual == b.actual;
    });
    points.erase(same.begin(), same.end());
    if (points.size() < 2) {
        return problem(ProblemKind::missing, control,
                       points.empty() ? "no point was measured" : "one point says too little",
                       "measure at two of the display's numbers, far apart");
    }
    look_at_steps(control, step, points, problems);
    look_at_order(control, points, problems);
    if (!problems.empty()) {
        return problems;
    }
    return Dial(control, step, std::move(points));
}

std::size_t Dial::pair_of_shown(double shown) const {
    std::size_t left = 0;
    while (left + 2 < points_.size() && shown >= points_[left + 1].shown) {
        ++left;
    }
    return left;
}

std::size_t Dial::pair_of_actual(double actual) const {
    const bool backwards = runs_backwards();
    std::size_t left = 0;
    while (left + 2 < points_.size() &&
           (backwards ? actual <= points_[left + 1].actual : actual >= points_[left + 1].actual)) {
        ++left;
    }
    return left;
}

// std::lerp is exact at both ends and strictly monotonic between.
double Dial::actual_at(double shown) const {
    const std::size_t left = pair_of_shown(shown);
    const DialPoint& a = points_[left];
    const DialPoint& b = points_[left + 1];
    return std::lerp(a.actual, b.actual, (shown - a.shown) / (b.shown - a.shown));
}

double Dial::shown_at(double actual) const {
    const std::size_t left = pair_of_actual(actual);
    const DialPoint& a = points_[left];
    const DialPoint& b = points_[left + 1];
    return std::lerp(a.shown, b.shown, (actual - a.actual) / (b.actual - a.actual));
}

DialFooting Dial::footing(double shown) const {
    const double rounding = kRounding * step_;
    return shown < points_.front().shown - rounding || shown > points_.back().shown + rounding
               ? DialFooting::beyond_points
               : DialFooting::between_points;
}

bool Dial::is_in_reach(double shown) const {
    const double reach = (1.0 + kRounding) * step_;
    return shown >= points_.front().shown - reach && shown <= points_.back().shown + reach &&
           control_.is_within(actual_at(shown));
}

Problem Dial::too_far(const std::string& what) const {
    return problem(ProblemKind::limit, control_,
                   what + " is outside what was measured, " + number(points_.front().shown) +
                       " to " + number(points_.back().shown) + " for " +
                       control_.text(points_.front().actual) + " to " +
                       control_.text(points_.back().actual),
                   "measure a point there, if the machine goes so far");
}

Result<DialReading> Dial::from_shown(double shown) const {
    if (!std::isfinite(shown) || !is_in_reach(shown)) {
        return too_far(number(shown) + " on the display");
    }
    return DialReading{shown, actual_at(shown), footing(shown)};
}

Result<DialReading> Dial::from_actual(double actual) const {
    const double shown = shown_at(actual);
    if (!std::isfinite(actual) || !is_in_reach(shown)) {
        return too_far(control_.text(actual));
    }
    return DialReading{shown, actual, footing(shown)};
}

Result<DialReading> Dial::nearest_step(double wanted) const {
    const auto place = from_actual(wanted);
    if (!place) {
        return place.problems();
    }
    const double origin = points_.front().shown;
    const double below = std::floor((place->shown - origin) / step_ + kRounding);
    DialReading nearest;
    double nearest_off = std::numeric_limits<double>::infinity();
    for (const double steps : {below, below + 1.0}) {
        double shown = origin + steps * step_;
        for (const DialPoint& point : points_) {
            if (std::abs(point.shown - shown) <= kRounding * step_) {
                shown = point.shown;  // as it was written down
            }
        }
        if (!is_in_reach(shown)) {
            continue;
        }
        const double actual = actual_at(shown);
        // Two steps as far off as each other differ by rounding alone.
        const double off = std::abs(actual - wanted);
        if (off < nearest_off * (1.0 - 1e-9)) {
            nearest = {shown, actual, footing(shown)};
            nearest_off = off;
        }
    }
    require(std::isfinite(nearest_off), "next to what is within reach lies a step within reach");
    return nearest;
}

}  // namespace beetwright::harvester
