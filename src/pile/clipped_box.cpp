#include "pile/clipped_box.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::pile {
namespace {

constexpr double kTouching_m = 1e-9;

/// A side of a convex body: its corners in order, and which side or cut it is.
struct Side {
    std::vector<Point> corners;
    std::size_t tag = 0;
};

Point minus(const Point& a, const Point& b) {
    return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
Point cross(const Point& a, const Point& b) {
    return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Point between(const Point& a, const Point& b, double share) {
    return {a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]),
            a[2] + share * (b[2] - a[2])};
}

double area_of(const std::vector<Point>& corners) {
    Point twice{};
    for (std::size_t i = 2; i < corners.size(); ++i) {
        const Point part = cross(minus(corners[i - 1], corners[0]), minus(corners[i], corners[0]));
        for (std::size_t d = 0; d < 3; ++d) {
            twice[d] += part[d];
        }
    }
    return 0.5 * std::sqrt(dot(twice, twice));
}

/// Sides 0 to 5: at the low and high end of each axis in turn.
std::vector<Side> sides_of_box(const Point& low, const Point& high) {
    std::vector<Side> sides;
    for (std::size_t d = 0; d < 3; ++d) {
        const std::size_t e = (d + 1) % 3;
        const std::size_t f = (d + 2) % 3;
        for (const auto* end : {&low, &high}) {
            Side side{.corners = {}, .tag = sides.size()};
            for (const auto& [at_e, at_f] :
                 {std::array{low[e], low[f]}, std::array{high[e], low[f]},
                  std::array{high[e], high[f]}, std::array{low[e], high[f]}}) {
                Point corner{};
                corner[d] = (*end)[d];
                corner[e] = at_e;
                corner[f] = at_f;
                side.corners.push_back(corner);
            }
            sides.push_back(side);
        }
    }
    return sides;
}

/// Corners that were cut, put in order around their middle: the side that a cut opens.
std::vector<Point> around_the_middle(std::vector<Point> points, const Plane& plane) {
    Point middle{};
    for (const auto& p : points) {
        for (std::size_t d = 0; d < 3; ++d) {
            middle[d] += p[d] / static_cast<double>(points.size());
        }
    }
    const Point aside = std::abs(plane.outward[0]) < 0.9 ? Point{1, 0, 0} : Point{0, 1, 0};
    const Point u = cross(plane.outward, aside);
    const Point v = cross(plane.outward, u);
    std::ranges::sort(points, {}, [&](const Point& p) {
        const Point from = minus(p, middle);
        return std::atan2(dot(from, v), dot(from, u));
    });
    return points;
}

void clip(std::vector<Side>& sides, const Plane& plane, std::size_t tag) {
    std::vector<Point> opened;
    std::vector<Side> kept;
    bool cuts = false;
    for (const auto& side : sides) {
        Side rest{.corners = {}, .tag = side.tag};
        for (std::size_t i = 0; i < side.corners.size(); ++i) {
            const Point& a = side.corners[i];
            const Point& b = side.corners[(i + 1) % side.corners.size()];
            const double depth_a = plane.depth(a);
            const double depth_b = plane.depth(b);
            if (depth_a >= -kTouching_m) {
                rest.corners.push_back(a);
            }
            cuts = cuts || depth_a < -kTouching_m;
            if ((depth_a > kTouching_m && depth_b < -kTouching_m) ||
                (depth_a < -kTouching_m && depth_b > kTouching_m)) {
                rest.corners.push_back(between(a, b, depth_a / (depth_a - depth_b)));
            }
        }
        for (const auto& corner : rest.corners) {
            if (std::abs(plane.depth(corner)) <= kTouching_m) {
                opened.push_back(corner);
            }
        }
        if (rest.corners.size() > 2) {
            kept.push_back(std::move(rest));
        }
    }
    if (cuts && opened.size() > 2) {
        kept.push_back({.corners = around_the_middle(std::move(opened), plane), .tag = tag});
    }
    sides = std::move(kept);
}

}  // namespace

ClippedBox clip_box(const Point& low, const Point& high, std::span<const Plane> planes) {
    constexpr std::size_t kBoxSides = 6;
    auto sides = sides_of_box(low, high);
    for (std::size_t p = 0; p < planes.size(); ++p) {
        clip(sides, planes[p], kBoxSides + p);
    }
    ClippedBox box;
    box.centre = between(low, high, 0.5);
    box.cut.assign(planes.size(), 0.0);
    // Pyramids from a point within to each side.
    Point moment{};
    const Point apex = sides.empty() ? box.centre : sides.front().corners.front();
    for (const auto& side : sides) {
        const double area = area_of(side.corners);
        if (side.tag >= kBoxSides) {
            box.cut[side.tag - kBoxSides] += area;
        } else {
            (side.tag % 2 == 0 ? box.low_side : box.high_side)[side.tag / 2] += area;
        }
        for (std::size_t i = 2; i < side.corners.size(); ++i) {
            const Point a = minus(side.corners[0], apex);
            const Point b = minus(side.corners[i - 1], apex);
            const Point c = minus(side.corners[i], apex);
            const double volume = std::abs(dot(a, cross(b, c))) / 6.0;
            box.volume += volume;
            for (std::size_t d = 0; d < 3; ++d) {
                moment[d] += volume * (apex[d] + 0.25 * (a[d] + b[d] + c[d]));
            }
        }
    }
    if (box.volume > 0.0) {
        box.centre = {moment[0] / box.volume, moment[1] / box.volume, moment[2] / box.volume};
    }
    return box;
}

}  // namespace beetwright::pile
