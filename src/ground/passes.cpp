#include "ground/passes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/contract.hpp"

namespace beetwright::ground {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kShortestPass_m = 30.0;
constexpr double kHeadingBase_m = 4.0;  // over which a heading is taken, against jitter
constexpr double kStraight_rad = 25.0 * kPi / 180.0;

double distance_m(const Point& a, const Point& b) {
    return std::hypot(b.east_m - a.east_m, b.north_m - a.north_m);
}

/// Into (-pi, pi].
double turned(double angle_rad) {
    return std::remainder(angle_rad, 2.0 * kPi);
}

/// Where a heading over the base length is first known, looking back from `i` no further than
/// `from`.
bool heading_at(const std::vector<Sample>& samples, std::size_t from, std::size_t i,
                double& heading_rad) {
    for (std::size_t j = i; j-- > from;) {
        const auto& a = samples[j].at;
        const auto& b = samples[i].at;
        if (distance_m(a, b) >= kHeadingBase_m) {
            heading_rad = std::atan2(b.north_m - a.north_m, b.east_m - a.east_m);
            return true;
        }
    }
    return false;
}

}  // namespace

std::vector<Pass> part_into_passes(std::vector<Sample>& samples, const std::vector<bool>& breaks) {
    std::vector<Pass> passes;
    std::size_t first = 0;
    double length = 0.0;
    double heading_east = 0.0;
    double heading_north = 0.0;
    const auto close = [&](std::size_t end) {
        if (end > first + 2 && length >= kShortestPass_m) {
            for (std::size_t i = first; i < end; ++i) {
                samples[i].pass = static_cast<int>(passes.size());
            }
            const auto& a = samples[first].at;
            const auto& b = samples[end - 1].at;
            passes.push_back({first, end - first, length,
                              std::atan2(b.north_m - a.north_m, b.east_m - a.east_m)});
        }
        first = end;
        length = heading_east = heading_north = 0.0;
    };
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i].pass = -1;
        if (breaks[i]) {
            close(i);
        }
        double heading = 0.0;
        if (heading_at(samples, first, i, heading)) {
            const bool is_known = heading_east != 0.0 || heading_north != 0.0;
            if (is_known && std::abs(turned(heading - std::atan2(heading_north, heading_east))) >
                                kStraight_rad) {
                close(i);
                continue;
            }
            // Of the last few tens of metres, so that long gentle bends are one pass.
            heading_east = 0.9 * heading_east + std::cos(heading);
            heading_north = 0.9 * heading_north + std::sin(heading);
        }
        if (i > first) {
            length += distance_m(samples[i - 1].at, samples[i].at);
        }
    }
    close(samples.size());
    return passes;
}

double main_direction(const std::vector<Pass>& passes) {
    require(!passes.empty(), "a direction is that of a pass");
    const auto axis = [](const Pass& pass) { return std::fmod(pass.heading_rad + 2.0 * kPi, kPi); };
    // The most driven of 36 sectors with its neighbours, then their mean as of axes, by doubled
    // angles.
    constexpr std::size_t kSectors = 36;
    std::array<double, kSectors> driven{};
    for (const auto& pass : passes) {
        const auto sector = static_cast<std::size_t>(axis(pass) / kPi * kSectors);
        driven[std::min(sector, kSectors - 1)] += pass.length_m;
    }
    std::size_t most = 0;
    double most_driven = -1.0;
    for (std::size_t i = 0; i < kSectors; ++i) {
        const double here =
            driven[i] + driven[(i + 1) % kSectors] + driven[(i + kSectors - 1) % kSectors];
        if (here > most_driven) {
            most = i;
            most_driven = here;
        }
    }
    const double about = (static_cast<double>(most) + 0.5) / kSectors * kPi;
    double cosine = 0.0;
    double sine = 0.0;
    for (const auto& pass : passes) {
        if (std::abs(turned(2.0 * (axis(pass) - about))) < 2.0 * kStraight_rad) {
            cosine += pass.length_m * std::cos(2.0 * axis(pass));
            sine += pass.length_m * std::sin(2.0 * axis(pass));
        }
    }
    return std::fmod(0.5 * std::atan2(sine, cosine) + kPi, kPi);
}

std::vector<double> gaps_between(const std::vector<Sample>& samples,
                                 const std::vector<Pass>& passes, double direction_rad) {
    // Passes in the main direction lie side by side where they share a stretch of it.
    struct Lane {
        double across_m;
        double from_m;
        double to_m;
    };
    const double cosine = std::cos(direction_rad);
    const double sine = std::sin(direction_rad);
    std::vector<Lane> lanes;
    for (const auto& pass : passes) {
        if (std::abs(turned(2.0 * (pass.heading_rad - direction_rad))) > kStraight_rad) {
            continue;
        }
        double across = 0.0;
        double from = std::numeric_limits<double>::infinity();
        double to = -from;
        for (std::size_t i = pass.first; i < pass.first + pass.count; ++i) {
            const auto& at = samples[i].at;
            across += -sine * at.east_m + cosine * at.north_m;
            from = std::min(from, cosine * at.east_m + sine * at.north_m);
            to = std::max(to, cosine * at.east_m + sine * at.north_m);
        }
        lanes.push_back({across / static_cast<double>(pass.count), from, to});
    }
    std::ranges::sort(lanes, {}, &Lane::across_m);
    std::vector<double> gaps;
    for (std::size_t i = 0; i < lanes.size(); ++i) {
        for (std::size_t j = i + 1; j < lanes.size(); ++j) {
            const double shared =
                std::min(lanes[i].to_m, lanes[j].to_m) - std::max(lanes[i].from_m, lanes[j].from_m);
            const double gap = lanes[j].across_m - lanes[i].across_m;
            // The same lane driven twice is not a spacing.
            if (shared > 0.5 * kShortestPass_m && gap > 0.5) {
                gaps.push_back(gap);
                break;
            }
        }
    }
    return gaps;
}

double overlap_of(const std::vector<double>& gaps_m, double width_m) {
    double twice = 0.0;
    for (const double gap : gaps_m) {
        twice += std::max(0.0, 1.0 - gap / width_m);
    }
    return gaps_m.empty() ? 0.0 : twice / static_cast<double>(gaps_m.size());
}

}  // namespace beetwright::ground
