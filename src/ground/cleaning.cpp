#include "ground/cleaning.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "ground/passes.hpp"
#include "num/median.hpp"

namespace beetwright::ground {
namespace {

constexpr double kFar_m = 20'000.0;     // from the rest of a field's track
constexpr double kFastest_m_s = 20.0;   // on the road between fields
constexpr double kStanding_m = 0.5;     // moved by less: the same place seen again
constexpr double kGap_s = 15.0;         // without a fix: another pass
constexpr double kLeastSpike_m = 0.5;   // of a height against its neighbours
constexpr double kSpikes = 8.0;         // of the usual difference from the neighbours' median
constexpr std::size_t kNeighbours = 5;  // to each side
constexpr std::size_t kFewest = 20;
constexpr std::size_t kLostInARow = 30;  // after so many the track goes on from there

bool can_be(const Fix& fix) {
    const bool is_nought = fix.position.latitude_deg == 0.0 && fix.position.longitude_deg == 0.0;
    return fix.kind != FixKind::none && !is_nought && is_on_earth(fix.position);
}

/// Forgets heights far from the median of their neighbours in the same pass, as many to each side,
/// against what is usual here; says how many.
std::size_t forget_spikes(std::vector<Sample>& samples, const std::vector<Pass>& passes) {
    std::vector<double> off(samples.size(), 0.0);
    std::vector<double> known;
    std::vector<double> window;
    for (const auto& pass : passes) {
        for (std::size_t i = pass.first; i < pass.first + pass.count; ++i) {
            if (!std::isfinite(samples[i].height_m)) {
                continue;
            }
            const std::size_t reach =
                std::min({kNeighbours, i - pass.first, pass.first + pass.count - 1 - i});
            window.clear();
            for (std::size_t j = i - reach; j <= i + reach; ++j) {
                if (std::isfinite(samples[j].height_m)) {
                    window.push_back(samples[j].height_m);
                }
            }
            off[i] = std::abs(samples[i].height_m - num::median_of(window));
            known.push_back(off[i]);
        }
    }
    if (known.empty()) {
        return 0;
    }
    const double limit = std::max(kLeastSpike_m, kSpikes * num::median_of(known));
    std::size_t spikes = 0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        if (off[i] > limit) {
            samples[i].height_m = kNotSaid;
            ++spikes;
        }
    }
    return spikes;
}

void note(std::vector<std::string>& notes, std::size_t count, std::string_view why) {
    if (count > 0) {
        notes.push_back(std::to_string(count) + std::string(why));
    }
}

}  // namespace

Result<LocalPlane> plane_of(const Track& track) {
    // Longitudes about the first that can be, so that none jumps at the antimeridian.
    std::vector<double> latitudes;
    std::vector<double> eastward;
    std::optional<double> from;
    for (const auto& fix : track.fixes) {
        if (can_be(fix)) {
            from = from.value_or(fix.position.longitude_deg);
            latitudes.push_back(fix.position.latitude_deg);
            eastward.push_back(std::remainder(fix.position.longitude_deg - *from, 360.0));
        }
    }
    if (!from) {
        return Problem{ProblemKind::input,
                       {track.name, 0, {}},
                       "none of its " + std::to_string(track.fixes.size()) + " records has a fix",
                       "give a log that was written while the receiver had satellites in sight"};
    }
    return LocalPlane(
        {num::median_of(latitudes), std::remainder(*from + num::median_of(eastward), 360.0)});
}

Result<Cleaned> clean(const Track& track, const LocalPlane& plane) {
    Cleaned cleaned;
    std::vector<bool> breaks;
    std::size_t lost = 0;
    std::size_t far = 0;
    std::size_t leaps = 0;
    std::size_t standing = 0;
    std::size_t leaps_in_a_row = 0;
    std::size_t backwards = 0;
    bool did_work = true;
    bool breaks_here = false;
    for (const auto& fix : track.fixes) {
        if (!can_be(fix)) {
            ++lost;
            continue;
        }
        Sample sample;
        sample.at = plane.to_plane(fix.position);
        sample.since_s = std::chrono::duration<double>(fix.at - track.fixes.front().at).count();
        sample.height_m = fix.height_m;
        sample.yield_kg_m2 = fix.yield_kg_m2;
        if (std::hypot(sample.at.east_m, sample.at.north_m) > kFar_m) {
            ++far;
            continue;
        }
        if (!cleaned.samples.empty()) {
            const auto& before = cleaned.samples.back();
            const double moved = std::hypot(sample.at.east_m - before.at.east_m,
                                            sample.at.north_m - before.at.north_m);
            const double took_s = sample.since_s - before.since_s;
            if (took_s < 0.0) {
                ++backwards;
                continue;
            }
            if (moved > std::max(5.0, kFastest_m_s * took_s) && ++leaps_in_a_row < kLostInARow) {
                ++leaps;
                continue;
            }
            if (moved < kStanding_m) {
                ++standing;
                continue;
            }
            breaks_here =
                breaks_here || took_s > kGap_s || moved > std::max(5.0, kFastest_m_s * took_s);
        }
        leaps_in_a_row = 0;
        breaks.push_back(breaks_here || fix.works != did_work);
        breaks_here = false;
        did_work = fix.works;
        cleaned.samples.push_back(sample);
    }
    const std::size_t all = track.fixes.size();
    if (cleaned.samples.size() < kFewest || 2 * (lost + far + leaps + backwards) > all) {
        return Problem{
            ProblemKind::input,
            {track.name, 0, {}},
            "of " + std::to_string(all) + " records " + std::to_string(cleaned.samples.size()) +
                " can be used: " + std::to_string(lost) + " have no fix, " + std::to_string(far) +
                " lie more than 20 km from the rest, " + std::to_string(leaps) +
                " leap faster than 72 km/h, " + std::to_string(backwards) + " go back in time, " +
                std::to_string(standing) + " stand still",
            "give a log of the whole field with a position every few metres"};
    }
    note(cleaned.notes, lost, " records without a fix were left out");
    note(cleaned.notes, far,
         " records more than 20 km from the rest were left out: a mistyped or damaged position");
    note(cleaned.notes, leaps, " records that leap faster than 72 km/h were left out");
    note(cleaned.notes, backwards, " records that go back in time were left out");
    cleaned.passes = part_into_passes(cleaned.samples, breaks);
    note(cleaned.notes, forget_spikes(cleaned.samples, cleaned.passes),
         " heights unlike those beside them were left out");
    if (!cleaned.passes.empty()) {
        cleaned.direction_rad = main_direction(cleaned.passes);
        cleaned.gaps_m = gaps_between(cleaned.samples, cleaned.passes, cleaned.direction_rad);
        std::vector<double> speeds;
        for (const auto& pass : cleaned.passes) {
            const double took = cleaned.samples[pass.first + pass.count - 1].since_s -
                                cleaned.samples[pass.first].since_s;
            if (took > 0.0) {
                speeds.push_back(pass.length_m / took);
            }
        }
        if (!speeds.empty()) {
            cleaned.speed_m_s = num::median_of(speeds);
        }
    }
    if (!cleaned.gaps_m.empty()) {
        auto gaps = cleaned.gaps_m;
        cleaned.spacing_m = num::median_of(gaps);
    }
    return cleaned;
}

}  // namespace beetwright::ground
