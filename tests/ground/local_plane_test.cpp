#include "ground/local_plane.hpp"

#include <geodesic.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "ground/plane_area.hpp"

namespace beetwright::ground {
namespace {

// Everywhere that differs: mid-latitudes of both hemispheres, the equator, near a pole, on both
// sides of the antimeridian.
const Position kMiddles[] = {{52.1, 9.7},  {-37.5, -72.3}, {0.0, 36.8},     {89.99, 10.0},
                             {-89.9, 0.0}, {46.9, 180.0},  {65.2, -179.99}, {35.0, -0.001}};

/// PROJ's geodesics (Karney, Journal of Geodesy 87, 2013, 43-55), on WGS 84.
struct Geodesics {
    Geodesics() { geod_init(&earth, 6378137.0, 1.0 / 298.257223563); }
    [[nodiscard]] double distance_m(const Position& a, const Position& b) const {
        double distance = 0.0;
        geod_inverse(&earth, a.latitude_deg, a.longitude_deg, b.latitude_deg, b.longitude_deg,
                     &distance, nullptr, nullptr);
        return distance;
    }
    [[nodiscard]] Position from(const Position& a, double azimuth_deg, double distance_m) const {
        Position b;
        geod_direct(&earth, a.latitude_deg, a.longitude_deg, azimuth_deg, distance_m,
                    &b.latitude_deg, &b.longitude_deg, nullptr);
        return b;
    }
    [[nodiscard]] double area_m2(const Ring& ring) const {
        geod_polygon polygon;
        geod_polygon_init(&polygon, 0);
        for (const auto& corner : ring) {
            geod_polygon_addpoint(&earth, &polygon, corner.latitude_deg, corner.longitude_deg);
        }
        double area = 0.0;
        geod_polygon_compute(&earth, &polygon, 0, 1, &area, nullptr);
        return area;
    }
    geod_geodesic earth{};
};

// Ground d away from the middle is seen shorter by d^3/6R^2, 4 um at 1 km: the tolerance is what
// that comes to, and a tenth of a micrometre for rounding.
TEST(LocalPlane, DistancesAreThoseOfProjsGeodesics) {
    const Geodesics geodesics;
    for (const auto& middle : kMiddles) {
        const LocalPlane plane(middle);
        for (const double azimuth : {0.0, 37.0, 90.0, 155.0, 270.0}) {
            for (const double distance : {1.0, 300.0, 2000.0, 10'000.0}) {
                const auto point = plane.to_plane(geodesics.from(middle, azimuth, distance));
                const double shorter = std::pow(distance, 3) / (6.0 * std::pow(6.335e6, 2));
                EXPECT_NEAR(std::hypot(point.east_m, point.north_m), distance,
                            1.05 * shorter + 1e-7)
                    << middle.latitude_deg << " " << azimuth;
                // Near a pole an azimuth turns with every step; elsewhere it points where it says.
                if (std::abs(middle.latitude_deg) < 80.0) {
                    EXPECT_NEAR(point.east_m, distance * std::sin(azimuth * M_PI / 180.0),
                                1.05 * shorter + 1e-7);
                }
            }
        }
    }
}

TEST(LocalPlane, GoesThereAndBack) {
    for (const auto& middle : kMiddles) {
        const LocalPlane plane(middle);
        for (const auto& point : {Point{0.0, 0.0}, Point{312.5, -40.25}, Point{-5000.0, 7000.0}}) {
            const auto back = plane.to_plane(plane.to_earth(point));
            EXPECT_NEAR(back.east_m, point.east_m, 1e-6);
            EXPECT_NEAR(back.north_m, point.north_m, 1e-6);
        }
    }
}

TEST(LocalPlane, AreasAreThoseOfProjsGeodesics) {
    const Geodesics geodesics;
    for (const auto& about : kMiddles) {
        Ring ring;
        for (int i = 0; i < 7; ++i) {  // counter-clockwise, as seen from above
            ring.push_back(geodesics.from(about, -51.0 * i, 400.0 + 90.0 * (i % 3)));
        }
        const Area area{{ring, {}}};
        const double ours = size_m2(LocalPlane(middle_of(area)).to_plane(area));
        const double theirs = std::abs(geodesics.area_m2(ring));
        // d^2/2R^2 of it at 600 m: 4e-9.
        EXPECT_NEAR(ours, theirs, 1e-8 * theirs) << about.latitude_deg;
    }
}

TEST(LocalPlane, TheMiddleOfAFieldOnTheAntimeridianIsThere) {
    const Area area{{{{10.0, 179.9}, {10.0, -179.9}, {10.2, -179.9}, {10.2, 179.9}}, {}}};
    EXPECT_NEAR(std::abs(middle_of(area).longitude_deg), 180.0, 1e-9);
    EXPECT_NEAR(middle_of(area).latitude_deg, 10.1, 1e-3);
}

}  // namespace
}  // namespace beetwright::ground
