// Beets and air with temperatures of their own: against Schumann's solution for a bed that air of
// another temperature begins to blow through, and against the form of one temperature.
#include <gtest/gtest.h>

#include <cmath>

#include "pile/plans.hpp"
#include "pile/still_bed.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

/// A channel of n cells of beet at 0 °C, through which air of 1 °C begins to blow. Nothing conducts
/// and nothing evaporates.
struct Channel {
    StillBed body;
    double transfer = 0.0;  ///< between beets and air [W/m3/K]
    double passes = 0.0;    ///< heat capacity that flows [W/m2/K]

    Channel(std::size_t n, double length) : body(row(n, length), {.conductivity = 1e-12}, 0.0) {
        body.rules.heat = HeatForm::two_temperatures;
        body.outside.air_C = 1.0;
        body.outside.wind_Pa[body.grid.cut_side(Direction::across, false)] = 0.05 * length;
        const std::size_t middle = body.grid.box.index(n / 2, 0, 0);
        for (std::size_t c = body.grid.box.begin(); c < body.grid.box.end(); ++c) {
            body.bed.surface[c] = 30.0 * body.grid.volume[c];
            body.bed.warm[c] = body.bed.frozen[c] = 2.4e6 * body.grid.volume[c];
            body.state.humidity[c] = 0.0;
        }
        constexpr FlowRules kTight{.most_steps = 60, .change = 1e-9, .tightness = 1e-11};
        EXPECT_TRUE(
            body.airflow
                .update(body.state.celsius, body.state.humidity,
                        {body.outside.density, body.outside.wind_Pa, body.outside.cover_air}, {},
                        kTight)
                .stands);
        body.step.follow(body.airflow);
        const double speed = body.airflow.speed()[middle];
        const auto& c = body.constants;
        const double reynolds = speed * c.root_diameter / kAirViscosity;
        const double film =
            kAirConductivity / c.root_diameter * (2.0 + 1.1 * std::pow(reynolds, 0.6) * 0.894);
        transfer = 30.0 / (1.0 / film + c.root_diameter / (10.0 * c.root_conductivity));
        passes = kHumidCapacity * speed;
    }
    static Grid row(std::size_t n, double length) {
        Grid grid = make_rectangle(n, 1, length / static_cast<double>(n), 1.0);
        add_facets(grid, Direction::across, false);
        add_facets(grid, Direction::across, true);
        return grid;
    }
    /// Beets at a distance that lies between two cells, and the air there.
    [[nodiscard]] double beet(std::size_t cells_before) const {
        const std::size_t next = body.grid.box.index(cells_before, 0, 0);
        const std::size_t before = body.grid.box.index(cells_before - 1, 0, 0);
        return 0.5 * (body.state.celsius[before] + body.state.celsius[next]);
    }
    [[nodiscard]] double air(std::size_t cells_before) const {
        return body.state.air_celsius[body.grid.box.index(cells_before - 1, 0, 0)];
    }
};

/// Of a bed that is `y` lengths of exchange long to the point, after `z` times of exchange, on
/// `n` cells: what beets and air there are off from Schumann's.
struct Off {
    double beet, air;
};
Off off(double y, double z, double beet, double air, std::size_t n) {
    // The point lies half way along, so that the channel's end is far from it. How long an exchange
    // is follows from the flow, which a trial says.
    const double length_of_one = [] {
        const Channel trial(4, 1.0);
        return trial.passes / trial.transfer;
    }();
    Channel channel(2 * n, 2.0 * y * length_of_one);
    const double seconds = z * 2.4e6 / channel.transfer;
    EXPECT_TRUE(channel.body.run(seconds, static_cast<int>(n)));
    return {std::abs(channel.beet(n) - beet), std::abs(channel.air(n) - air)};
}

// Schumann 1929, J. Franklin Inst. 208:405: T of the air and of the bed at y, z [C, by quadrature].
TEST(TwoTemperatures, AreSchumanns) {
    struct Row {
        double y, z, air, beet;
    };
    double most = 0.0;
    for (const auto& r :
         {Row{1, 1, .654254161, .345745839}, Row{1, 2, .817415225, .605703141},
          Row{2, 1, .394296859, .182584775}, Row{2, 2, .603500961, .396499039},
          Row{5, 2, .168568914, .0860655224}, Row{5, 5, .563916669, .436083331},
          Row{5, 10, .925607985, .880206248}, Row{10, 5, .119793752, .0743920147},
          Row{10, 10, .544890156, .455109844}, Row{20, 20, .531639140, .468360860}}) {
        const auto coarse = off(r.y, r.z, r.beet, r.air, 20);
        const auto fine = off(r.y, r.z, r.beet, r.air, 80);
        EXPECT_LT(fine.beet, 2e-4) << r.y << ' ' << r.z;
        EXPECT_LT(fine.air, 2e-4) << r.y << ' ' << r.z;
        EXPECT_NEAR(0.5 * std::log2(coarse.beet / fine.beet), 2.0, 0.1) << r.y << ' ' << r.z;
        EXPECT_NEAR(0.5 * std::log2(coarse.air / fine.air), 2.0, 0.1) << r.y << ' ' << r.z;
        most = std::max({most, fine.beet, fine.air});
    }
    RecordProperty("most", std::to_string(most));
}

RunRules two_temperatures() {
    RunRules rules;
    rules.step.heat = HeatForm::two_temperatures;
    return rules;
}

// Under 18 W/m3 of breathing air and beets differ by 0.1 to 0.3 K [C, by hand: a h of 70 to 180
// W/m3/K], and a heap loses what it loses with one temperature to a few hundredths.
TEST(TwoTemperatures, OfAHeapAreNear) {
    auto one = Pile::make(heap(0.4), central_pile());
    auto two = Pile::make(heap(0.4), central_pile(), two_temperatures());
    ASSERT_TRUE(one.ok() && two.ok());
    for (std::size_t k = 0; k < 600; ++k) {
        const auto hour = autumn_hour(k, 8.0, (*one)->grid().sides.size());
        ASSERT_TRUE((*one)->pass(hour).ok());
        ASSERT_TRUE((*two)->pass(hour).ok());
    }
    EXPECT_TRUE((*one)->state().air_celsius.empty());
    const auto& state = (*two)->state();
    const auto& bed = (*two)->bed();
    double apart = 0.0;
    for (std::size_t i = bed.box.begin(); i < bed.box.end(); ++i) {
        apart += bed.beet[i] * std::abs(state.air_celsius[i] - state.celsius[i]);
    }
    const auto a = totals(**one);
    const auto b = totals(**two);
    apart /= b.beet;
    EXPECT_GT(apart, 0.02);
    EXPECT_LT(apart, 0.5);
    const double lost = a.sugar_piled - a.sugar_left;
    EXPECT_NEAR(b.sugar_piled - b.sugar_left, lost, 0.05 * lost);
    RecordProperty("apart_K", std::to_string(apart));
    RecordProperty("lost", std::to_string((b.sugar_piled - b.sugar_left) / lost));
}

}  // namespace
}  // namespace beetwright::pile
