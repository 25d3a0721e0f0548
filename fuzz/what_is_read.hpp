// What must hold of anything that a reader of maps accepts or refuses, whatever the bytes were.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "base/result.hpp"
#include "ground/area.hpp"
#include "ground/track.hpp"

namespace beetwright {

/// Whether it was read; of what was not it is said what is wrong, and what would be right.
template <class Reading>
bool is_read(const Result<Reading>& reading) {
    if (!reading) {
        for (const auto& problem : reading.problems()) {
            require(!problem.what.empty() && !problem.fix.empty(), "what is wrong is said");
        }
    }
    return reading.ok();
}

inline void look_at(const ground::Area& area) {
    const auto look = [](const ground::Ring& ring) {
        require(ring.size() >= 3, "a ring goes round something");
        require(std::ranges::all_of(ring, ground::is_on_earth), "corners are on earth");
    };
    for (const auto& polygon : area) {
        look(polygon.outer);
        std::ranges::for_each(polygon.holes, look);
    }
}

inline void look_at(const ground::Track& track) {
    require(!track.fixes.empty(), "a track has a fix");
    for (const auto& fix : track.fixes) {
        require(ground::is_on_earth(fix.position), "a fix is on earth");
    }
}

inline void look_at(const ground::Heights& heights) {
    require(!heights.points.empty(), "a grid has a height");
    for (const auto& point : heights.points) {
        require(ground::is_on_earth(point.position) && std::isfinite(point.height_m),
                "a height is somewhere on earth");
    }
}

}  // namespace beetwright
