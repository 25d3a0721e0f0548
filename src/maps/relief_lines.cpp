#include "maps/relief_lines.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ground/contours.hpp"
#include "maps/round_length.hpp"

namespace beetwright::maps {

ReliefLines relief_lines(const ground::Surface& surface, UnitSystem units) {
    constexpr double kLines = 8.0;
    constexpr double kLeastStep = 0.2;  // m
    constexpr double kLeastStep_ft = 0.5;
    double least = std::numeric_limits<double>::infinity();
    double most = -least;
    for (const double height : surface.height_m) {
        if (!std::isnan(height)) {
            least = std::min(least, height);
            most = std::max(most, height);
        }
    }
    const bool us = units == UnitSystem::us;
    const double unit_m = us ? find_unit("ft")->to_si(1.0) : 1.0;
    const double range = (most - least) / unit_m;
    if (!(range > 0.0)) {
        return {};
    }
    const double step_m =
        unit_m * std::max(round_number(range / kLines), us ? kLeastStep_ft : kLeastStep);
    ReliefLines relief{.step_m = step_m};
    for (const auto& line : ground::contours_of(surface.grid, surface.height_m, step_m)) {
        auto& on_earth = relief.lines.emplace_back();
        on_earth.height_m = line.height_m;
        for (const auto& at : line.course) {
            on_earth.course.push_back(surface.plane.to_earth(at));
        }
    }
    return relief;
}

}  // namespace beetwright::maps
