// From a receiver's track to what stands out of a field, on one core: 200,000 fixes over 100 ha, in
// cells of 5 m, and how that grows with fixes and with ground.
//
// Goal: 100 ha at 5 m from 200,000 points to zones under 5 s, in less than 300 MB. The ceiling is
// one look at each fix and each cell: their positions put into the plane. Nothing here passes or
// fails.
#include <sys/resource.h>

#include <chrono>
#include <cmath>
#include <cstdio>

#include "ground/cleaning.hpp"
#include "ground/driven.hpp"
#include "ground/lanes.hpp"
#include "ground/patches.hpp"
#include "ground/prominence.hpp"
#include "ground/surface.hpp"
#include "ground/wetness.hpp"

namespace {

using namespace beetwright;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double bump(const ground::Point& at, double east, double north, double radius, double height) {
    const double off = std::hypot(at.east_m - east, at.north_m - north) / radius;
    return height / (1.0 + std::pow(off, 6.0));
}

ground::Track made_up(double side_m, double every_s) {
    ground::Drive how;
    how.length_m = side_m;
    how.breadth_m = side_m;
    how.every_s = every_s;
    how.noise_m = 0.05;
    how.kind = ground::FixKind::differential;
    how.drift = [](double since_s) { return 0.2 * std::sin(since_s / 700.0); };
    how.height = [side_m](const ground::Point& at) {
        double height = 150.0 + 0.02 * at.east_m;
        for (double east = -0.4; east < 0.45; east += 0.2) {
            for (double north = -0.4; north < 0.45; north += 0.2) {
                height +=
                    bump(at, east * side_m, north * side_m, 35.0,
                         std::fmod(std::abs(east + 2.0 * north), 0.3) - 0.1 > 0.0 ? 1.2 : -1.0);
            }
        }
        return height;
    };
    return ground::driven(how);
}

void run(const char* name, double side_m, double every_s) {
    const auto track = made_up(side_m, every_s);
    const auto plane = ground::plane_of(track);
    double sum = 0.0;
    const double ceiling = seconds_of([&] {
        for (const auto& fix : track.fixes) {
            sum += plane->to_plane(fix.position).east_m;
        }
    });
    double cleaning = 0.0;
    double drift = 0.0;
    {
        Result<ground::Cleaned> cleaned = Problem{};
        cleaning = seconds_of([&] { cleaned = ground::clean(track, *plane); });
        drift = seconds_of(
            [&] { sum += ground::drift_of(cleaned->samples, cleaned->spacing_m).noise_m; });
    }
    Result<ground::Surface> surface = Problem{};
    const double whole = seconds_of([&] { surface = ground::surface_of(track); });
    std::vector<ground::Patch> patches;
    ground::Layer wetness;
    const double shape = seconds_of([&] {
        const auto out = ground::prominence_of(surface->grid, surface->height_m, 120.0, 0.03);
        patches = ground::patches_of(surface->grid, out, {});
        wetness = ground::wetness_of(surface->grid, surface->height_m);
    });
    std::printf(
        "%s: %zu fixes, %zu cells: surface %.2f s (cleaning %.2f, drift %.2f, the rest kriging), "
        "shape %.2f s, %zu pieces; together %.2f s, %.0f times a look at each fix%s\n",
        name, track.fixes.size(), surface->grid.size(), whole, cleaning, drift, shape,
        patches.size(), whole + shape, (whole + shape) / ceiling, sum == 0.5 ? " " : "");
}

}  // namespace

int main() {
    run("25 ha", 500.0, 0.94);
    run("100 ha, half the fixes", 1000.0, 1.88);
    run("100 ha", 1000.0, 0.94);
    run("400 ha", 2000.0, 0.94);
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("memory: %.0f MB at most\n", static_cast<double>(usage.ru_maxrss) / 1024.0);
    return 0;
}
