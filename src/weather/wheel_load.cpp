#include "weather/wheel_load.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <vector>

namespace beetwright::weather {
namespace {

constexpr int kAcross = 48;  ///< cells over half a width
constexpr int kAlong = 96;   ///< cells over half a length

/// A small part of a footprint, and what presses there, if it is scaled by nothing [kPa].
struct Cell {
    double along_m;
    double across_m;
    double area_m2;
    double beside;   ///< stress where the tyre is longest, by the place across it [kPa]
    double forward;  ///< how far from the middle to the outline, 0 to 1
};

/// The quarter of a footprint, which stands for all four.
std::vector<Cell> quarter(const Tyre& tyre, const Footprint& print) {
    std::vector<Cell> cells;
    cells.reserve(static_cast<std::size_t>(kAcross) * kAlong);
    // From the tyre's edge inward stress follows u e^(-decay u), u in metres, and is the most that
    // there is where that is largest (equation 6).
    const auto shape = [&](double u_m) { return u_m * std::exp(-print.decay * u_m); };
    const double half_width = 0.5 * tyre.width_m;
    const double largest = shape(std::min(half_width, 1.0 / std::max(print.decay, 1e-9)));
    const double step_across = half_width / kAcross;
    for (int i = 0; i < kAcross; ++i) {
        const double across = (i + 0.5) * step_across;
        const double rest = 1.0 - std::pow(across / half_width, print.exponent);
        const double half_length = 0.5 * print.length_m * std::pow(rest, 1.0 / print.exponent);
        const double step_along = half_length / kAlong;
        const double beside = print.most_stress_kPa * shape(half_width - across) / largest;
        for (int k = 0; k < kAlong; ++k) {
            const double along = (k + 0.5) * step_along;
            cells.push_back({along, across, step_along * step_across, beside, along / half_length});
        }
    }
    return cells;
}

/// In driving direction stress falls as 1 - share^along (equation 5).
double stress_at(const Cell& cell, double along) {
    return cell.beside * (1.0 - std::pow(cell.forward, along));
}

double load_of(std::span<const Cell> cells, double along) {
    double sum_kN = 0.0;
    for (const Cell& cell : cells) {
        sum_kN += stress_at(cell, along) * cell.area_m2;
    }
    return 4.0 * 1000.0 * sum_kN;
}

}  // namespace

double stress_under_circle(double pressure, double radius_m, double depth_m, double concentration) {
    const double cosine = depth_m / std::hypot(depth_m, radius_m);
    return pressure * (1.0 - std::pow(cosine, concentration));
}

double stress_under_point(double load_N, double depth_m, double aside_m, double concentration) {
    const double square = depth_m * depth_m + aside_m * aside_m;
    const double cosine = depth_m / std::sqrt(square);
    return concentration * load_N / (2.0 * std::numbers::pi * square) *
           std::pow(cosine, concentration);
}

Footprint footprint(const Tyre& tyre) {
    Footprint print;
    const double inflated = std::log(tyre.pressure_kPa / tyre.recommended_pressure_kPa);
    const double size_m2 = tyre.width_m * tyre.diameter_m;
    print.most_stress_kPa =
        34.4 + 1.13 * tyre.pressure_kPa + 0.72 * tyre.load_N / 1000.0 - 33.4 * inflated;
    print.length_m = 0.47 + 0.11 * tyre.diameter_m * tyre.diameter_m - 0.16 * inflated;
    print.exponent = 2.1 * size_m2 * size_m2 + 2.0;
    print.decay = 9.3 - 7.3 * tyre.width_m;
    const auto cells = quarter(tyre, print);
    for (const Cell& cell : cells) {
        print.area_m2 += 4.0 * cell.area_m2;
    }
    // The fall along the tyre is as steep as bears the load, within what was seen on tyres.
    constexpr double kSteepest = 1.0;
    constexpr double kFlattest = 50.0;
    double low = kSteepest;
    double high = kFlattest;
    for (int k = 0; k < 60; ++k) {
        const double middle = 0.5 * (low + high);
        (load_of(cells, middle) < tyre.load_N ? low : high) = middle;
    }
    print.along = 0.5 * (low + high);
    print.modelled_load_N = load_of(cells, print.along);
    return print;
}

double stress_under_tyre_kPa(const Tyre& tyre, double depth_m, double concentration) {
    return stress_under_tyre_kPa(tyre, footprint(tyre), depth_m, concentration);
}

double stress_under_tyre_kPa(const Tyre& tyre, const Footprint& print, double depth_m,
                             double concentration) {
    const double scale = tyre.load_N / print.modelled_load_N;
    double sum_Pa = 0.0;
    for (const Cell& cell : quarter(tyre, print)) {
        const double load_N = 4.0 * 1000.0 * scale * stress_at(cell, print.along) * cell.area_m2;
        sum_Pa += stress_under_point(load_N, depth_m, std::hypot(cell.along_m, cell.across_m),
                                     concentration);
    }
    return sum_Pa / 1000.0;
}

double precompression_kPa(double clay, double suction_kPa) {
    struct Row {
        double below_clay, factor, power;
    };
    constexpr std::array kRows{Row{0.20, 129.0, 0.15}, Row{0.31, 123.3, 0.13},
                               Row{0.37, 85.0, 0.17}, Row{0.52, 70.1, 0.16}, Row{1.01, 62.7, 0.15}};
    const auto row = std::ranges::find_if(kRows, [&](const Row& r) { return clay < r.below_clay; });
    return row->factor * std::pow(suction_kPa, row->power);
}

Bearing bearing(double stress_kPa, double strength_kPa) {
    const double ratio = stress_kPa / strength_kPa;
    if (ratio < 0.5) {
        return Bearing::fine;
    }
    return ratio <= 1.1 ? Bearing::careful : Bearing::wait;
}

}  // namespace beetwright::weather
