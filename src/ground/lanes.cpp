#include "ground/lanes.hpp"

#include <cmath>

namespace beetwright::ground {

double Lanes::area_m2(int zone) const {
    double sum = 0.0;
    for (const auto& stretch : stretches) {
        if (stretch.zone == zone) {
            sum += (stretch.to_m - stretch.from_m) * width_m;
        }
    }
    return sum;
}

Lanes lanes_of(const Grid& grid, const ZoneLayer& zones, double width_m, double least_m) {
    Lanes lanes{.width_m = width_m, .stretches = {}, .transitions = {}};
    const double across = static_cast<double>(grid.rows) * grid.cell_m;
    const auto count = static_cast<std::size_t>(std::ceil(across / width_m));
    for (std::size_t lane = 0; lane < count; ++lane) {
        const double middle_m = (static_cast<double>(lane) + 0.5) * width_m;
        const auto row = static_cast<std::size_t>(middle_m / grid.cell_m);
        if (row >= grid.rows) {
            continue;
        }
        std::vector<LaneStretch> runs;
        for (std::size_t column = 0; column < grid.columns; ++column) {
            const int zone = zones[grid.at(column, row)];
            const double from = static_cast<double>(column) * grid.cell_m;
            if (zone == 0) {
                continue;
            }
            if (!runs.empty() && runs.back().zone == zone && runs.back().to_m >= from - 1e-9) {
                runs.back().to_m = from + grid.cell_m;
            } else {
                runs.push_back({lane, from, from + grid.cell_m, zone});
            }
        }
        // What is too short goes with what comes before it, or, first on a lane, with what follows.
        std::vector<LaneStretch> driven;
        for (const auto& run : runs) {
            const bool follows = !driven.empty() && driven.back().to_m >= run.from_m - 1e-9;
            const bool is_short = run.to_m - run.from_m < least_m;
            if (follows && (is_short || driven.back().zone == run.zone)) {
                driven.back().to_m = run.to_m;
            } else if (follows && driven.back().to_m - driven.back().from_m < least_m) {
                driven.back().zone = run.zone;
                driven.back().to_m = run.to_m;
            } else {
                driven.push_back(run);
            }
        }
        for (std::size_t i = 0; i < driven.size(); ++i) {
            const auto& here = driven[i];
            if (i > 0 && driven[i - 1].zone != here.zone &&
                driven[i - 1].to_m >= here.from_m - 1e-9) {
                lanes.transitions.push_back(
                    {lane, grid.in_plane(here.from_m, middle_m), driven[i - 1].zone, here.zone});
            }
            lanes.stretches.push_back(here);
        }
    }
    return lanes;
}

}  // namespace beetwright::ground
