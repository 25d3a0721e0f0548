#include "pile/step_loops.hpp"

#include <cmath>

#include "num/exponential.hpp"
#include "num/lanes.hpp"
#include "num/wide.hpp"
#include "pile/freezing.hpp"

namespace beetwright::pile::loops {
namespace {

/// Cells that are asked at once whether one of them is frozen.
constexpr std::size_t kRow = 64;

}  // namespace

BEETWRIGHT_WIDE
void conductivities(std::size_t begin, std::size_t end, const double* celsius,
                    const double* freezing, const double* still, const double* ice_adds,
                    const double* radiation, double* conductivity) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double t = celsius[i];
        const double ice = t < freezing[i] ? 1.0 - freezing[i] / t : 0.0;
        const double hundreds = 0.01 * (t + kZeroCelsius);
        conductivity[i] =
            still[i] + ice_adds[i] * ice + radiation[i] * hundreds * hundreds * hundreds;
    }
}

BEETWRIGHT_WIDE
void conductances(std::size_t begin, std::size_t end, std::size_t stride, const double* reach,
                  const double* k, double* conductance) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double sum = k[i] + k[i + stride] + 1e-30;
        conductance[i] = 2.0 * reach[i] * k[i] * k[i + stride] / sum;
    }
}

BEETWRIGHT_WIDE
void temperatures(std::size_t begin, std::size_t end, const HeatFields& f, const double* heat,
                  double* celsius) {
    for (std::size_t from = begin; from < end; from += kRow) {
        const std::size_t to = from + kRow < end ? from + kRow : end;
        double frozen_cells = 0.0;
        BEETWRIGHT_APART
        for (std::size_t i = from; i < to; ++i) {
            celsius[i] = heat[i] / f.warm[i];
        }
        for (std::size_t i = from; i < to; ++i) {
            frozen_cells = heat[i] < f.warm[i] * f.freezing[i] ? 1.0 : frozen_cells;
        }
        if (frozen_cells > 0.0) {
            BEETWRIGHT_APART
            for (std::size_t i = from; i < to; ++i) {
                celsius[i] =
                    temperature(heat[i], {f.warm[i], f.frozen[i], f.latent[i], f.freezing[i]});
            }
        }
    }
}

BEETWRIGHT_WIDE
void exponentials(std::size_t begin, std::size_t end, double growth, const double* celsius,
                  double* pace, double* saturation) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        pace[i] = num::exponential(growth * (celsius[i] - 5.0));
        saturation[i] = saturation_Pa(celsius[i]);
    }
}

BEETWRIGHT_WIDE
void sources(std::size_t begin, std::size_t end, double per_second, const SourceFields& f) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double breath = f.at_5C[i] * f.pace[i];
        const double evaporation =
            f.held[i] * per_second * (f.humidity[i] - f.humidity_before[i]) - f.vapour_net[i];
        f.breath[i] = breath;
        f.evaporation[i] = evaporation;
        f.net[i] = breath + f.extra[i] + f.rain[i] - kEvaporation * evaporation;
    }
}

BEETWRIGHT_WIDE
void shares(std::size_t begin, std::size_t end, double seconds, const double* fixed,
            const double* warm, const double* frozen, double* per_share) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double capacity = warm[i] < frozen[i] ? warm[i] : frozen[i];
        const double exchanges = seconds * fixed[i] / capacity;
        const double fast = exchanges > 2.0 ? exchanges : 2.0;
        per_share[i] = fast / ((fast - 1.0) * seconds);
    }
}

BEETWRIGHT_WIDE
void scale(std::size_t begin, std::size_t end, double by, const double* v, double* into) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        into[i] = by * v[i];
    }
}

BEETWRIGHT_WIDE
void lead_by(std::size_t begin, std::size_t end, double by, const double* v, const double* add,
             double* into) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        into[i] = v[i] + by * add[i];
    }
}

BEETWRIGHT_WIDE
void scale_and_add(std::size_t begin, std::size_t end, double by, const double* v, double* into,
                   double* sum) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        into[i] = by * v[i];
        sum[i] += into[i];
    }
}

BEETWRIGHT_WIDE
void add_products(std::size_t begin, std::size_t end, const double* a, const double* b,
                  double* sum) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] += a[i] * b[i];
    }
}

BEETWRIGHT_WIDE
void heat_ways(std::size_t begin, std::size_t end, std::size_t stride, const WayFields& f) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double heat_below = f.heat_flow[i - stride];
        const double heat_above = f.heat_flow[i];
        const double air_below = f.air_flow[i - stride];
        const double air_above = f.air_flow[i];
        const double spread_low = f.spread[i - stride];
        const double spread_high = f.spread[i];
        const double moist_low = f.keeps[i] * f.rise[i - stride];
        const double moist_high = f.keeps[i] * f.rise[i + stride];
        f.from_low[i] = spread_low + (heat_below > 0.0 ? heat_below : 0.0) +
                        moist_low * (air_below > 0.0 ? air_below : 0.0);
        f.from_high[i] = spread_high + (heat_above < 0.0 ? -heat_above : 0.0) +
                         moist_high * (air_above < 0.0 ? -air_above : 0.0);
        f.out[i] += spread_low + spread_high + (heat_below < 0.0 ? -heat_below : 0.0) +
                    (heat_above > 0.0 ? heat_above : 0.0);
    }
}

