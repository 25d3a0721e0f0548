// What a pile is like at an instant, and what passed through it on the way there.
#pragma once

#include "pile/health.hpp"

namespace beetwright::pile {

struct State {
    num::Field heat;            ///< enthalpy of each cell [J], nought at 0 °C unfrozen
    num::Field celsius;         ///< of beet and its air
    num::Field air_celsius{};   ///< of the air alone, in runs of two temperatures; else empty
    num::Field humidity;        ///< of the air in its pores [kg/kg]
    num::Field carbon_dioxide;  ///< beyond that of the outside air [kg/kg]
    num::Field film;            ///< adhering water [kg]
    num::Field dried;           ///< water that beets have given off [kg]
    Health health;

    explicit State(const num::Box& box)
        : heat(box.field()),
          celsius(box.field()),
          humidity(box.field(0.0045)),
          carbon_dioxide(box.field()),
          film(box.field()),
          dried(box.field()),
          health(box) {}
};

/// Sums over the time since a run began. What came in less what went out is what is held now less
/// what was held then: tests hold that to 1e-9 of what passed.
struct Balance {
    // Heat [J] that came in, by its way; what left counts negative.
    double through_faces = 0.0;  ///< air's warmth, sun and sky through the surface
    double by_air = 0.0;         ///< carried by what blew through, without its vapour's
    double from_ground = 0.0;    ///< from below the lowest layer
    double by_rain = 0.0;
    double breathed = 0.0;    ///< heat of breathing
    double evaporated = 0.0;  ///< taken up by what evaporated within (positive: lost)
    double piled = 0.0;       ///< with beet put there, less that taken away
    // Water [kg].
    double vapour_in = 0.0;  ///< with the air
    double rain_in = 0.0;
    double drained = 0.0;      ///< into the ground (positive: lost)
    double piled_water = 0.0;  ///< film and vapour with beet put there, less that taken away
    double dried = 0.0;        ///< given off by beets, into air or film
    // Carbon dioxide [kg] and sugar [kg].
    double carbon_dioxide_in = 0.0;  ///< with the air; mostly negative
    double carbon_dioxide_made = 0.0;
    double piled_carbon_dioxide = 0.0;
    double sugar_lost = 0.0;    ///< breathed
    double sugar_spoilt = 0.0;  ///< with tissue that frost killed
    // What passed, for scale: sums of sizes.
    double heat_passed = 0.0;
    double water_passed = 0.0;
};

}  // namespace beetwright::pile
