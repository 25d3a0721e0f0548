// The flow against Ergun's law by hand, against its own balance, and against estimates by hand.
#include "pile/airflow.hpp"

#include <gtest/gtest.h>

#include <numeric>

#include "pile/beds.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

constexpr FlowRules kTight{.most_steps = 60, .change = 1e-7, .tightness = 1e-9};

/// Ergun at 5 °C: mu 1.74e-5 Pa s, rho 1.268 kg/m3.
double pressure_drop(const Resistance& r, double u, double viscosity, double density) {
    return viscosity * u * r.inverse_permeability + density * u * u * r.inertia;
}

// A published worked example [V, recomputed C]: water through 3 mm grains of sphericity 0.9,
// porosity 0.4.
TEST(Ergun, WorkedExampleInWater) {
    const auto r = ergun(0.9 * 0.003, 0.4);
    EXPECT_NEAR(pressure_drop(r, 0.06, 1e-3, 1000.0), 28819.44, 0.01);
    EXPECT_NEAR(1.2 * pressure_drop(r, 0.06, 1e-3, 1000.0), 34583.33, 0.01);
    EXPECT_NEAR(1.2 * pressure_drop(r, 0.12, 1e-3, 1000.0), 121666.67, 0.01);
    EXPECT_NEAR(1.2 * pressure_drop(r, 0.18, 1e-3, 1000.0), 261250.0, 0.01);
}

// Worked out from the law at 5 °C [C], to four digits.
TEST(Ergun, AirTable) {
    struct Row {
        double diameter, porosity;
        std::array<double, 7> Pa_per_m;
    };
    constexpr std::array speeds{.005, .01, .02, .05, .1, .2, .5};
    for (const auto& row : {Row{.10, .42, {.01027, .02922, .09319, .4935, 1.856, 7.186, 44.02}},
                            Row{.12, .42, {.00773, .02271, .07436, .4031, 1.530, 5.955, 36.60}},
                            Row{.10, .36, {.01907, .05335, .1676, .8755, 3.273, 12.63, 77.24}},
                            Row{.08, .40, {.01797, .04894, .1499, .7648, 2.830, 10.86, 66.16}}}) {
        const auto r = ergun(row.diameter, row.porosity);
        for (std::size_t i = 0; i < speeds.size(); ++i) {
            EXPECT_NEAR(pressure_drop(r, speeds[i], 1.74e-5, 1.268), row.Pa_per_m[i],
                        6e-4 * row.Pa_per_m[i]);
        }
    }
}

struct Passage {
    Grid grid;
    Bed bed;
    num::Field celsius, humidity;
    std::vector<double> wind, cover;
    double density = air_density(5.0, 0.004);

    explicit Passage(Grid of, const Lot& lot = {})
        : grid(std::move(of)),
          bed(bed_of(grid, lot)),
          celsius(grid.box.field(5.0)),
          humidity(grid.box.field(0.004)),
          wind(grid.sides.size(), 0.0),
          cover(grid.sides.size(), 0.0) {}

    [[nodiscard]] AirOutside outside() const { return {density, wind, cover}; }
};

// Wind that presses on one end: the flow is Ergun's for that pressure drop.
TEST(Airflow, BetweenTwoOpenEndsIsErguns) {
    Grid grid = make_rectangle(12, 8, 0.3, 0.2);
    add_facets(grid, Direction::across, false);
    add_facets(grid, Direction::across, true);
    Passage p(std::move(grid));
    const double drop_Pa = 1.3;
    p.wind[p.grid.cut_side(Direction::across, false)] = drop_Pa;
    Airflow flow(p.grid.box);
    flow.lay(p.bed, p.grid);
    ASSERT_TRUE(flow.update(p.celsius, p.humidity, p.outside(), {}, kTight).stands);
    const std::size_t middle = p.grid.box.index(6, 0, 4);
    const double speed = flow.speed()[middle];
    const Resistance r{p.bed.inverse_permeability[middle], p.bed.inertia[middle]};
    EXPECT_NEAR(12 * 0.3 * pressure_drop(r, speed / p.density, kAirViscosity, p.density), drop_Pa,
                1e-6);
    EXPECT_LT(flow.greatest_rest(), 1e-14 * flow.throughput());
}

// By hand [C]: d 0.10 m, porosity 0.42, 5 K: Darcy alone 0.187 m/s, with the second term
// 0.0325 m/s. A chimney of beet 5 K warmer than outside, open below and above.
TEST(Airflow, ChimneyOfWarmBeetIsNotDarcys) {
    Grid grid = make_rectangle(4, 30, 0.1, 0.1);
    add_facets(grid, Direction::up, true);
    add_facets(grid, Direction::up, false);
    Passage p(std::move(grid));
    const auto r = ergun(0.10, 0.42);
    std::ranges::fill(p.bed.inverse_permeability, r.inverse_permeability);
    std::ranges::fill(p.bed.inertia, r.inertia);
    std::ranges::fill(p.celsius, 10.0);
    Airflow flow(p.grid.box);
    flow.lay(p.bed, p.grid);
    ASSERT_TRUE(flow.update(p.celsius, p.humidity, p.outside(), {}, kTight).stands);
    const std::size_t middle = p.grid.box.index(1, 0, 15);
    const double rho = air_density(10.0, 0.004);
    const double with_inertia = flow.speed()[middle] / rho;
    EXPECT_NEAR(with_inertia, 0.0325, 0.0015);
    std::ranges::fill(p.bed.inertia, 0.0);
    ASSERT_TRUE(flow.update(p.celsius, p.humidity, p.outside(), {}, kTight).stands);
    EXPECT_NEAR(flow.speed()[middle] / rho, 0.187, 0.012);
}

