// What the tests of map files share: what is wrong is told where and how, and areas and distances
// on the ellipsoid as PROJ's geodesics have them.
#pragma once

#include <geodesic.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "base/result.hpp"
#include "ground/area.hpp"
#include "harvester/machine.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// Among the problems of a reading is one with these words, at this place in the file.
template <class Reading>
void expect_problem(const Result<Reading>& reading, const std::string& words, int line = 0) {
    ASSERT_FALSE(reading) << words;
    std::string told;
    for (const auto& problem : reading.problems()) {
        EXPECT_FALSE(problem.where.file.empty()) << problem.text();
        EXPECT_FALSE(problem.fix.empty()) << problem.text();
        if (problem.where.line == line && problem.text().find(words) != std::string::npos) {
            return;
        }
        told += problem.text() + "\n";
    }
    ADD_FAILURE() << words << " at line " << line << " is not among:\n" << told;
}

/// Among the notes is one with these words.
template <class Notes>
void expect_note(const Notes& notes, const std::string& words) {
    std::string told;
    for (const auto& note : notes) {
        if (note.find(words) != std::string::npos) {
            return;
        }
        told += note + "\n";
    }
    ADD_FAILURE() << words << " is not among:\n" << told;
}

inline geod_geodesic wgs84() {
    geod_geodesic earth;
    geod_init(&earth, 6378137.0, 1.0 / 298.257223563);
    return earth;
}

/// [m2], below zero for a ring that runs clockwise.
inline double geodesic_m2(const ground::Ring& ring) {
    const auto earth = wgs84();
    std::vector<double> latitudes;
    std::vector<double> longitudes;
    for (const auto& corner : ring) {
        latitudes.push_back(corner.latitude_deg);
        longitudes.push_back(corner.longitude_deg);
    }
    double area = 0.0;
    geod_polygonarea(&earth, latitudes.data(), longitudes.data(), static_cast<int>(ring.size()),
                     &area, nullptr);
    return area;
}

inline double geodesic_m2(const ground::Area& area) {
    double sum = 0.0;
    for (const auto& polygon : area) {
        sum += geodesic_m2(polygon.outer);
        for (const auto& hole : polygon.holes) {
            sum += geodesic_m2(hole);  // below zero
        }
    }
    return sum;
}

/// The same corners in the same order, but for what rounding in writing moves them.
inline void expect_same(const ground::Area& area, const ground::Area& expected,
                        double within_deg = 1e-8) {
    const auto same_ring = [&](const ground::Ring& ring, const ground::Ring& other) {
        ASSERT_EQ(ring.size(), other.size());
        for (std::size_t k = 0; k < ring.size(); ++k) {
            EXPECT_NEAR(ring[k].latitude_deg, other[k].latitude_deg, within_deg);
            EXPECT_NEAR(ring[k].longitude_deg, other[k].longitude_deg, within_deg);
        }
    };
    ASSERT_EQ(area.size(), expected.size());
    for (std::size_t p = 0; p < area.size(); ++p) {
        same_ring(area[p].outer, expected[p].outer);
        ASSERT_EQ(area[p].holes.size(), expected[p].holes.size());
        for (std::size_t h = 0; h < area[p].holes.size(); ++h) {
            same_ring(area[p].holes[h], expected[p].holes[h]);
        }
    }
}

inline double geodesic_m(const ground::Position& from, const ground::Position& to) {
    const auto earth = wgs84();
    double distance = 0.0;
    geod_inverse(&earth, from.latitude_deg, from.longitude_deg, to.latitude_deg, to.longitude_deg,
                 &distance, nullptr, nullptr);
    return distance;
}

/// A field about a position, some 440 m by 670 m at 53 degrees.
inline ground::Ring field_ring(double latitude_deg = 53.1, double longitude_deg = 8.2) {
    constexpr double kNorth = 0.002;
    constexpr double kEast = 0.005;
    const double west = std::remainder(longitude_deg - kEast, 360.0);
    const double east = std::remainder(longitude_deg + kEast, 360.0);
    return {{latitude_deg - kNorth, west},
            {latitude_deg - kNorth, east},
            {latitude_deg + kNorth, east},
            {latitude_deg + kNorth, west}};
}

/// Two zones of a field, a machine's first controls set in each.
inline ZonePlan zone_plan() {
    const auto machine = harvester::ready_made(harvester::MachineKind::six_row_turbines);
    const auto ring = field_ring();
    const ground::Position south{53.098, 8.2};
    const ground::Position north{53.102, 8.2};
    ZonePlan plan;
    plan.season = "2031";
    plan.field = "Long Acre & \"<Ditch>\"";  // with what markup must write otherwise
    plan.boundary = {{ring}};
    plan.zones.push_back({1, "knoll", {{{ring[0], south, north, ring[3]}}}, {}});
    plan.zones.push_back({2, "", {{{south, ring[1], ring[2], north}}}, {}});
    for (auto& zone : plan.zones) {
        for (const char* id : {"driving.speed", "share.depth"}) {
            if (const auto* control = machine.find(id)) {
                zone.settings.push_back({*control, control->usual});
            }
        }
    }
    return plan;
}

}  // namespace beetwright::maps
