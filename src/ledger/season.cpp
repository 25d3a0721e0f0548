#include "ledger/season.hpp"

#include <set>

namespace beetwright::ledger {

void add_observations(Season& season, const Season& more) {
    const auto add = [](auto& to, const auto& from) {
        to.insert(to.end(), from.begin(), from.end());
    };
    add(season.loads, more.loads);
    add(season.beet_sheets, more.beet_sheets);
    add(season.strips, more.strips);
    add(season.tares, more.tares);
    add(season.labs, more.labs);
}

Season only_new(const Season& season, Season observations) {
    const auto drop = [](auto& from, const auto& known) {
        std::set<Uuid> ids;
        for (const auto& one : known) {
            ids.insert(one.id);
        }
        std::erase_if(from, [&](const auto& one) { return ids.contains(one.id); });
    };
    drop(observations.loads, season.loads);
    drop(observations.beet_sheets, season.beet_sheets);
    drop(observations.strips, season.strips);
    drop(observations.tares, season.tares);
    drop(observations.labs, season.labs);
    return observations;
}

}  // namespace beetwright::ledger