Passage whole_pile() {
    const Shape shape{.width = Length(20.0),
                      .height = Length(4.0),
                      .top_width = Length(9.0),
                      .length = Length(30.0)};
    return Passage(*make_grid(shape, {}));
}

// Warm beet under cool air with wind from one side: air enters by the windward flank and leaves by
// the top; nothing is left anywhere to rounding, even when the pressure is solved coarsely.
TEST(Airflow, LeavesNothingAnywhere) {
    auto p = whole_pile();
    for (std::size_t i = p.grid.box.begin(); i < p.grid.box.end(); ++i) {
        p.celsius[i] = 9.0 + 2.0 * std::sin(0.01 * static_cast<double>(i));
    }
    p.wind[0] = 3.0;
    p.wind[1] = -1.5;
    p.wind[2] = -2.5;
    for (const auto& rules : {FlowRules{}, kTight}) {
        Airflow flow(p.grid.box);
        flow.lay(p.bed, p.grid);
        const auto outcome = flow.update(p.celsius, p.humidity, p.outside(), {}, rules);
        EXPECT_TRUE(outcome.stands) << outcome.change;
        EXPECT_LT(flow.greatest_rest(), 1e-14 * flow.throughput());
        const auto facets = flow.facet_flow();
        double windward = 0.0;
        double sum = 0.0;
        for (std::size_t f = 0; f < facets.size(); ++f) {
            sum += facets[f];
            windward += p.bed.facets[f].side == 0 ? facets[f] : 0.0;
        }
        EXPECT_NEAR(sum, 0.0, 1e-13 * flow.throughput());
        EXPECT_LT(windward, -0.4 * flow.throughput());
    }
}

// As coarsely as a run solves it, from rest, the flow is within three per cent of the tight one.
TEST(Airflow, CoarseSolutionIsNear) {
    auto p = whole_pile();
    std::ranges::fill(p.celsius, 9.0);
    p.wind[0] = 2.0;
    Airflow coarse(p.grid.box);
    coarse.lay(p.bed, p.grid);
    coarse.update(p.celsius, p.humidity, p.outside(), {}, {});
    Airflow tight(p.grid.box);
    tight.lay(p.bed, p.grid);
    const auto outcome = tight.update(p.celsius, p.humidity, p.outside(), {}, kTight);
    EXPECT_TRUE(outcome.stands);
    double difference = 0.0;
    double size = 0.0;
    for (std::size_t i = p.grid.box.begin(); i < p.grid.box.end(); ++i) {
        difference += std::pow(coarse.flow(0)[i] - tight.flow(0)[i], 2);
        size += std::pow(tight.flow(0)[i], 2);
    }
    EXPECT_LT(std::sqrt(difference / size), 0.03);
}

// Half-solved flows of a closed bed, where nothing is open: it still leaves nothing anywhere.
TEST(Airflow, ClosedBedTurnsOver) {
    Passage p(make_rectangle(24, 24, 0.1, 0.1));
    for (std::size_t i = p.grid.box.begin(); i < p.grid.box.end(); ++i) {
        p.celsius[i] = 5.0 + 4.0 * p.grid.centre[0][i];
    }
    Airflow flow(p.grid.box);
    flow.lay(p.bed, p.grid);
    ASSERT_TRUE(flow.update(p.celsius, p.humidity, p.outside(), {}, kTight).stands);
    EXPECT_GT(flow.speed()[p.grid.box.index(1, 0, 12)], 1e-3);
    EXPECT_LT(flow.greatest_rest(), 1e-14);
}

// A fan gives where its own curve meets the bed's: both are asked afterwards.
TEST(Airflow, FanMeetsTheBed) {
    auto p = whole_pile();
    std::vector<Duct> ducts(1);
    for (std::size_t i = 30; i < 34; ++i) {
        ducts[0].cells.push_back(p.grid.box.index(i, 0, p.grid.ground_layers));
    }
    ducts[0].free_kg_s = 2.0;
    ducts[0].still_Pa = 900.0;
    for (const auto way : {Duct::Way::blows, Duct::Way::sucks}) {
        ducts[0].way = way;
        Airflow flow(p.grid.box);
        flow.lay(p.bed, p.grid);
        ASSERT_TRUE(flow.update(p.celsius, p.humidity, p.outside(), ducts, kTight).stands);
        const double given = std::abs(flow.duct_flow()[0]);
        EXPECT_NEAR(flow.duct_Pa()[0], 900.0 * (1.0 - std::pow(given / 2.0, 2)), 1e-3);
        EXPECT_LT(given, 2.0);
        EXPECT_GT(given, 0.2);
        EXPECT_LT(flow.greatest_rest(), 1e-14 * flow.throughput());
    }
}

}  // namespace
}  // namespace beetwright::pile
