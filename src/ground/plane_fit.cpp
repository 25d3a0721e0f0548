#include "ground/plane_fit.hpp"

#include "base/contract.hpp"

namespace beetwright::ground {

FittedPlane plane_through(const std::vector<Point>& places, const std::vector<double>& values) {
    require(places.size() == values.size(), "each place has a value");
    FittedPlane plane;
    double count = 0.0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        count += 1.0;
        plane.level += (values[i] - plane.level) / count;
        plane.middle.east_m += (places[i].east_m - plane.middle.east_m) / count;
        plane.middle.north_m += (places[i].north_m - plane.middle.north_m) / count;
    }
    double xx = 0.0;
    double xy = 0.0;
    double yy = 0.0;
    double xz = 0.0;
    double yz = 0.0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double x = places[i].east_m - plane.middle.east_m;
        const double y = places[i].north_m - plane.middle.north_m;
        const double z = values[i] - plane.level;
        xx += x * x;
        xy += x * y;
        yy += y * y;
        xz += x * z;
        yz += y * z;
    }
    const double determinant = xx * yy - xy * xy;
    if (determinant > 1e-9 * xx * yy) {
        plane.east = (xz * yy - yz * xy) / determinant;
        plane.north = (yz * xx - xz * xy) / determinant;
    }
    return plane;
}

}  // namespace beetwright::ground
