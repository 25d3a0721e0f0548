#include "ledger/season.hpp"

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

}  // namespace beetwright::ledger