BEETWRIGHT_WIDE
void transfers(std::size_t begin, std::size_t end, double diameter, const double* speed,
               const double* surface, double* transfer) {
    constexpr double kPrandtlThird = 0.894;  // 0.715^(1/3)
    const double per_viscosity = diameter / kAirViscosity;
    const double still = kAirConductivity / diameter * kVapourPerHeat;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double reynolds = speed[i] * per_viscosity + 1e-12;
        const double power = num::exponential(0.6 * num::logarithm(reynolds));
        transfer[i] = surface[i] * still * (2.0 + 1.1 * kPrandtlThird * power);
    }
}

namespace {

inline void newton_rows_of(std::size_t begin, std::size_t end, double growth,
                           const NewtonFields& f) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double capacity = f.capacity[i];
        const double right = f.net[i] - (f.heat[i] - f.heat_before[i]) * f.per_share[i];
        const double diagonal =
            capacity * f.per_share[i] + f.fixed[i] + f.latent_slope[i] - growth * f.breath[i];
        const double per = 1.0 / diagonal;
        f.right[i] = right;
        f.per_diagonal[i] = per;
        f.rest[i] = right * per;
    }
}

/// Apparent capacities. Where nothing is frozen in a row of cells, what ice would do is not
/// reckoned.
inline void capacities(std::size_t begin, std::size_t end, const HeatFields& heats,
                       const double* celsius, double* capacity) {
    double frozen_cells = 0.0;
    for (std::size_t i = begin; i < end; ++i) {
        capacity[i] = heats.warm[i];
        frozen_cells = celsius[i] < heats.freezing[i] ? 1.0 : frozen_cells;
    }
    if (frozen_cells == 0.0) {
        return;
    }
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double t = celsius[i];
        const double freezing = heats.freezing[i];
        const double below = heats.frozen[i] - heats.latent[i] * freezing / (t * t + 1e-300);
        capacity[i] = t < freezing ? below : heats.warm[i];
    }
}

/// The greatest sizes and the sums of sizes, in lanes.
inline void add_sizes(std::size_t begin, std::size_t end, const double* v, double* most,
                      double* sums) {
    std::size_t i = begin;
    for (; i + num::kLanes <= end; i += num::kLanes) {
        for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
            const double size = v[i + lane] < 0.0 ? -v[i + lane] : v[i + lane];
            sums[lane] += size;
            most[lane] = size > most[lane] ? size : most[lane];
        }
    }
    for (; i < end; ++i) {
        const double size = v[i] < 0.0 ? -v[i] : v[i];
        sums[0] += size;
        most[0] = size > most[0] ? size : most[0];
    }
}

}  // namespace

BEETWRIGHT_WIDE
double newton_rows(std::size_t begin, std::size_t end, double growth, const HeatFields& heats,
                   const NewtonFields& f) {
    double most[num::kLanes] = {};
    double sums[num::kLanes] = {};
    for (std::size_t from = begin; from < end; from += kRow) {
        const std::size_t to = from + kRow < end ? from + kRow : end;
        capacities(from, to, heats, f.celsius, f.capacity);
        newton_rows_of(from, to, growth, f);
        add_sizes(from, to, f.rest, most, sums);
    }
    // A maximum passes over what is not a number; a sum does not.
    const double sum = num::sum_of_lanes(sums);
    return std::isfinite(sum) ? num::greatest_of_lanes(most) : sum;
}

BEETWRIGHT_WIDE
SourceSums source_sums(std::size_t begin, std::size_t end, const double* breath,
                       const double* evaporation) {
    double breaths[num::kLanes] = {};
    double evaporations[num::kLanes] = {};
    double sizes[num::kLanes] = {};
    std::size_t i = begin;
    for (; i + num::kLanes <= end; i += num::kLanes) {
        for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
            const double water = evaporation[i + lane];
            breaths[lane] += breath[i + lane];
            evaporations[lane] += water;
            sizes[lane] += water < 0.0 ? -water : water;
        }
    }
    for (; i < end; ++i) {
        breaths[0] += breath[i];
        evaporations[0] += evaporation[i];
        sizes[0] += evaporation[i] < 0.0 ? -evaporation[i] : evaporation[i];
    }
    return {.breath = num::sum_of_lanes(breaths),
            .evaporation = num::sum_of_lanes(evaporations),
            .evaporation_size = num::sum_of_lanes(sizes)};
}

}  // namespace beetwright::pile::loops
