#include "weather/ground.hpp"

#include <cmath>
#include <numbers>

namespace beetwright::weather {
namespace {
constexpr double kYear_days = 365.0;
}  // namespace

Length damping_depth(const GroundYear& year) {
    return Length(std::sqrt(kYear_days * year.diffusivity_m2_day / std::numbers::pi));
}

Temperature ground_temperature(const GroundYear& year, Length depth, double day_of_year) {
    // How deep, in damping depths, is also by how many radians the wave comes later.
    const double depths = depth / damping_depth(year);
    const double phase =
        2.0 * std::numbers::pi / kYear_days * (day_of_year - year.coldest_day) - depths;
    return year.mean - year.amplitude * (std::exp(-depths) * std::cos(phase));
}

}  // namespace beetwright::weather
