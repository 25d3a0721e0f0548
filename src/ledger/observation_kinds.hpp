// The twelve kinds of observation, for whoever does the same with each.
#pragma once

#include "ledger/season.hpp"

namespace beetwright::ledger {

/// Calls visit(list) for each kind's list of a season, const or not, always in this order, which is
/// io::Observed's.
template <class AnySeason, class Visit>
void for_each_kind(AnySeason& season, Visit&& visit) {
    visit(season.loads);
    visit(season.beet_sheets);
    visit(season.strips);
    visit(season.tares);
    visit(season.labs);
    visit(season.standing);
    visit(season.settings);
    visit(season.parts);
    visit(season.covers);
    visit(season.probes);
    visit(season.removals);
    visit(season.places);
}

/// Leaves out the observations for whose ids `is_unwanted(id)`.
template <class IsUnwanted>
void leave_out(Season& observations, IsUnwanted&& is_unwanted) {
    for_each_kind(observations, [&](auto& all) {
        std::erase_if(all, [&](const auto& one) { return is_unwanted(one.id); });
    });
}

}  // namespace beetwright::ledger
