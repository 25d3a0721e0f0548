#include "pile/shape.hpp"

#include <cmath>
#include <numbers>

namespace beetwright::pile {
namespace {

constexpr double kQuarterTurn = 0.5 * std::numbers::pi;
/// Beets slide on slopes of 45 to 50 degrees (common practice); walls are upright.
constexpr double kSteepest = 60.0 * std::numbers::pi / 180.0;

double run_of(const Shape& shape) {
    return 0.5 * (shape.width - shape.top_width).si();
}

Problem shape_problem(const char* field, const char* what, const char* fix) {
    return {ProblemKind::input, {.file = "", .line = 0, .field = field}, what, fix};
}

Problems problems_of(const Shape& shape) {
    Problems problems;
    const double width = shape.width.si();
    const double height = shape.height.si();
    const double top = shape.top_width.si();
    const double length = shape.length.si();
    if (!(width > 0.0) || !(height > 0.0) || !(length > 0.0)) {
        problems.push_back(shape_problem("shape", "width, height and length of a pile are above 0",
                                         "measure them in the pile, in metres or feet"));
        return problems;
    }
    if (!(top >= 0.0 && top <= width)) {
        problems.push_back(shape_problem("top_width", "the top is wider than the foot, or negative",
                                         "give 0 for a roof, else up to the width of the foot"));
        return problems;
    }
    const double run = run_of(shape);
    if (run > 0.0 && std::atan2(height, run) > kSteepest) {
        problems.push_back(shape_problem("height",
                                         "the flanks are steeper than beets lie, 60 degrees",
                                         "look at width and height again"));
    }
    if (shape.ends == Ends::sloping && 2.0 * run > length) {
        problems.push_back(shape_problem("length", "the sloping ends meet below the top",
                                         "give a greater length, or upright ends"));
    }
    return problems;
}

}  // namespace

Result<std::vector<ShapeSide>> sides_of(const Shape& shape) {
    if (auto problems = problems_of(shape); !problems.empty()) {
        return problems;
    }
    const double run = run_of(shape);
    const double height = shape.height.si();
    const double slant = std::hypot(run, height);
    const double rise = height / slant;  // of the outward normal, sideways
    const double up = run / slant;
    const double tilt = std::atan2(height, run);
    const double facing = shape.facing;
    std::vector<ShapeSide> sides{
        {Side::low_flank, {{-rise, 0.0, up}, 0.0}, tilt, facing + 2.0 * kQuarterTurn},
        {Side::high_flank, {{rise, 0.0, up}, rise * shape.width.si()}, tilt, facing}};
    if (shape.top_width.si() > 0.0) {
        sides.push_back({Side::top, {{0.0, 0.0, 1.0}, height}, 0.0, facing});
    }
    const double length = shape.length.si();
    if (shape.ends == Ends::sloping) {
        sides.push_back({Side::low_end, {{0.0, -rise, up}, 0.0}, tilt, facing + kQuarterTurn});
        sides.push_back(
            {Side::high_end, {{0.0, rise, up}, rise * length}, tilt, facing - kQuarterTurn});
    } else {
        sides.push_back(
            {Side::low_end, {{0.0, -1.0, 0.0}, 0.0}, kQuarterTurn, facing + kQuarterTurn});
        sides.push_back(
            {Side::high_end, {{0.0, 1.0, 0.0}, length}, kQuarterTurn, facing - kQuarterTurn});
    }
    return sides;
}

double volume_of(const Shape& shape) {
    const double top = shape.top_width.si();
    const double width = shape.width.si();
    const double height = shape.height.si();
    const double length = shape.length.si();
    if (shape.ends == Ends::upright) {
        return 0.5 * (width + top) * height * length;
    }
    // Slices shrink evenly to the top both ways: Simpson's rule is exact.
    const double top_length = length - (width - top);
    return height / 6.0 *
           (width * length + top * top_length + (width + top) * (length + top_length));
}

}  // namespace beetwright::pile
