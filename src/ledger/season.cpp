#include "ledger/season.hpp"

#include <algorithm>
#include <set>

#include "ledger/observation_kinds.hpp"

namespace beetwright::ledger {

weather::SoilClass soil_class_of(const Season& season, const std::string& soil) {
    const auto rules = std::ranges::find(season.soils, soil, &SoilRules::name);
    if (rules != season.soils.end() && rules->soil_class) {
        return *rules->soil_class;
    }
    return weather::soil_class_named(soil).value_or(weather::SoilClass::loam);
}

void add_observations(Season& season, const Season& more) {
    const auto add = [](auto& to, const auto& from) {
        to.insert(to.end(), from.begin(), from.end());
    };
    add(season.loads, more.loads);
    add(season.beet_sheets, more.beet_sheets);
    add(season.strips, more.strips);
    add(season.tares, more.tares);
    add(season.labs, more.labs);
    add(season.standing, more.standing);
    add(season.settings, more.settings);
    add(season.parts, more.parts);
    add(season.covers, more.covers);
    add(season.probes, more.probes);
    add(season.removals, more.removals);
    add(season.places, more.places);
}

std::size_t count_observations(const Season& season) {
    std::size_t count = 0;
    for_each_kind(season, [&](const auto& all) { count += all.size(); });
    return count;
}

Season only_new(const Season& season, Season observations) {
    // An id is of one kind, so one set serves all.
    std::set<Uuid> known;
    for_each_kind(season, [&](const auto& all) {
        for (const auto& one : all) {
            known.insert(one.id);
        }
    });
    leave_out(observations, [&](const Uuid& id) { return known.contains(id); });
    return observations;
}

}  // namespace beetwright::ledger
