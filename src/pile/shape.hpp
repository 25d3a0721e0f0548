// The shape of a pile: a trapezoid or a roof, drawn out lengthwise.
#pragma once

#include <vector>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "pile/clipped_box.hpp"

namespace beetwright::pile {

enum class Ends { upright, sloping };

/// A pile on level ground. Across it lies from 0 to its width, along from 0 to its length.
struct Shape {
    Length width;      ///< of the foot
    Length height;     ///< of the top, or of the ridge
    Length top_width;  ///< nought: a roof
    Length length;
    Ends ends = Ends::sloping;  ///< as steep as the flanks, or walls
    /// Which way the flank at the high end across faces [rad], from north through east; the end at
    /// the high end along faces a quarter turn before that.
    double facing = 0.0;
};

/// What meets the weather. `cut`: where beet ends within the shape, not piled yet or gone already.
enum class Side { low_flank, high_flank, top, low_end, high_end, cut, ground };

struct ShapeSide {
    Side side = Side::top;
    Plane plane;
    double tilt = 0.0;     ///< from the horizontal [rad]
    double azimuth = 0.0;  ///< of the way it faces [rad]
};

/// The planes that bound it above the ground. A section has no ends. Problems: lengths that are
/// not positive, a top wider than the foot, flanks steeper than beets lie, ends that meet.
Result<std::vector<ShapeSide>> sides_of(const Shape& shape);

/// [m3]
double volume_of(const Shape& shape);

}  // namespace beetwright::pile
