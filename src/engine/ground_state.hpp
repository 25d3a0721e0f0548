// How the ground of a field is: how moist, what that is like in the hand, and whether it bears the
// machine.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "base/catalogue.hpp"
#include "ledger/season.hpp"
#include "weather/trafficability.hpp"

namespace beetwright::engine {

struct GroundState {
    Day day{};  ///< at the end of which it is so, or the last hour that was measured
    weather::SoilClass soil_class{};
    double moisture = 0.0;  ///< of the topsoil [m3/m3]
    weather::Consistency consistency{};
    /// Of each consistency, over draws of the constants.
    std::array<double, weather::kConsistencies> consistency_chance{};
    weather::Trafficability bearing;
    weather::Tyre tyre;   ///< of the heaviest wheel
    std::string machine;  ///< whose it is; empty: nobody said, and it is a usual one
};

struct NamedTyre {
    weather::Tyre tyre;
    std::string machine;  ///< empty: nobody said, a usual one
};
/// Of the heaviest wheel of the field's machine; what is not known of it is usual.
NamedTyre tyre_of(const ledger::Season& season, const ledger::Field& field,
                  const Catalogue& catalogue);

/// On the last day of which weather was measured; nothing where none was.
std::optional<GroundState> ground_state(const ledger::Season& season, const ledger::Field& field,
                                        const Catalogue& catalogue);

}  // namespace beetwright::engine
