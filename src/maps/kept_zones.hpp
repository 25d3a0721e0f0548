// The zones that people keep for a field: worked out, or drawn by hand, each with its settings.
// docs/formats/api.md.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"
#include "ground/area.hpp"
#include "ground/patches.hpp"
#include "ledger/machine.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// More than anybody sets by hand.
inline constexpr std::size_t kMostKeptZones = 24;

struct KeptControl {
    std::string control;  ///< "share.depth"
    double value = 0.0;   ///< SI, or which of its choices
    friend bool operator==(const KeptControl&, const KeptControl&) = default;
};

struct KeptZone {
    int number = 0;  ///< from 1; level ground at number 1 is the field at large
    ground::Lie lie = ground::Lie::level;
    ground::Area area;
    std::vector<KeptControl> controls = {};
    friend bool operator==(const KeptZone&, const KeptZone&) = default;
};

struct KeptZones {
    Instant at{};         ///< for which they were worked out, or drawn
    std::string machine;  ///< whose controls these are
    std::vector<KeptZone> zones = {};
    friend bool operator==(const KeptZones&, const KeptZones&) = default;
};

/// Problems name the member, `zones[1].geometry.coordinates[0][0]`: members that are missing or of
/// another kind, numbers that stand twice, words that are no lie, areas with the flaws of
/// validity.hpp, controls that no machine has.
Result<KeptZones> read_kept_zones(std::string_view text, const std::string& file);
/// Reads back as the same, corners to a millimetre.
std::string kept_zones_text(const KeptZones& kept);

/// Zones as they can be driven: within the border where there is one, none over another. Zones
/// drawn later, by their number, give way; the field at large is what the others leave of the
/// border. What was cut away is told in `notes`. A zone of which nothing is left is left out.
KeptZones fitted_together(KeptZones kept, const ground::Area& border,
                          std::vector<std::string>& notes);

/// As they go out, in the order of their numbers, with what the machine's displays show. Problems:
/// those of harvester_of(); controls that this machine has not, and
/// values outside their range, by the path of the member.
Result<ZonePlan> plan_of(const std::string& season, const std::string& field,
                         const ground::Area& border, const KeptZones& kept,
                         const ledger::Machine& machine);

}  // namespace beetwright::maps
