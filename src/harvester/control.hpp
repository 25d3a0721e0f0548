// What can be set on a harvester: each control with its stage, its unit and the range a machine
// has.
//
// A control is known by what it is in physical units, not by the number on a display: displays
// differ from machine to machine, and drift as parts wear. dial.hpp joins the two.
// docs/methods/harvester_controls.md.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/catalogue.hpp"
#include "base/unit.hpp"

namespace beetwright::harvester {

/// In the order in which a beet meets them.
enum class Stage : std::uint8_t {
    driving,
    leaf_remover,
    scalper,
    lifting_shares,
    roller_bed,
    transfer,
    turbines,
    axial_rolls,
    bunker,
};
std::string_view words(Stage stage);

/// In the order of their stages. Heights are over the ground, depths under it.
enum class ControlKind : std::uint8_t {
    forward_speed,
    leaf_remover_height,  ///< of the rotor's tips
    leaf_remover_speed,
    scalper_thickness,  ///< of the slice that the knife takes under the follower
    follower_load,      ///< with which it rests on a crown
    follower_lowest,    ///< height at which its stop holds it
    share_depth,
    share_gap,  ///< between the shares of a row, where they are nearest
    roller_bed_height,
    roller_speed,
    roller_gap,  ///< between rolls, by the size of those fitted
    last_roller_reversed,
    transfer_speed,  ///< of the web or belt
    turbine_speed,
    turbine_guard,
    guard_clearance,  ///< between a guard's lower edge and its turbine
    axial_roll_speed,
    axial_roll_gap,
    unloading_drop,  ///< from the end of the conveyor to what beets fall on
};

/// A turbine's guard, as its choice is numbered.
enum class Guard : std::uint8_t {
    closed,  ///< a smooth wall: keeps small beets and tails
    tined,   ///< tines with gaps: lets soil out, and thin beets with it
};

struct ControlTraits {
    ControlKind kind;
    std::string_view id;  ///< "share.depth"; a place goes before the point: "turbine_2.speed"
    Stage stage;
    std::string_view words;
    std::string_view place_words;               ///< between `words` and the place
    std::string_view unit;                      ///< in which people read it; "1" for a choice
    std::span<const std::string_view> choices;  ///< in their order from 0; none for an amount

    [[nodiscard]] bool is_choice() const { return !choices.empty(); }
    [[nodiscard]] UnitKind unit_kind() const;
};
/// Every kind, in the order of ControlKind.
std::span<const ControlTraits> control_kinds();
const ControlTraits& traits(ControlKind kind);

/// Whether a control is set from the seat while driving; the others want a stop, and hands on the
/// machine. As most machines are built: common practice, no source.
bool is_set_from_the_seat(ControlKind kind);

struct NamedControl {
    ControlKind kind;
    int place = 0;
    friend bool operator==(const NamedControl&, const NamedControl&) = default;
};
/// What an id like "turbine_2.speed" names, whether or not a machine has it.
std::optional<NamedControl> find_control_kind(std::string_view id);

/// A control of a machine. Numbers are SI (m, m/s, rev/s, N), or which of the choices.
struct Control {
    ControlKind kind = ControlKind::forward_speed;
    int place = 0;  ///< which of several of its kind, from 1; 0 where there is one
    double least = 0.0;
    double most = 0.0;
    double step = 0.0;                 ///< in which it is changed
    double usual = 0.0;                ///< to begin with, before anybody has looked at beets
    HowKnown how = HowKnown::assumed;  ///< the firmness of the least firm of these
    std::string source;                ///< tagged as in the catalogue

    [[nodiscard]] std::string id() const;
    /// "speed of turbine 2"
    [[nodiscard]] std::string words() const;
    /// A value in people's unit: "12 mm", "800 rpm", "tined".
    [[nodiscard]] std::string text(double value) const;
    /// Ends included, and what rounding between units adds to them.
    [[nodiscard]] bool is_within(double value) const {
        const double rounding = 1e-9 * (most - least);
        return value >= least - rounding && value <= most + rounding;
    }
};

}  // namespace beetwright::harvester
