#include "harvester/look.hpp"

#include <algorithm>
#include <numeric>

namespace beetwright::harvester {

bool Look::is_empty() const {
    const bool has_breaks =
        std::ranges::any_of(breaks, [](const BreaksSeen& seen) { return seen.beets > 0.0; });
    return !has_breaks && std::accumulate(crowns.begin(), crowns.end(), 0.0) <= 0.0 &&
           skin_beets <= 0.0 && !(strip > Area::zero()) && tares <= 0.0;
}

std::vector<Look> Look::parts() const {
    Look none;
    none.where = where;
    std::vector<Look> parts(5, none);
    parts[0].crowns = crowns;
    parts[1].breaks = breaks;
    parts[1].strip = strip_tails.is_known() ? strip : Area::zero();
    parts[1].strip_whole_roots = CleanMass();
    parts[1].strip_tails = strip_tails;
    parts[2].strip = strip;
    parts[2].strip_whole_roots = strip_whole_roots;
    parts[2].strip_tails = CleanMass();
    parts[3].skin_beets = skin_beets;
    parts[3].skin_mean = skin_mean;
    parts[4].tares = tares;
    parts[4].tare_log_mean = tare_log_mean;
    std::erase_if(parts, [](const Look& look) { return look.is_empty(); });
    return parts;
}

}  // namespace beetwright::harvester
