// Air that warmth alone moves through a bed: when it begins, and what it carries.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "pile/still_bed.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

constexpr FlowRules kTight{.most_steps = 20, .change = 1e-5, .tightness = 1e-8};
constexpr double kHumidCapacity = kAirCapacity + 0.005 * kVapourCapacity;
/// Between warm and cold [K]: small, so that density is in proportion to temperature.
constexpr double kSpan_K = 0.2;

/// A box of Darcy's law alone, of height 1, in which Ra = K rho g (d rho) H c / (mu k) holds with a
/// conductivity of 1.
struct Porous {
    StillBed body;

    Porous(std::size_t across, std::size_t up, double width, double rayleigh, bool walls_stand,
           bool top_is_open = false)
        : body(box(across, up, width, walls_stand, top_is_open), {.capacity = 1.0}, 0.0) {
        const double cold = air_density(-0.5 * kSpan_K, 0.0);
        const double warm = air_density(0.5 * kSpan_K, 0.0);
        const double middle = air_density(0.0, 0.0);
        const double permeability =
            rayleigh * kAirViscosity / (middle * kGravity * (cold - warm) * kHumidCapacity);
        for (std::size_t c = body.grid.box.begin(); c < body.grid.box.end(); ++c) {
            body.bed.inverse_permeability[c] = 1.0 / permeability;
            body.bed.inertia[c] = 0.0;
            body.state.humidity[c] = 0.0;
        }
        body.rules.kelvin = 1e-9;
        body.outside.density = middle;
        for (std::size_t s = 0; s < body.grid.sides.size(); ++s) {
            body.outside.sides[s] = {.heat_transfer = 1e12, .felt_C = 0.0};
        }
        body.outside.air_C = 0.0;
    }
    /// Walls left (warm) and right, or floor (warm) and lid.
    static Grid box(std::size_t across, std::size_t up, double width, bool walls_stand,
                    bool top_is_open) {
        Grid grid = make_rectangle(across, up, width / static_cast<double>(across),
                                   1.0 / static_cast<double>(up));
        add_facets(grid, walls_stand ? Direction::across : Direction::up, false);
        add_facets(grid, walls_stand ? Direction::across : Direction::up, true);
        const std::size_t low = grid.cut_side(Direction::across, false);
        for (auto& facet : grid.facets) {
            facet.is_open = top_is_open && facet.side != low;
        }
        return grid;
    }
    [[nodiscard]] std::size_t warm_side() const {
        return body.grid.cut_side(Direction::across, false);
    }
    void set_walls() {
        for (std::size_t s = 0; s < body.grid.sides.size(); ++s) {
            body.outside.sides[s].felt_C = s == warm_side() ? 0.5 * kSpan_K : -0.5 * kSpan_K;
        }
        // What blows in through an open lid is as cold as the lid.
        body.outside.air_C = -0.5 * kSpan_K;
        body.outside.density = air_density(-0.5 * kSpan_K, 0.0);
    }
    bool flow() {
        const bool stands =
            body.airflow
                .update(body.state.celsius, body.state.humidity,
                        {body.outside.density, body.outside.wind_Pa, body.outside.cover_air}, {},
                        kTight)
                .stands;
        body.step.follow(body.airflow);
        return stands;
    }
    /// Heat from the warm wall, of what would go through without flow.
    [[nodiscard]] double nusselt(double width) const {
        double sum = 0.0;
        for (const auto& facet : body.grid.facets) {
            if (facet.side == warm_side()) {
                sum += facet.area / facet.depth * (0.5 * kSpan_K - body.state.celsius[facet.cell]);
            }
        }
        return sum * width / kSpan_K;
    }
};

double cavity_nusselt(std::size_t n, double rayleigh) {
    Porous cavity(n, n, 1.0, rayleigh, true);
    cavity.set_walls();
    double last = 0.0;
    for (int step = 0; step < 2000; ++step) {
        EXPECT_TRUE(cavity.flow());
        EXPECT_TRUE(cavity.body.run(2.0 / rayleigh, 1));
        const double now = cavity.nusselt(1.0);
        if (step > 50 && std::abs(now - last) < 2e-6 * now) {
            return now;
        }
        last = now;
    }
    ADD_FAILURE() << "does not come to rest";
    return last;
}

