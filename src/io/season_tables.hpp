// The tables of a season folder. The enumerations give each column its place in its table.
#pragma once

#include <span>

#include "io/table.hpp"

namespace beetwright::io {

namespace fields {
enum Column : std::size_t {
    name,
    grower,
    area,
    soil,
    variety,
    machine,
    operator_name,
    destination,
    haul,
    yield,
    yield_low,
    yield_high,
    lifted,
    sliced
};
extern const Table table;
}  // namespace fields

namespace machines {
enum Column : std::size_t {
    name,
    kind,
    rows,
    row_spacing,
    wheel_load,
    tyre_pressure,
    tyre_width,
    tyre_diameter,
    build,
    hour_cost
};
extern const Table table;
}  // namespace machines

namespace controls {
enum Column : std::size_t {
    machine,
    control,
    fitted,
    hands_off,
    unit,
    least,
    most,
    step,
    usual,
    display_step
};
extern const Table table;
}  // namespace controls

namespace dials {
enum Column : std::size_t { machine, control, shown, actual, unit, measured };
extern const Table table;
}  // namespace dials

namespace soils {
enum Column : std::size_t {
    name,
    soil_class,
    holds,
    stop_filling,
    drains_to,
    drain_lag,
    rain_stop
};
extern const Table table;
}  // namespace soils

namespace destinations {
enum Column : std::size_t { name, kind };
extern const Table table;
}  // namespace destinations

namespace piles {
enum Column : std::size_t {
    name,
    base_width,
    top_width,
    height,
    length,
    orientation,
    ground,
    built
};
extern const Table table;
}  // namespace piles

namespace fans {
enum Column : std::size_t {
    pile,
    from,
    to,
    flow,
    pressure,
    power,
    rule,
    difference,
    not_below,
    only_below
};
extern const Table table;
}  // namespace fans

namespace temperatures {
enum Column : std::size_t { destination, day, mean };
extern const Table table;
}  // namespace temperatures

namespace loads {
enum Column : std::size_t {
    id,
    supersedes,
    field,
    at,
    destination,
    ticket,
    gross,
    along_from,
    along_to
};
extern const Table table;
}  // namespace loads

namespace beets {
enum Column : std::size_t {
    sheet,
    supersedes,
    field,
    machine,
    operator_name,
    at,
    seen_at,
    spot,
    topping,
    scar,
    tip_break,
    skin_damage,
    rot,
    frost
};
extern const Table table;
}  // namespace beets

namespace spots {
enum Column : std::size_t {
    sheet,
    supersedes,
    field,
    machine,
    operator_name,
    at,
    seen_at,
    spot,
    beets,
    petioles_long,
    petioles_short,
    correct,
    too_deep,
    slanted,
    crown_untouched,
    tip_whole,
    tip_0_2,
    tip_2_4,
    tip_4_6,
    tip_6_8,
    tip_over_8,
    rot,
    frost
};
extern const Table table;
}  // namespace spots

namespace strips {
enum Column : std::size_t { id, supersedes, field, machine, at, area, whole_roots, pieces, tails };
extern const Table table;
}  // namespace strips

namespace tares {
enum Column : std::size_t { id, supersedes, field, at, gross, soil, tops };
extern const Table table;
}  // namespace tares

namespace labs {
enum Column : std::size_t { id, supersedes, field, at, pol, potassium, sodium, amino_nitrogen };
extern const Table table;
}  // namespace labs

namespace standing {
enum Column : std::size_t {
    id,
    supersedes,
    field,
    at,
    spots,
    area,
    roots,
    pol,
    potassium,
    sodium,
    amino_nitrogen,
    leaf_sick,
    leaf_frozen,
    soil_in_hand,
    crown_height,
    evenness,
    plants,
    root_mass,
    crowns
};
extern const Table table;
}  // namespace standing

namespace settings {
enum Column : std::size_t { id, supersedes, at, machine, field, answer, control, value, unit };
extern const Table table;
}  // namespace settings

namespace parts {
enum Column : std::size_t { id, supersedes, machine, at, stage, what };
extern const Table table;
}  // namespace parts

namespace covers {
enum Column : std::size_t { id, supersedes, pile, at, from, to, cover };
extern const Table table;
}  // namespace covers

namespace probes {
enum Column : std::size_t {
    id,
    supersedes,
    pile,
    at,
    probe,
    kind,
    along,
    across,
    height,
    temperature
};
extern const Table table;
}  // namespace probes

namespace removals {
enum Column : std::size_t { id, supersedes, pile, at, from, to, gross };
extern const Table table;
}  // namespace removals

namespace places {
enum Column : std::size_t { id, supersedes, field, at, of, spot, latitude, longitude, accuracy };
extern const Table table;
}  // namespace places

namespace constants {
enum Column : std::size_t { id, value, low, high, why };
extern const Table table;
}  // namespace constants

/// Every table, in the order in which they are read.
std::span<const Table* const> season_tables();
/// Those among them that hold observations.
std::span<const Table* const> observation_tables();

}  // namespace beetwright::io
