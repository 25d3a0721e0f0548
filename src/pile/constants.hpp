// The constants of a pile's physics, of one draw, in SI. Biology's are those of the lump.
// Where each comes from: data/catalogue/pile.csv.
#pragma once

#include "base/catalogue.hpp"
#include "pile/lump.hpp"

namespace beetwright::pile {

struct PileConstants {
    LumpConstants lump;
    // What is piled. [kg/m3], [m], [W/m/K]
    double bulk_density = 0.0;
    double root_density = 0.0;
    double root_diameter = 0.0;
    double root_conductivity = 0.0;
    double soil_density = 0.0;
    double leaf_density = 0.0;
    // Heat. [J/kg/K], [kg/kg], [W/m/K], [J/m3/K]
    double heat_capacity = 0.0;
    double frozen_heat_capacity = 0.0;
    double freezing_water = 0.0;
    double still_conductivity = 0.0;
    double frozen_conductivity = 0.0;
    double pore_radiation = 0.0;
    double ground_conductivity = 0.0;
    double ground_capacity = 0.0;
    // Water. [kg/m2/s/Pa], [kg/m3]
    double skin_transfer = 0.0;
    double water_activity = 0.0;
    double wound_transpiration = 0.0;
    double film = 0.0;
    // Faces. [W/m2/K], [J/m3/K]
    double absorptance = 0.0;
    double emissivity = 0.0;
    double face_convection = 0.0;
    double face_convection_wind = 0.0;
    double wind_share = 0.0;
    double wind_windward = 0.0;
    double wind_lee = 0.0;
    double wind_top = 0.0;
    // Covers. [m2 K/W], [Pa s m2/kg], [W/m/K]
    double fleece_resistance = 0.0;
    double fleece_air = 0.0;
    double fleece_rain = 0.0;
    double straw_conductivity = 0.0;
    double straw_air = 0.0;  ///< per m of straw
    double straw_rain = 0.0;
    double plastic_air = 0.0;
    double sheet_absorptance = 0.0;
    double snow_conductivity = 1.0;
    double snow_absorptance = 0.0;
    double snow_air = 0.0;  ///< per m of snow
    // Invert sugar and sprouts. [kg/kg/d], [°C]
    double invert_rate = 0.0;
    double invert_steeper = 0.0;
    double sprout_rate = 0.0;
    double sprout_base_C = 0.0;
    // Wounds: what healing is worth at other temperatures, and how far it must go until they hold
    // water back. [1], [°C], [1]
    double healing_q10 = 1.0;
    double healing_middle_C = 8.0;
    double closed_at = 0.01;
    double spoil_rate = 0.0;  ///< of tissue that frost killed [1/d]
    // What bounds breathing. [mol/mol], [°C]
    double oxygen_half = 0.0;
    double heat_full_C = 0.0;
    double heat_end_C = 0.0;
};

template <class Get>
PileConstants pile_constants(Get&& get) {
    using enum ConstantId;
    return {.lump = lump_constants(get),
            .bulk_density = get(pile_bulk_density),
            .root_density = get(pile_root_density),
            .root_diameter = get(pile_root_diameter),
            .root_conductivity = get(pile_root_conductivity),
            .soil_density = get(pile_soil_density),
            .leaf_density = get(pile_leaf_density),
            .heat_capacity = get(pile_heat_capacity),
            .frozen_heat_capacity = get(pile_frozen_heat_capacity),
            .freezing_water = get(pile_freezing_water),
            .still_conductivity = get(pile_still_conductivity),
            .frozen_conductivity = get(pile_frozen_conductivity),
            .pore_radiation = get(pile_pore_radiation),
            .ground_conductivity = get(pile_ground_conductivity),
            .ground_capacity = get(pile_ground_capacity),
            .skin_transfer = get(pile_skin_transfer),
            .water_activity = get(pile_water_activity),
            .wound_transpiration = get(pile_wound_transpiration),
            .film = get(pile_film),
            .absorptance = get(pile_absorptance),
            .emissivity = get(pile_emissivity),
            .face_convection = get(pile_face_convection),
            .face_convection_wind = get(pile_face_convection_wind),
            .wind_share = get(pile_wind_share),
            .wind_windward = get(pile_wind_windward),
            .wind_lee = get(pile_wind_lee),
            .wind_top = get(pile_wind_top),
            .fleece_resistance = get(pile_fleece_resistance),
            .fleece_air = get(pile_fleece_air),
            .fleece_rain = get(pile_fleece_rain),
            .straw_conductivity = get(pile_straw_conductivity),
            .straw_air = get(pile_straw_air),
            .straw_rain = get(pile_straw_rain),
            .plastic_air = get(pile_plastic_air),
            .sheet_absorptance = get(pile_sheet_absorptance),
            .snow_conductivity = get(pile_snow_conductivity),
            .snow_absorptance = get(pile_snow_absorptance),
            .snow_air = get(pile_snow_air),
            .invert_rate = get(pile_invert_rate) * unit::day.si(),
            .invert_steeper = get(pile_invert_steeper),
            .sprout_rate = get(pile_sprout_rate),
            .sprout_base_C = get(pile_sprout_base) - 273.15,
            .healing_q10 = get(pile_healing_q10),
            .healing_middle_C = get(pile_healing_middle) - 273.15,
            .closed_at = get(pile_closed_at),
            .spoil_rate = get(pile_spoil_rate),
            .oxygen_half = get(pile_oxygen_half),
            .heat_full_C = get(pile_heat_full) - 273.15,
            .heat_end_C = get(pile_heat_end) - 273.15};
}

}  // namespace beetwright::pile
