// Heat that spreads, against closed forms: transients under a convective face, sources, freezing
// fronts. Numbers from series of 30 terms and from the fronts' own equations [C].
#include <gtest/gtest.h>

#include <array>
#include <numbers>

#include "pile/still_bed.hpp"

namespace beetwright::pile {
namespace {

struct Transient {
    int power;
    double biot;
    std::array<std::array<double, 3>, 3> centre_surface_mean;  ///< at Fo 0.05, 0.2, 1
};
constexpr std::array kFourier{.05, .2, 1.0};
const std::array kTransients{Transient{0,
                                       .1,
                                       {{{.9999733, .9752604, .9950829},
                                         {.9939985, .9514199, .9806535},
                                         {.9223886, .8781265, .9075871}}}},
                             Transient{0,
                                       1.,
                                       {{{.9997510, .7903768, .9573100},
                                         {.9506418, .6433908, .8515955},
                                         {.5338594, .3481769, .4703972}}}},
                             Transient{0,
                                       10.,
                                       {{{.9985296, .2323263, .8244541},
                                         {.8292547, .1224822, .5832620},
                                         {.1638176, .02317206, .1134956}}}},
                             Transient{1,
                                       .1,
                                       {{{.9998812, .9724841, .9901793},
                                         {.9836739, .9385839, .9615487},
                                         {.8429896, .8023750, .8225994}}}},
                             Transient{1,
                                       1.,
                                       {{{.9988978, .7696407, .9156932},
                                         {.8701742, .5702277, .7185163},
                                         {.2493797, .1603384, .2033470}}}},
                             Transient{1,
                                       10.,
                                       {{{.9936723, .2009300, .6711016},
                                         {.6002323, .07484386, .3116759},
                                         {.01356041, .001651532, .00695352}}}},
                             Transient{2,
                                       .1,
                                       {{{.9996608, .9694839, .9852907},
                                         {.9702100, .9242508, .9427254},
                                         {.7674314, .7303677, .7450994}}}},
                             Transient{2,
                                       1.,
                                       {{{.9968692, .7476867, .8752313},
                                         {.7723116, .4959122, .6018101},
                                         {.1079770, .06874032, .08357821}}}},
                             Transient{2,
                                       10.,
                                       {{{.9825638, .1711904, .5391397},
                                         {.3826643, .04105502, .1524389},
                                         {6.17568e-4, 6.544568e-5, 2.440607e-4}}}}};

/// Centre, surface and mean of a body that began at 1 in surroundings at 0.
std::array<double, 3> cooled(const Transient& of, double fourier, std::size_t n, int steps) {
    StillBed body(shells(n, of.power), {}, 1.0);
    for (auto& side : body.outside.sides) {
        side.heat_transfer = of.biot;
    }
    EXPECT_TRUE(body.run(fourier, steps));
    const auto& t = body.state.celsius;
    const std::size_t first = body.grid.box.index(0, 0, 0);
    const std::size_t last = body.grid.box.index(n - 1, 0, 0);
    const double to_wall = 2.0 * static_cast<double>(n);  // conductivity / half a cell
    return {t[first] - (t[first + 1] - t[first]) / 8.0, t[last] * to_wall / (to_wall + of.biot),
            body.mean()};
}

TEST(Conduction, TransientsOfSlabCylinderAndSphere) {
    for (const auto& of : kTransients) {
        for (std::size_t f = 0; f < kFourier.size(); ++f) {
            const auto now =
                cooled(of, kFourier[f], 48, static_cast<int>(200 + 2304 * kFourier[f]));
            for (std::size_t which = 0; which < 3; ++which) {
                EXPECT_NEAR(now[which], of.centre_surface_mean[f][which], 3e-4)
                    << of.power << ' ' << of.biot << ' ' << kFourier[f] << ' ' << which;
            }
        }
    }
}

// Halving cells and steps together: the error falls by four.
TEST(Conduction, IsOfSecondOrderInSpace) {
    for (const auto& of : kTransients) {
        if (of.biot != 1.0) {
            continue;
        }
        double last = 0.0;
        for (const std::size_t n : {12U, 24U, 48U}) {
            const auto now = cooled(of, 0.2, n, static_cast<int>(n * n));
            const double error = std::abs(now[2] - of.centre_surface_mean[1][2]);
            if (n > 12) {
                EXPECT_NEAR(std::log2(last / error), 2.0, 0.2) << of.power << ' ' << n;
                RecordProperty("order" + std::to_string(of.power),
                               std::to_string(std::log2(last / error)));
            }
            last = error;
        }
    }
}

// The steps' error alone, on the same cells, against steps sixteen times as short.
TEST(Conduction, IsOfSecondOrderInTime) {
    for (const auto& of : kTransients) {
        if (of.biot != 1.0) {
            continue;
        }
        const double truth = cooled(of, 0.2, 12, 3200)[2];
        double last = 0.0;
        for (const int steps : {100, 200, 400}) {
            const double error = std::abs(cooled(of, 0.2, 12, steps)[2] - truth);
            if (steps > 100) {
                EXPECT_NEAR(std::log2(last / error), 2.0, 0.25) << of.power << ' ' << steps;
                RecordProperty("order" + std::to_string(of.power),
                               std::to_string(std::log2(last / error)));
            }
            last = error;
        }
    }
}

// Steps a thousand times as long as a cell's own time: nothing overshoots.
TEST(Conduction, LongStepsDoNotOvershoot) {
    StillBed body(shells(64, 0), {}, 1.0);
    for (int n = 0; n < 20; ++n) {
        ASSERT_TRUE(body.run(0.3, 1));
        for (std::size_t c = body.grid.box.begin(); c < body.grid.box.end(); ++c) {
            ASSERT_GE(body.state.celsius[c], -1e-9);
            ASSERT_LE(body.state.celsius[c], 1.0 + 1e-9);
        }
    }
}

// Semi-infinite, a step at its face: erfc(.03 / 2 / sqrt(1.26e-7 t)) = .3192385615 after 1 h and
// .6842834105 after 6 h (a root's diffusivity). Half a metre stands for the half space.
TEST(Conduction, StepAtTheFaceOfAHalfSpace) {
    constexpr std::size_t kCells = 500;
    const double h = 0.5 / kCells;
    Grid grid = make_row(std::vector<double>(kCells, h), std::vector<double>(kCells - 1, 1.0),
                         std::vector<double>(kCells - 1, h));
    grid.facets.push_back({grid.box.index(0, 0, 0), 1.0, 0.5 * h,
                           grid.cut_side(num::Direction::across, false), false});
    StillBed rod(std::move(grid),
                 {.capacity = 1.0,
                  .frozen_capacity = 1.0,
                  .conductivity = 1.26e-7,
                  .frozen_conductivity = 1.26e-7},
                 0.0);
    for (auto& side : rod.outside.sides) {
        side.felt_C = 1.0;
    }
    const auto at_3_cm = [&] {
        return 0.5 * (rod.state.celsius[rod.grid.box.index(29, 0, 0)] +
                      rod.state.celsius[rod.grid.box.index(30, 0, 0)]);
    };
    ASSERT_TRUE(rod.run(3600.0, 400));
    EXPECT_NEAR(at_3_cm(), .3192385615, 3e-4);
    ASSERT_TRUE(rod.run(5 * 3600.0, 400));
    EXPECT_NEAR(at_3_cm(), .6842834105, 3e-4);
}

/// Where the body has come to rest with a source [W/m3] that follows the temperature.
template <class Source>
StillBed at_rest(Grid grid, Source&& source) {
    StillBed body(std::move(grid), {}, 0.0);
    for (int n = 0; n < 400; ++n) {
        for (std::size_t c = body.grid.box.begin(); c < body.grid.box.end(); ++c) {
            body.step.extra_W()[c] = body.grid.volume[c] * source(body.state.celsius[c]);
        }
        EXPECT_TRUE(body.run(0.5, 1));
    }
    return body;
}
double middle_of(const StillBed& body) {
    const auto& t = body.state.celsius;
    const std::size_t first = body.grid.box.index(0, 0, 0);
    return t[first] - (t[first + 1] - t[first]) / 8.0;
}

// q L2/2k, q R2/4k, q R2/6k.
TEST(Conduction, ConstantSource) {
    for (const int power : {0, 1, 2}) {
        const auto body = at_rest(shells(64, power), [](double) { return 1.0; });
        EXPECT_NEAR(middle_of(body), 0.5 / (power + 1), 1e-4);
    }
}

// theta_max = 1/cos(sqrt d) - 1 of theta'' + d (1 + theta) = 0.
TEST(Conduction, SourceLinearInTemperature) {
    struct Row {
        double d, most;
    };
    for (const auto& row : {Row{.5, .31536614}, Row{1., .85081572}, Row{2., 5.41257090}}) {
        const auto body = at_rest(shells(96, 0), [&](double t) { return row.d * (1.0 + t); });
        EXPECT_NEAR(middle_of(body), row.most, 2e-3 * row.most);
    }
}

// In the middle .294685413 q a2/k and .140577015 in the mean, of a square of side 2a whose rim is
// at nought; a quarter of it. Second order.
TEST(Conduction, SquareWithASource) {
    double last = 0.0;
    for (const std::size_t n : {8U, 16U, 32U}) {
        const double h = 1.0 / static_cast<double>(n);
        Grid grid = make_rectangle(n, n, h, h);
        add_facets(grid, num::Direction::across, true);
        add_facets(grid, num::Direction::up, true);
        for (auto& facet : grid.facets) {
            facet.is_open = false;
        }
        const auto body = at_rest(std::move(grid), [](double) { return 1.0; });
        const double error = std::abs(body.mean() - .140577015);
        if (n > 8) {
            EXPECT_NEAR(std::log2(last / error), 2.0, 0.1);
        }
        last = error;
    }
    EXPECT_LT(last, 6e-4);
}

/// Ice in a rod of 1 m2 whose end is kept at `wall_C` [m].
double frozen_depth(const Stuff& stuff, double wall_C, double start_C, double length,
                    std::size_t cells, double seconds, int steps) {
    const double h = length / static_cast<double>(cells);
    Grid grid = make_row(std::vector<double>(cells, h), std::vector<double>(cells - 1, 1.0),
                         std::vector<double>(cells - 1, h));
    grid.facets.push_back({grid.box.index(0, 0, 0), 1.0, 0.5 * h,
                           grid.cut_side(num::Direction::across, false), false});
    StillBed rod(std::move(grid), stuff, start_C);
    rod.rules.kelvin = 1e-6;
    for (auto& side : rod.outside.sides) {
        side.felt_C = wall_C;
    }
    EXPECT_TRUE(rod.run(seconds, steps));
    double depth = 0.0;
    for (std::size_t c = rod.grid.box.begin(); c < rod.grid.box.end(); ++c) {
        depth += h * ice_share(rod.state.celsius[c], stuff.freezing_C);
    }
    return depth;
}

// Stefan's front 2 lambda sqrt(alpha t): sqrt(pi) l e^(l2) erf l = Ste. The range of freezing is a
// thousandth of a kelvin here, which leaves half a per cent unfrozen behind the front.
TEST(Conduction, StefanFront) {
    struct Row {
        double stefan, lambda;
    };
    for (const auto& row : {Row{.1, .2200162727}, Row{.5, .4647859206}, Row{1., .6200626333}}) {
        const Stuff stuff{.capacity = 1.0,
                          .frozen_capacity = 1.0,
                          .latent = 10.0 / row.stefan,
                          .freezing_C = -0.001,
                          .conductivity = 1.0,
                          .frozen_conductivity = 1.0};
        const double depth = frozen_depth(stuff, -10.0, -0.0005, 1.5, 300, 0.3, 600);
        EXPECT_NEAR(depth, 2.0 * row.lambda * std::sqrt(0.3), 0.01 * depth) << row.stefan;
    }
}

// Neumann's two phases: water, wall -10 and +5 °C at first: .1042889260 m after a day. And as in a
// pile, with what freezes at -2 °C set at nought, wall and start 2 K higher with it: .0946392833 m
// after a day and .5183607030 m after 30.
TEST(Conduction, NeumannFront) {
    const Stuff water{.capacity = 917.0 * 4200.0,
                      .frozen_capacity = 917.0 * 2050.0,
                      .latent = 917.0 * 334e3,
                      .freezing_C = -0.001,
                      .conductivity = 0.57,
                      .frozen_conductivity = 2.2};
    EXPECT_NEAR(frozen_depth(water, -10.0, 5.0, 0.8, 400, 86400.0, 400), .1042889260, 0.0012);
    const Stuff pile{.capacity = 650.0 * 3750.0,
                     .frozen_capacity = 650.0 * 2100.0,
                     .latent = 650.0 * 218.603e3,
                     .freezing_C = -0.001,
                     .conductivity = 0.30,
                     .frozen_conductivity = 0.50};
    EXPECT_NEAR(frozen_depth(pile, -18.0, 5.0, 0.8, 400, 86400.0, 400), .0946392833, 0.001);
    EXPECT_NEAR(frozen_depth(pile, -18.0, 5.0, 4.0, 400, 30 * 86400.0, 720), .5183607030, 0.006);
}

}  // namespace
}  // namespace beetwright::pile
