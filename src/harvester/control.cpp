#include "harvester/control.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "base/contract.hpp"
#include "base/number_text.hpp"

namespace beetwright::harvester {
namespace {

using enum ControlKind;

constexpr std::array<std::string_view, 2> kOffOrOn{"off", "on"};
constexpr std::array<std::string_view, 2> kGuards{"closed", "tined"};

constexpr std::array kKinds{
    ControlTraits{
        forward_speed, "driving.speed", Stage::driving, "forward speed", " of pass ", "km/h", {}},
    ControlTraits{leaf_remover_height,
                  "leaf_remover.height",
                  Stage::leaf_remover,
                  "height of the leaf remover over the ground",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{leaf_remover_speed,
                  "leaf_remover.speed",
                  Stage::leaf_remover,
                  "speed of the leaf remover's rotor",
                  ", number ",
                  "rpm",
                  {}},
    ControlTraits{scalper_thickness,
                  "scalper.thickness",
                  Stage::scalper,
                  "thickness of the scalper's cut",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{follower_load,
                  "follower.load",
                  Stage::scalper,
                  "load of the follower on a crown",
                  ", number ",
                  "N",
                  {}},
    ControlTraits{follower_lowest,
                  "follower.lowest",
                  Stage::scalper,
                  "lowest height of the follower over the ground",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{share_depth,
                  "share.depth",
                  Stage::lifting_shares,
                  "depth of the shares",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{share_gap,
                  "share.gap",
                  Stage::lifting_shares,
                  "gap between a row's shares",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{roller_bed_height,
                  "roller_bed.height",
                  Stage::roller_bed,
                  "height of the roller bed over the ground",
                  ", number ",
                  "mm",
                  {}},
    ControlTraits{roller_speed,
                  "roller_bed.speed",
                  Stage::roller_bed,
                  "speed of the rolls",
                  ", bed ",
                  "rpm",
                  {}},
    ControlTraits{roller_gap,
                  "roller_bed.gap",
                  Stage::roller_bed,
                  "gap between the rolls",
                  ", bed ",
                  "mm",
                  {}},
    ControlTraits{last_roller_reversed, "roller_bed.last_reversed", Stage::roller_bed,
                  "last roll reversed", ", bed ", "1", kOffOrOn},
    ControlTraits{transfer_speed,
                  "transfer.speed",
                  Stage::transfer,
                  "speed of the transfer",
                  ", number ",
                  "m/s",
                  {}},
    ControlTraits{
        turbine_speed, "turbine.speed", Stage::turbines, "speed of turbine", " ", "rpm", {}},
    ControlTraits{turbine_guard, "turbine.guard", Stage::turbines, "guard of turbine", " ", "1",
                  kGuards},
    ControlTraits{guard_clearance,
                  "turbine.clearance",
                  Stage::turbines,
                  "clearance under the guard of turbine",
                  " ",
                  "mm",
                  {}},
    ControlTraits{axial_roll_speed,
                  "axial_rolls.speed",
                  Stage::axial_rolls,
                  "speed of the axial rolls",
                  ", set ",
                  "rpm",
                  {}},
    ControlTraits{axial_roll_gap,
                  "axial_rolls.gap",
                  Stage::axial_rolls,
                  "gap between the axial rolls",
                  ", set ",
                  "mm",
                  {}},
    ControlTraits{unloading_drop,
                  "bunker.drop",
                  Stage::bunker,
                  "drop of unloaded beets",
                  ", number ",
                  "m",
                  {}},
};

}  // namespace

std::string_view words(Stage stage) {
    switch (stage) {
        case Stage::driving: return "driving";
        case Stage::leaf_remover: return "leaf remover";
        case Stage::scalper: return "scalper";
        case Stage::lifting_shares: return "lifting shares";
        case Stage::roller_bed: return "roller bed";
        case Stage::transfer: return "transfer";
        case Stage::turbines: return "turbines";
        case Stage::axial_rolls: return "axial rolls";
        case Stage::bunker: return "bunker";
    }
    return "";
}

UnitKind ControlTraits::unit_kind() const {
    const auto known = find_unit(unit);
    require(known.has_value(), "a control is read in a unit that is known");
    return known->kind;
}

std::span<const ControlTraits> control_kinds() {
    return kKinds;
}

const ControlTraits& traits(ControlKind kind) {
    return kKinds[static_cast<std::size_t>(kind)];
}

bool is_set_from_the_seat(ControlKind kind) {
    switch (kind) {
        case ControlKind::forward_speed:
        case ControlKind::leaf_remover_height:
        case ControlKind::leaf_remover_speed:
        case ControlKind::scalper_thickness:
        case ControlKind::share_depth:
        case ControlKind::roller_bed_height:
        case ControlKind::roller_speed:
        case ControlKind::last_roller_reversed:
        case ControlKind::transfer_speed:
        case ControlKind::turbine_speed:
        case ControlKind::axial_roll_speed:
        case ControlKind::unloading_drop: return true;
        case ControlKind::follower_load:
        case ControlKind::follower_lowest:
        case ControlKind::share_gap:
        case ControlKind::roller_gap:
        case ControlKind::turbine_guard:
        case ControlKind::guard_clearance:
        case ControlKind::axial_roll_gap: return false;
    }
    return false;
}

std::optional<NamedControl> find_control_kind(std::string_view id) {
    NamedControl named{forward_speed, 0};
    std::string plain(id);
    const std::size_t point = id.find('.');
    if (point != std::string_view::npos) {
        const std::size_t line = id.substr(0, point).rfind('_');
        if (line != std::string_view::npos) {
            const char* end = id.data() + point;
            const auto read = std::from_chars(id.data() + line + 1, end, named.place);
            if (read.ec == std::errc() && read.ptr == end && named.place > 0) {
                plain.erase(line, point - line);
            } else {
                named.place = 0;
            }
        }
    }
    const auto found = std::ranges::find(kKinds, plain, &ControlTraits::id);
    if (found == kKinds.end()) {
        return std::nullopt;
    }
    named.kind = found->kind;
    return named;
}

std::string Control::id() const {
    std::string id(traits(kind).id);
    if (place > 0) {
        id.insert(id.find('.'), "_" + std::to_string(place));
    }
    return id;
}

std::string Control::words() const {
    std::string text(traits(kind).words);
    if (place > 0) {
        text += std::string(traits(kind).place_words) + std::to_string(place);
    }
    return text;
}

std::string Control::text(double value) const {
    const ControlTraits& of = traits(kind);
    if (of.is_choice()) {
        for (std::size_t choice = 0; choice < of.choices.size(); ++choice) {
            if (value == static_cast<double>(choice)) {
                return std::string(of.choices[choice]);
            }
        }
    }
    const auto unit = find_unit(of.unit);
    require(unit.has_value(), "a control is read in a unit that is known");
    const auto digits = general_text(unit->from_si(value), 4);
    return of.is_choice() ? digits : digits + " " + std::string(of.unit);
}

}  // namespace beetwright::harvester
