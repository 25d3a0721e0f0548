// Into which zones a field's ground parts, how a machine is set in each, and where the switch pays.
//
// A struct in, a struct out; no I/O. docs/methods/zones.md.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "engine/harvester_question.hpp"
#include "ground/lanes.hpp"
#include "ground/patches.hpp"
#include "ground/surface.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

inline constexpr std::size_t kMostZones = 6;

struct ZonesQuestion {
    std::string field;
    std::optional<int> slice_after_days = {};
    std::optional<Instant> at = {};    ///< now; absent: as_of()
    std::optional<Length> width = {};  ///< of the machine; absent: its rows
};

/// A piece of ground, by what lies around it.
struct ZoneFound {
    int number = 0;  ///< from 1, which is the field at large; 0: not worth a setting of its own
    ground::Lie lie{};
    ground::Position middle{};
    Area area{};
    double stands_out_m = 0.0;  ///< its top over the ground around, or its bottom under it
    std::size_t switches = 0;   ///< over the whole field
    Estimate<Money> gain{};     ///< of settings of its own, the time of switching taken off
    double chance_better = 0.0;
    std::string why{};  ///< why it is not a zone, in a sentence; empty where it is
};

/// Controls that are set otherwise on such ground than in the field at large.
struct LieSettings {
    ground::Lie lie{};
    harvester::Settings settings;              ///< all
    std::vector<harvester::Control> controls;  ///< those that differ; of level ground all
    std::vector<ControlReading> readings;      ///< of each of these
    std::vector<double> field_values;          ///< of the same controls in the field at large
};

/// Why a field has so many zones.
enum class ZonesReason : std::uint8_t {
    some_pay,   ///< pieces of ground gain by settings of their own
    none_pays,  ///< some stand out, and none gains what switching costs
    none_stands_out,
};

/// What is expected of knolls and hollows against the field at large: by the catalogue, and by what
/// was seen in this field.
struct LieExpected {
    Estimate<Length> crowns_higher;  ///< on a knoll
    Estimate<double> beet_share;     ///< mass of a beet on a knoll, of that in the field at large
    Estimate<double> wetter_chance;  ///< of soil in a hollow that feels one step wetter
    std::vector<std::string> seen = {};  ///< what was seen of it here, in sentences
};

struct ZonesAnswer {
    std::string field;
    std::string machine;
    Instant at{};
    Length width{};                     ///< of the machine
    Area known;                         ///< ground whose height is known
    Length unsure{};                    ///< median standard deviation of a cell's height
    Length least_relief{};              ///< what stands out by less is level ground
    Length most_relief{};               ///< by which anything stands out
    std::vector<ZoneFound> zones;       ///< the field at large first, then by their gain
    std::vector<ZoneFound> left_out;    ///< looked at and not worth it
    std::vector<LieSettings> settings;  ///< of level ground, then of each lie that was found
    ground::ZoneLayer zone_of;          ///< cells of the surface's grid
    ground::Lanes lanes;
    Estimate<Money> gain{};  ///< of all zones together
    ZonesReason reason{};
    LieExpected expected{};
    std::vector<std::string> notes;
    std::vector<std::string> assumptions;
    std::vector<std::string> cautions;
};

/// Problems: those of harvester_basis(); a width that is none.
Result<ZonesAnswer> ask_zones(const ledger::Season& season, const ground::Surface& surface,
                              const ZonesQuestion& question, HarvesterMemory* memory = nullptr);

}  // namespace beetwright::engine
