#include "ground/drift.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "ground/drift_system.hpp"
#include "ground/plane_fit.hpp"

namespace beetwright::ground {
namespace {

constexpr std::size_t kMostNodes = 400;
constexpr double kLeastStep_s = 30.0;
constexpr int kLeaveOut = 5;           // one pass in five
constexpr double kNodeSpacings = 2.0;  // ground's nodes stand as far apart as so many passes
constexpr std::size_t kFewestPasses = 5;
constexpr std::size_t kFewestHeights = 100;

/// Which nodes a number lies between, and how far.
struct Between {
    std::size_t node = 0;
    double share = 0.0;  ///< of the next one
};

Between between(double steps, std::size_t nodes) {
    const double inside = std::clamp(steps, 0.0, static_cast<double>(nodes - 1) - 1e-9);
    const auto node = static_cast<std::size_t>(inside);
    return {node, inside - static_cast<double>(node)};
}

struct Box {
    double west_m;
    double south_m;
    double spacing_m;
    std::size_t columns;
    std::size_t rows;
};

Box box_of(const std::vector<Sample>& samples, double spacing_m) {
    double west = samples.front().at.east_m;
    double east = west;
    double south = samples.front().at.north_m;
    double north = south;
    for (const auto& sample : samples) {
        west = std::min(west, sample.at.east_m);
        east = std::max(east, sample.at.east_m);
        south = std::min(south, sample.at.north_m);
        north = std::max(north, sample.at.north_m);
    }
    return {west, south, spacing_m, static_cast<std::size_t>((east - west) / spacing_m) + 2,
            static_cast<std::size_t>((north - south) / spacing_m) + 2};
}

/// The plane through all heights: what may be left to the ground at once.
FittedPlane plane_of_heights(const std::vector<Sample>& samples) {
    std::vector<Point> places;
    std::vector<double> heights;
    for (const auto& one : samples) {
        if (std::isfinite(one.height_m)) {
            places.push_back(one.at);
            heights.push_back(one.height_m);
        }
    }
    return plane_through(places, heights);
}

/// Means of runs of samples of one pass within a node's spacing.
std::vector<Seen> seen_of(const std::vector<Sample>& samples, const Box& box, double begin_s,
                          double step_s, std::size_t steps, const FittedPlane& plane) {
    std::vector<Seen> all;
    double from_east = 0.0;
    double from_north = 0.0;
    for (const auto& sample : samples) {
        if (!std::isfinite(sample.height_m) || sample.pass < 0) {
            continue;
        }
        const auto [column, right] =
            between((sample.at.east_m - box.west_m) / box.spacing_m, box.columns);
        const auto [row, up] = between((sample.at.north_m - box.south_m) / box.spacing_m, box.rows);
        const auto [time, later] = between((sample.since_s - begin_s) / step_s, steps);
        const auto ground = static_cast<std::uint32_t>(row * box.columns + column);
        const auto columns = static_cast<std::uint32_t>(box.columns);
        const auto drift = static_cast<std::uint32_t>(box.columns * box.rows + time);
        const Seen mine{
            {ground, ground + 1, ground + columns, ground + columns + 1, drift, drift + 1},
            {(1.0 - right) * (1.0 - up), right * (1.0 - up), (1.0 - right) * up, right * up,
             1.0 - later, later},
            sample.height_m - plane.at(sample.at),
            1.0,
            sample.pass};
        const bool joins =
            !all.empty() && all.back().node == mine.node && all.back().pass == mine.pass &&
            std::hypot(sample.at.east_m - from_east, sample.at.north_m - from_north) <
                box.spacing_m / kNodeSpacings;
        if (!joins) {
            all.push_back(mine);
            from_east = sample.at.east_m;
            from_north = sample.at.north_m;
            continue;
        }
        auto& last = all.back();
        last.count += 1.0;
        const double share = 1.0 / last.count;
        last.height_m += share * (mine.height_m - last.height_m);
        for (std::size_t k = 0; k < mine.weight.size(); ++k) {
            last.weight[k] += share * (mine.weight[k] - last.weight[k]);
        }
    }
    return all;
}

/// Along passes, where little time goes by: the variance of noise and that of the ground's second
/// difference over a node's spacing.
struct Along {
    double noise2 = 0.0;
    double bend2 = 0.0;
};

Along along(const std::vector<Sample>& samples, const std::vector<Seen>& seen, double spacing_m) {
    Along found;
    // Of four heights in a row the third difference: ground has next to none over a few metres.
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t i = 3; i < samples.size(); ++i) {
        if (samples[i].pass >= 0 && samples[i].pass == samples[i - 3].pass) {
            const double third = samples[i].height_m - 3.0 * samples[i - 1].height_m +
                                 3.0 * samples[i - 2].height_m - samples[i - 3].height_m;
            if (std::isfinite(third)) {
                sum += third * third;
                count += 1.0;
            }
        }
    }
    found.noise2 = std::max(1e-6, count > 0.0 ? sum / count / 20.0 : 0.0);
    // Of three means about a node's spacing apart the second one, less what noise makes of it.
    sum = count = 0.0;
    double noise = 0.0;
    const auto apart = static_cast<std::size_t>(kNodeSpacings);
    for (std::size_t i = 2 * apart; i < seen.size(); ++i) {
        const auto& a = seen[i - 2 * apart];
        const auto& b = seen[i - apart];
        const auto& c = seen[i];
        if (a.pass == c.pass) {
            const double second = a.height_m - 2.0 * b.height_m + c.height_m;
            sum += second * second;
            noise += found.noise2 * (1.0 / a.count + 4.0 / b.count + 1.0 / c.count);
            count += 1.0;
        }
    }
    const double least = 1e-5 * spacing_m * spacing_m;  // [m2]: nothing is flatter than this
    found.bend2 = std::max(1e-2 * least, count > 0.0 ? (sum - noise) / count : least);
    return found;
}

}  // namespace

