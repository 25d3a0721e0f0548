// Beet freezes over a range of temperatures: enthalpy, temperature and ice, each from the other.
//
// Juice freezes at `freezing` and grows stronger as its water turns to ice, which lowers its
// freezing point: the ice at T is the share 1 - freezing/T of all that can freeze (an ideal
// solution; it follows Tchigeov's figures for beet within 0.05 kg/kg). Then enthalpy and
// temperature are each a closed form of the other, and nothing jumps. A table was the alternative;
// it is slower in wide registers, and its corners stop Newton's steps. docs/methods/pile_heat.md.
#pragma once

#include <cmath>

namespace beetwright::pile {

inline constexpr double kMeltingHeat = 334e3;  ///< of ice [J/kg]

/// What a cell holds.
struct HeatContent {
    double warm = 0.0;       ///< heat capacity unfrozen [J/K]
    double frozen = 0.0;     ///< and frozen [J/K]
    double latent = 0.0;     ///< heat of all the ice it can hold [J]
    double freezing = -1.0;  ///< where ice begins [°C], below 0
};

/// 0 to 1: ice, of all that can freeze.
inline double ice_share(double celsius, double freezing) {
    return celsius < freezing ? 1.0 - freezing / celsius : 0.0;
}

/// [J], nought at 0 °C unfrozen.
inline double enthalpy(double celsius, const HeatContent& cell) {
    const double above = cell.warm * celsius;
    const double below = cell.warm * cell.freezing + cell.frozen * (celsius - cell.freezing) -
                         cell.latent * ice_share(celsius, cell.freezing);
    return celsius < cell.freezing ? below : above;
}

/// d enthalpy / d temperature [J/K].
inline double apparent_capacity(double celsius, const HeatContent& cell) {
    const double below = cell.frozen - cell.latent * cell.freezing / (celsius * celsius);
    return celsius < cell.freezing ? below : cell.warm;
}

/// [°C] of an enthalpy [J].
inline double temperature(double heat, const HeatContent& cell) {
    const double above = heat / cell.warm;
    // frozen T^2 - h T + latent freezing = 0, whose product of roots is not positive.
    const double h = heat + (cell.frozen - cell.warm) * cell.freezing + cell.latent;
    const double root = std::sqrt(h * h - 4.0 * cell.frozen * cell.latent * cell.freezing);
    const double below =
        h > 0.0 ? 2.0 * cell.latent * cell.freezing / (h + root) : 0.5 * (h - root) / cell.frozen;
    return heat < cell.warm * cell.freezing ? below : above;
}

}  // namespace beetwright::pile