// Side-heated square, adiabatic above and below. Second order: two grids give the third.
TEST(Convection, SideHeatedCavity) {
    struct Row {
        double rayleigh, nusselt;
    };
    for (const auto& row :
         {Row{10, 1.0791}, Row{50, 1.9841}, Row{100, 3.1113}, Row{200, 4.9733}, Row{500, 8.99}}) {
        const double coarse = cavity_nusselt(24, row.rayleigh);
        const double fine = cavity_nusselt(48, row.rayleigh);
        const double led_on = fine + (fine - coarse) / 3.0;
        EXPECT_NEAR(led_on, row.nusselt, 0.006 * row.nusselt)
            << row.rayleigh << ": " << coarse << ' ' << fine;
        RecordProperty("Ra" + std::to_string(static_cast<int>(row.rayleigh)),
                       std::to_string(led_on));
    }
}

/// By how much a small roll grows per time [1/s], of the width that grows first.
double growth(std::size_t up, double rayleigh, double width, bool top_is_open) {
    const auto across = static_cast<std::size_t>(std::lround(static_cast<double>(up) * width));
    Porous box(across, up, width, rayleigh, false, top_is_open);
    box.set_walls();
    const auto& grid = box.body.grid;
    const auto still = [&](std::size_t c) { return kSpan_K * (0.5 - grid.centre[2][c]); };
    for (std::size_t c = grid.box.begin(); c < grid.box.end(); ++c) {
        const double roll = std::cos(std::numbers::pi * grid.centre[0][c] / width) *
                            std::sin(std::numbers::pi * grid.centre[2][c]);
        box.body.set_celsius(c, still(c) + 1e-4 * kSpan_K * roll);
    }
    const auto size = [&] {
        double sum = 0.0;
        for (std::size_t c = grid.box.begin(); c < grid.box.end(); ++c) {
            sum += std::pow(box.body.state.celsius[c] - still(c), 2);
        }
        return std::sqrt(sum);
    };
    double before = 0.0;
    constexpr double kStep = 0.005;
    constexpr int kSteps = 80;
    for (int n = 0; n < 2 * kSteps; ++n) {
        before = n == kSteps ? size() : before;
        EXPECT_TRUE(box.flow());
        EXPECT_TRUE(box.body.run(kStep, 1));
    }
    return std::log(size() / before) / (kStep * kSteps);
}

/// Where growth is nought, between two strengths.
double onset(std::size_t up, double low, double high, double width, bool top_is_open) {
    const double at_low = growth(up, low, width, top_is_open);
    const double at_high = growth(up, high, width, top_is_open);
    EXPECT_LT(at_low, 0.0);
    EXPECT_GT(at_high, 0.0);
    return low - at_low * (high - low) / (at_high - at_low);
}

// Horton, Rogers and Lapwood: 4 pi^2 = 39.478 in rolls as wide as high, between closed isothermal
// floor and lid.
TEST(Convection, BeginsUnderAClosedLid) {
    const double coarse = onset(16, 37.0, 43.0, 1.0, false);
    const double fine = onset(32, 37.0, 43.0, 1.0, false);
    const double led_on = fine + (fine - coarse) / 3.0;
    EXPECT_NEAR(led_on, 39.4784176, 0.4) << coarse << ' ' << fine;
    RecordProperty("onset", std::to_string(led_on));
}

// And 27.098 in rolls of pi / 2.32 under a lid that lets air through.
TEST(Convection, BeginsUnderAnOpenLid) {
    const double width = std::numbers::pi / 2.32;
    const double coarse = onset(16, 25.0, 30.0, width, true);
    const double fine = onset(32, 25.0, 30.0, width, true);
    const double led_on = fine + (fine - coarse) / 3.0;
    EXPECT_NEAR(led_on, 27.09779, 0.5) << coarse << ' ' << fine;
    RecordProperty("onset", std::to_string(led_on));
}

}  // namespace
}  // namespace beetwright::pile