double Drift::at(double since) const {
    if (since_s.size() < 2) {
        return 0.0;
    }
    const auto [node, share] =
        between((since - since_s.front()) / (since_s[1] - since_s[0]), since_s.size());
    return (1.0 - share) * height_m[node] + share * height_m[node + 1];
}

Drift drift_of(const std::vector<Sample>& samples, double spacing_m) {
    Drift drift;
    std::size_t passes = 0;
    std::size_t heights = 0;
    for (const auto& sample : samples) {
        passes = std::max(passes, static_cast<std::size_t>(sample.pass + 1));
        heights += std::isfinite(sample.height_m) ? 1U : 0U;
    }
    if (passes < kFewestPasses || heights < kFewestHeights || !(spacing_m > 0.0)) {
        return drift;
    }
    const double begin = samples.front().since_s;
    const double whole = samples.back().since_s - begin;
    const auto steps =
        std::clamp<std::size_t>(static_cast<std::size_t>(whole / kLeastStep_s) + 1, 2, kMostNodes);
    const double step = std::max(1.0, whole / static_cast<double>(steps - 1));
    const auto box = box_of(samples, std::max(1.0, kNodeSpacings * spacing_m));
    const DriftSystem system(seen_of(samples, box, begin, step, steps, plane_of_heights(samples)),
                             box.columns, box.rows, steps);
    const auto [noise2, bend2] = along(samples, system.seen(), box.spacing_m);
    const double bend = bend2 / noise2;
    // The walk's variance by which passes that were left out are foretold best.
    double best_wander = 0.0;
    double best_miss = std::numeric_limits<double>::infinity();
    // Each search begins with all of it in the ground: what cannot be told apart stays there.
    constexpr double kNone = 1e-12;
    const auto still =
        system.solved(bend, kNone, 0, 0, std::vector<double>(system.unknowns(), 0.0));
    for (const double wander_m : {0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0}) {  // in an hour
        const double wander = wander_m * wander_m * step / 3600.0 / noise2;
        const auto unknowns = system.solved(bend, wander, 0, kLeaveOut, still);
        double miss = 0.0;
        for (const auto& one : system.seen()) {
            if (one.pass % kLeaveOut == 0) {
                const double off = one.height_m - DriftSystem::said(one, unknowns);
                miss += off * off;
            }
        }
        if (miss < best_miss) {
            best_miss = miss;
            best_wander = wander;
        }
    }
    const auto unknowns = system.solved(bend, best_wander, 0, 0, still);
    const std::size_t first = box.columns * box.rows;
    double mean = 0.0;
    for (std::size_t i = 0; i < steps; ++i) {
        mean += unknowns[first + i] / static_cast<double>(steps);
    }
    for (std::size_t i = 0; i < steps; ++i) {
        drift.since_s.push_back(begin + static_cast<double>(i) * step);
        drift.height_m.push_back(unknowns[first + i] - mean);
    }
    drift.wander_m = std::sqrt(best_wander * noise2 * 3600.0 / step);
    drift.noise_m = std::sqrt(noise2);
    return drift;
}

}  // namespace beetwright::ground
