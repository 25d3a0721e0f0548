// What may be done to a pile: covers put on and taken off, fans that follow a rule; and what that
// costs.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "base/time.hpp"
#include "check/pile_log.hpp"
#include "ledger/pile_site.hpp"

namespace beetwright::engine {

/// A fan that is brought, along the whole pile.
struct DeedFan {
    ledger::FanRule rule = ledger::FanRule::difference;
    TemperatureDifference colder{2.0};  ///< the air outside, by this at least
};

/// Beside what was recorded. Nothing: the pile is left as it is.
struct PileDeed {
    std::optional<check::PileCover> cover = {};
    Day cover_on{};                     ///< in the morning of this day, not before now
    std::optional<Day> cover_off = {};  ///< absent: it stays
    /// It lies there only while frost is there or to come (pile.cover_below, pile.uncover_above).
    bool only_in_frost = false;
    std::optional<DeedFan> fan = {};

    [[nodiscard]] bool is_nothing() const { return !cover && !fan; }
};

/// A deed that people name in a word: bare, fleece, frost, straw, plastic, strips, fan, freeze.
struct NamedDeed {
    std::string_view name;
    std::string_view words;  ///< "fleece put on now"
    PileDeed deed;
};
/// All of them, from `today` on.
std::array<NamedDeed, 8> named_deeds(Day today);

/// What covering a metre of a pile's length costs, with taking the cover off again [money/m].
/// Nought for none.
double cover_cost_per_metre(check::PileCover cover, const ledger::PileSite& site,
                            const Catalogue& catalogue);

}  // namespace beetwright::engine
