// A pile as it is laid out, with its fans; and what of it, or of what was seen there, cannot be.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "check/pile_log.hpp"

namespace beetwright::ledger {

enum class PileGround : std::uint8_t { earth, gravel, concrete };

/// How it grows.
enum class PileBuilding : std::uint8_t {
    from_one_end,  ///< at full height, load after load
    in_layers,     ///< along its whole length
};

/// When a fan runs by itself.
enum class FanRule : std::uint8_t {
    off,         ///< it does not: somebody switches it on
    difference,  ///< the air outside is colder than the pile by so much
    freeze,      ///< the air outside is cold enough to freeze the pile through
};

/// A fan and the duct that it blows into.
struct Fan {
    check::Stretch stretch;  ///< over which its duct opens into the pile
    VolumePerTime flow;      ///< of air, against `pressure`
    Pressure pressure;       ///< at that flow, as its plate says; NaN: not known
    Power power;             ///< that it draws then; NaN: not known
    FanRule rule = FanRule::off;
    TemperatureDifference difference;         ///< NaN: not by difference
    std::optional<Temperature> not_below{};   ///< of the air outside; absent: however cold
    std::optional<Temperature> only_below{};  ///< absent: however warm
};

struct PileSite {
    std::string name;   ///< the destination that it is
    Length base_width;  ///< on the ground
    Length top_width;   ///< nought: a roof
    Length height;
    Length length;  ///< as long as it may get
    /// The way that it runs from its beginning, from north through east; NaN: not known.
    double orientation_rad = std::numeric_limits<double>::quiet_NaN();
    std::optional<PileGround> ground{};
    std::optional<PileBuilding> built{};
    std::vector<Fan> fans{};

    /// Half its width at a height over the ground; negative above its top.
    [[nodiscard]] Length half_width_at(Length height_over_ground) const;
    /// Of its flanks [rad].
    [[nodiscard]] double slope_rad() const;
    /// Of a metre of its length.
    [[nodiscard]] Area section() const { return 0.5 * (base_width + top_width) * height; }
};

// What contradicts itself; `where.field` is the column that it stands in, and nothing else of
// `where` is filled in.

Problems problems_of(const PileSite& site);
Problems problems_of(const Fan& fan, const PileSite& site);
Problems problems_of(const check::Stretch& stretch, const PileSite& site);
/// The two ends of a stretch against each other, for a pile of which no more is known.
Problems problems_of(const check::Stretch& stretch);
Problems problems_of(const check::ProbeReading& reading, const PileSite& site);

}  // namespace beetwright::ledger
