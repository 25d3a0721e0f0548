// What a pile's sides meet at an hour: the weather as each of them feels it, and its cover.
// docs/methods/pile_faces.md.
#pragma once

#include <span>
#include <vector>

#include "pile/grid.hpp"
#include "pile/lot.hpp"

namespace beetwright::pile {

/// An hour of weather at the pile. What falls on each side depends on the sun, which whoever joins
/// weather and pile works out (engine/pile_weather.hpp).
struct WeatherHour {
    double air_C = 5.0;
    double humidity = 0.0045;  ///< [kg/kg dry air]
    double wind = 0.0;         ///< at 10 m [m/s]
    double wind_from = 4.712;  ///< [rad] from north through east; west, where nobody knows
    double rain_mm = 0.0;
    double sky_W_m2 = 300.0;       ///< infra-red onto the level
    std::vector<double> sun_W_m2;  ///< onto each side of the grid; empty: none
    double deep_ground_C = 9.0;    ///< below the lowest layer of ground
    double coming_low_C = 1e9;     ///< of the night to come, as forecast; 1e9: nobody says
    double snow_m = 0.0;           ///< lying on the level
};

/// What lies on a side.
struct Cover {
    double resistance = 0.0;  ///< to heat [m2 K/W]
    double air = 0.0;         ///< to air [Pa s m2/kg]
    double spread = 0.0;      ///< to vapour that spreads through it [m2 s/kg]; negative: tight
    double rain = 1.0;        ///< share that passes
    double absorptance = 0.0;
    double open = 0.0;  ///< share of the side that is left bare, as strips
};

Cover no_cover(const PileConstants& constants);
Cover fleece(const PileConstants& constants);
Cover straw(const PileConstants& constants, Length thickness);
Cover plastic(const PileConstants& constants);
Cover straw_under_fleece(const PileConstants& constants, Length thickness);
Cover straw_under_plastic(const PileConstants& constants, Length thickness);
/// A cover with strips of its side left open.
Cover split(const Cover& cover, double open_share);

/// By side, ready for the loops over facets.
struct SideOutside {
    double heat_transfer = 0.0;  ///< of the outermost surface to the air, radiation with it
    double felt_C = 0.0;         ///< air temperature that would warm it as air, sun and sky do
    double resistance = 0.0;     ///< of the cover [m2 K/W]
    double spread = 0.0;         ///< vapour's way through cover and air's skin [kg/m2/s]
    double rain = 0.0;           ///< [kg/s] per m2 of level ground
};

struct Outside {
    double air_C = 0.0;
    double humidity = 0.0;
    double density = 0.0;  ///< of humid air
    double deep_ground_C = 0.0;
    std::vector<SideOutside> sides;
    std::vector<double> wind_Pa;
    std::vector<double> cover_air;  ///< [Pa s m2/kg]
};

/// `covers` by side of the grid; empty: bare.
void set_outside(Outside& outside, const WeatherHour& hour, std::span<const ShapeSide> sides,
                 std::span<const Cover> covers, const PileConstants& constants);

}  // namespace beetwright::pile
