// Tracks of machines that drive up and down made-up fields, for tests and benchmarks.
#pragma once

#include <cmath>
#include <functional>
#include <string>

#include "base/random.hpp"
#include "ground/local_plane.hpp"
#include "ground/track.hpp"

namespace beetwright::ground {

struct Drive {
    Position middle{48.2, 16.3};
    double length_m = 400.0;   ///< of passes
    double breadth_m = 250.0;  ///< across them
    double spacing_m = 3.0;    ///< from pass to pass
    double direction_rad = 0.3;
    double speed_m_s = 1.8;
    double every_s = 1.0;
    double noise_m = 0.02;     ///< of a height
    double sideways_m = 0.02;  ///< of a position
    FixKind kind = FixKind::fixed_phase;
    std::function<double(const Point&)> height = [](const Point&) { return 150.0; };
    /// Along and across the passes, from the field's middle.
    std::function<double(double since_s)> drift = [](double) { return 0.0; };
    std::uint64_t seed = 1;
};

/// Up and down beside each other, with turns at the ends.
inline Track driven(const Drive& how) {
    const LocalPlane plane(how.middle);
    RandomStream random(how.seed, "a track that is driven");
    const Instant begin = *parse_instant("2031-09-20T07:00:00Z");
    const double cosine = std::cos(how.direction_rad);
    const double sine = std::sin(how.direction_rad);
    Track track{.name = "drive.csv", .heights_over = HeightOver::sea_level, .fixes = {}};
    double since_s = 0.0;
    const auto note = [&](double along, double across) {
        const Point at{cosine * along - sine * across, sine * along + cosine * across};
        const Point seen{at.east_m + how.sideways_m * random.normal(),
                         at.north_m + how.sideways_m * random.normal()};
        Fix fix;
        fix.at = begin + std::chrono::milliseconds(std::llround(1000.0 * since_s));
        fix.position = plane.to_earth(seen);
        fix.height_m = how.height(at) + how.drift(since_s) + how.noise_m * random.normal();
        fix.kind = how.kind;
        track.fixes.push_back(fix);
        since_s += how.every_s;
    };
    const int passes = static_cast<int>(how.breadth_m / how.spacing_m);
    const double step = how.speed_m_s * how.every_s;
    for (int pass = 0; pass < passes; ++pass) {
        const double across = (pass + 0.5) * how.spacing_m - 0.5 * how.breadth_m;
        const double sign = pass % 2 == 0 ? 1.0 : -1.0;
        for (double along = -0.5 * how.length_m; along <= 0.5 * how.length_m; along += step) {
            note(sign * along, across);
        }
        // Round at the headland: half a circle onto the next pass.
        const double radius = 0.5 * how.spacing_m;
        for (double turn = step / radius; turn < M_PI; turn += step / radius) {
            note(sign * (0.5 * how.length_m + radius * std::sin(turn)),
                 across + radius * (1.0 - std::cos(turn)));
        }
    }
    return track;
}

}  // namespace beetwright::ground
