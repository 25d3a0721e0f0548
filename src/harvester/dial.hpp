// What a display's number means: a crew's own points, measured at the machine, and lines between.
//
// A scale of a machine is never assumed. Two numbers on the display and what was measured at each
// (a depth with a ruler, revolutions counted against a watch) are enough to begin with.
// docs/methods/dial.md.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "harvester/control.hpp"

namespace beetwright::harvester {

struct DialPoint {
    double shown = 0.0;   ///< the display's number
    double actual = 0.0;  ///< what was measured then, SI
};

enum class DialFooting : std::uint8_t {
    between_points,
    beyond_points,  ///< by at most one step of the display: measure a point there
};

struct DialReading {
    double shown = 0.0;
    double actual = 0.0;
    DialFooting footing = DialFooting::between_points;
};

class Dial {
 public:
    /// `step`: the smallest change of the display. All that is wrong is told: too few points,
    /// points outside the control's range or between two steps, one number with two meanings, and
    /// numbers that rise here and fall there.
    static Result<Dial> make(const Control& control, double step, std::vector<DialPoint> points);

    /// What this number on the display means.
    [[nodiscard]] Result<DialReading> from_shown(double shown) const;
    /// Where the display would stand for this, also between two of its steps.
    [[nodiscard]] Result<DialReading> from_actual(double actual) const;
    /// The display's step whose meaning is nearest; of two that are as near, the lower number.
    [[nodiscard]] Result<DialReading> nearest_step(double wanted) const;

    /// By the display's numbers, each once.
    [[nodiscard]] const std::vector<DialPoint>& points() const { return points_; }
    /// Higher numbers mean less.
    [[nodiscard]] bool runs_backwards() const {
        return points_.back().actual < points_.front().actual;
    }

 private:
    Dial(Control control, double step, std::vector<DialPoint> points);

    /// The pair of points between or next to which this lies, by its left one.
    [[nodiscard]] std::size_t pair_of_shown(double shown) const;
    [[nodiscard]] std::size_t pair_of_actual(double actual) const;
    [[nodiscard]] double actual_at(double shown) const;
    [[nodiscard]] double shown_at(double actual) const;
    [[nodiscard]] DialFooting footing(double shown) const;
    [[nodiscard]] bool is_in_reach(double shown) const;
    [[nodiscard]] Problem too_far(const std::string& what) const;

    Control control_;
    double step_;
    std::vector<DialPoint> points_;
};

}  // namespace beetwright::harvester
