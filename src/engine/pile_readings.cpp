#include "engine/pile_readings.hpp"

#include <algorithm>
#include <cmath>

#include "base/sorted.hpp"

namespace beetwright::engine {
namespace {

using check::ProbeReading;

/// Closer than this it is the same place.
constexpr double kSamePlace_m = 0.15;
/// A probe that was just pushed in, or beets just tipped on it, say nothing of the pile yet.
constexpr std::chrono::hours kSettles{12};

bool is_same(const ProbePlace& known, const ProbeReading& reading) {
    const auto near = [](Length a, Length b) { return std::abs((a - b).si()) < kSamePlace_m; };
    return known.probe == reading.probe && known.kind == reading.kind &&
           near(known.place.along, reading.along) && near(known.place.across, reading.across) &&
           near(known.place.height, reading.height);
}

std::optional<std::size_t> part_at(const PileStudy& study, Length along) {
    std::optional<std::size_t> nearest;
    double least = 0.5;  // m: loads do not end where a tape says they do
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        const PilePart& part = study.parts()[p];
        const double outside = std::max({0.0, (part.from - along).si(), (along - part.to).si()});
        if (outside < least) {
            least = outside;
            nearest = p;
        }
    }
    return nearest;
}

bool counts(const PilePart& part, Length height, Instant at) {
    // The layer that a place lies in, or the uppermost below it.
    Instant piled = part.piled();
    for (const PileLayer& layer : part.layers) {
        piled = layer.bottom <= height ? layer.piled : piled;
    }
    return at >= piled + kSettles && (!part.removed || at < *part.removed);
}

void put_windows(ProbePlace& place) {
    constexpr Instant::duration kShortest = std::chrono::hours(24);
    const Instant::duration span = place.at.back() - place.at.front();
    const Instant::duration each = span / static_cast<int>(kMostWindows);
    const auto window = std::max(kShortest, each + Instant::duration(1));
    for (std::size_t i = 0; i < place.at.size(); ++i) {
        auto& windows = place.windows;
        if (windows.empty() || place.at[i] - place.at[windows.back().first] >= window) {
            windows.push_back({.first = i, .last = i, .celsius = 0.0});
        }
        ReadingWindow& last = windows.back();
        ++last.last;
        const double count = static_cast<double>(last.last - last.first);
        last.celsius += (place.celsius[i] - last.celsius) / count;
    }
}

}  // namespace

std::vector<ProbePlace> probe_places(const PileStudy& study) {
    std::vector<const ProbeReading*> readings;
    for (const ProbeReading& reading : study.season().probes) {
        if (reading.pile == study.contents().site.name && reading.at <= study.now()) {
            readings.push_back(&reading);
        }
    }
    sort_list(readings, std::less<>(), [](const auto* one) { return one->at; });
    std::vector<ProbePlace> places;
    for (const auto* reading : readings) {
        const auto part = part_at(study, reading->along);
        if (part && !counts(study.parts()[*part], reading->height, reading->at)) {
            continue;
        }
        auto known = std::ranges::find_if(
            places, [&](const ProbePlace& one) { return is_same(one, *reading); });
        if (known == places.end()) {
            places.push_back({.probe = reading->probe,
                              .kind = reading->kind,
                              .place = {reading->along, reading->across, reading->height},
                              .part = part,
                              .at = {},
                              .celsius = {},
                              .windows = {}});
            known = places.end() - 1;
        }
        known->at.push_back(reading->at);
        known->celsius.push_back(reading->temperature.in_celsius());
    }
    for (ProbePlace& place : places) {
        put_windows(place);
    }
    return places;
}

}  // namespace beetwright::engine
