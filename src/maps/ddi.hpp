// Data identifiers of ISO 11783-11: numbers that machines agree on for what a value is of, in which
// unit, in which steps. Those that speak of harvests, and the two by which a zone's settings go
// out.
//
// Of what can be set on a beet harvester the standard knows little: there is no identifier for a
// turbine, a roll or a follower. None is made up. The table of controls below says all that goes
// out as a value; everything else goes out in words (iso11783_write.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "harvester/control.hpp"

namespace beetwright::maps {

namespace ddi {
inline constexpr std::uint16_t kSetWorkingHeight = 61;
inline constexpr std::uint16_t kYieldPerArea = 84;
inline constexpr std::uint16_t kContamination = 100;
inline constexpr std::uint16_t kWorkState = 141;
inline constexpr std::uint16_t kAreaPerTime = 151;
inline constexpr std::uint16_t kAmbientTemperature = 192;
inline constexpr std::uint16_t kSetSpeed = 396;
inline constexpr std::uint16_t kActualSpeed = 397;
}  // namespace ddi

struct DataIdentifier {
    std::uint16_t number;
    std::string_view words;
    std::string_view unit;         ///< of one step, as the standard writes it
    double si_per_step;            ///< a value in SI is this times its steps
    std::string_view people_unit;  ///< in which it is told (base/unit.hpp); empty: in steps
};

/// Those known here, in the order of their numbers.
std::span<const DataIdentifier> data_identifiers();
/// The one of this number; null where it is not known here.
const DataIdentifier* find_data_identifier(std::uint16_t number);

double si_of(const DataIdentifier& of, std::int32_t steps);
/// The nearest step; nothing where it is beyond what 32 bits hold.
std::optional<std::int32_t> steps_of(const DataIdentifier& of, double si);
/// "mass per area 70 t/ha"; "DDI 57342: 12" for one that is not known here.
std::string identified_text(std::uint16_t number, std::int32_t steps);

/// Which control goes out under which identifier.
struct IdentifiedControl {
    harvester::ControlKind kind;
    std::uint16_t identifier;
};
/// The set working height is "above crop or soil" of what works there. Three of our controls are
/// heights over the ground; a zone has room for one, and it is the leaf remover's: that is the tool
/// whose height is changed within a field.
std::span<const IdentifiedControl> identified_controls();

}  // namespace beetwright::maps
