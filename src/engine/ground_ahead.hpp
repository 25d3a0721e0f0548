// How a field's ground will be on the coming days, as the members of an outlook have it.
#pragma once

#include <array>
#include <vector>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "ledger/season.hpp"
#include "weather/outlook.hpp"
#include "weather/trafficability.hpp"

namespace beetwright::engine {

/// At the end of a day.
struct GroundAhead {
    Day day{};
    Estimate<double> moisture;  ///< of the topsoil [m3/m3]
    std::array<double, weather::kConsistencies> consistency_chance{};
    /// Of each bearing below the plough, where damage stays, under the field's machine's heaviest
    /// wheel.
    std::array<double, weather::kBearings> bearing_chance{};
};

/// From the day that it is now on. Each member goes on where the weather that was measured ends;
/// nothing where none was.
std::vector<GroundAhead> ground_ahead(const ledger::Season& season, const ledger::Field& field,
                                      const weather::Outlook& outlook, const Catalogue& catalogue);

}  // namespace beetwright::engine
