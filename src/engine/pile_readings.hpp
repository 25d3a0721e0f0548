// What was read in a pile, put in order: place by place, and day by day at each.
//
// A lance that goes to several places under one name is several; readings of one logger are many,
// and say less than their number. docs/methods/pile_probes.md.
#pragma once

#include <string>
#include <vector>

#include "engine/pile_course.hpp"
#include "engine/pile_study.hpp"

namespace beetwright::engine {

/// Readings that count as one: those of a day, or of some days where a probe has lain for long.
struct ReadingWindow {
    std::size_t first = 0, last = 0;  ///< readings [first, last) of its place
    double celsius = 0.0;             ///< their mean
};

/// Everything that was read by one probe at one place.
struct ProbePlace {
    std::string probe;
    check::ProbeKind kind = check::ProbeKind::lance;
    PlaceInPile place;
    std::optional<std::size_t> part = {};  ///< absent: nothing lay there
    std::vector<Instant> at;               ///< in order of time
    std::vector<double> celsius;
    std::vector<ReadingWindow> windows;
};

/// Windows of one place, at most: a probe that lies there for months is no surer than that.
inline constexpr std::size_t kMostWindows = 12;

/// By the first reading, then the name. Readings from before beets lay at a place for half a day,
/// or after they were taken away, are left out.
std::vector<ProbePlace> probe_places(const PileStudy& study);

}  // namespace beetwright::engine
