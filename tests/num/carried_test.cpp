// What flow carries, against the solution of Ogata and Banks, and between bounds.
#include "num/carried.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "num/carried_system.hpp"

namespace beetwright::num {
namespace {

/// A channel of n cells with the same flow and spread everywhere.
struct Channel {
    Box box;
    Field spread, flow, open, none;
    Passage passage;

    Channel(std::size_t n, double flow_now, double spread_now)
        : box{.across = n, .along = 1, .up = 1},
          spread(box.field()),
          flow(box.field()),
          open(box.field()),
          none(box.field()) {
        for (std::size_t i = box.begin(); i + 1 < box.end(); ++i) {
            spread[i] = spread_now;
            flow[i] = flow_now;
            open[i] = 1.0;
        }
        passage.spread = {none.data(), spread.data(), nullptr};
        passage.flow = {none.data(), flow.data(), nullptr};
        passage.open = {none.data(), open.data(), nullptr};
    }
};

/// c at x = 1 in a column 2.5 long, v = 1, kept at 1 at its inlet, at time tau: by Heun's steps.
double breakthrough(double peclet, double tau, std::size_t n, Slopes slopes) {
    const double h = 2.5 / static_cast<double>(n);
    const double spread = 1.0 / peclet / h;
    Channel channel(n, 1.0, spread);
    const auto& box = channel.box;
    Field c = box.field();
    Field guess = box.field();
    Field net = box.field();
    Field second = box.field();
    Field slope = box.field();
    Field face = box.field();
    const std::size_t first = box.begin();
    const std::size_t last = box.end() - 1;
    const auto rate = [&](const Field& at, Field& into) {
        std::ranges::fill(into, 0.0);
        add_carried(box, channel.passage, at, slopes, into, slope, face);
        into[first] += 1.0 + 2.0 * spread * (1.0 - at[first]);
        into[last] -= at[last];
    };
    const auto steps = static_cast<int>(std::ceil(tau / (0.2 * std::min(h, h * h * peclet))));
    const double dt = tau / steps / h;
    for (int s = 0; s < steps; ++s) {
        rate(c, net);
        for (std::size_t i = first; i <= last; ++i) {
            guess[i] = c[i] + dt * net[i];
        }
        rate(guess, second);
        for (std::size_t i = first; i <= last; ++i) {
            c[i] += 0.5 * dt * (net[i] + second[i]);
        }
    }
    const double at = 1.0 / h - 0.5;
    const auto below = static_cast<std::size_t>(at);
    const double share = at - static_cast<double>(below);
    return (1.0 - share) * c[first + below] + share * c[first + below + 1];
}

// Their closed form, worked out [C].
TEST(Carried, OgataAndBanks) {
    struct Row {
        double peclet;
        std::size_t cells;
        std::array<double, 3> at;  ///< tau 0.5, 1, 1.5
    };
    for (const auto& row : {Row{5, 200, {.190861755, .616163147, .833368968}},
                            Row{20, 400, {.0174533721, .561606970, .927904033}},
                            Row{100, 1000, {3.85331e-7, .528070496, .998480283}}}) {
        for (std::size_t k = 0; k < 3; ++k) {
            const double tau = 0.5 * static_cast<double>(k + 1);
            EXPECT_NEAR(breakthrough(row.peclet, tau, row.cells, Slopes::van_leer), row.at[k], 2e-3)
                << row.peclet << ' ' << tau;
        }
    }
}

// Where values are smooth the error falls nearly by four.
TEST(Carried, IsOfSecondOrderWhereItIsSmooth) {
    constexpr double kTruth = .616163147;
    double last = 0.0;
    for (const std::size_t n : {50U, 100U, 200U}) {
        const double error = std::abs(breakthrough(5.0, 1.0, n, Slopes::van_leer) - kTruth);
        if (n > 50) {
            EXPECT_GT(std::log2(last / error), 1.7) << n;
        }
        last = error;
    }
}

// A step and a comb are carried without new highs or lows, and nothing is lost.
TEST(Carried, NeverOvershootsAndLosesNothing) {
    Channel channel(80, 1.0, 0.0);
    const auto& box = channel.box;
    Field c = box.field();
    RandomStream random(5, "comb");
    for (std::size_t i = box.begin(); i < box.begin() + 40; ++i) {
        c[i] = random.chance(0.5) ? 1.0 : 0.0;
    }
    double before = 0.0;
    for (const double v : c) {
        before += v;
    }
    Field net = box.field();
    Field slope = box.field();
    Field face = box.field();
    for (int s = 0; s < 60; ++s) {
        std::ranges::fill(net, 0.0);
        add_carried(box, channel.passage, c, Slopes::van_leer, net, slope, face);
        double after = 0.0;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            c[i] += 0.5 * net[i];
            EXPECT_GE(c[i], -1e-15);
            EXPECT_LE(c[i], 1.0 + 1e-15);
            after += c[i];
        }
        EXPECT_NEAR(after, before, 1e-12);
    }
}

// Rows that flow makes one-sided, slight and overwhelming spread: what is solved is the system.
TEST(CarriedSystem, SolvesWhateverFlows) {
    const Box box{.across = 30, .along = 1, .up = 20};
    for (const double spread : {0.01, 1.0, 1000.0}) {
        CarriedSystem system(box);
        RandomStream random(6, "system");
        for (std::size_t d = 0; d < 2; ++d) {
            const auto direction = kEveryDirection[d];
            for (std::size_t i = box.begin(); i < box.end(); ++i) {
                const std::size_t at = (i - box.begin()) / box.stride(direction);
                if (at % box.count(direction) + 1 == box.count(direction)) {
                    continue;
                }
                const double flow = random.uniform() - 0.5;
                const std::size_t next = i + box.stride(direction);
                system.from_low[d][next] = spread + std::max(0.0, flow);
                system.from_high[d][i] = spread + std::max(0.0, -flow);
                system.diagonal[i] += spread + std::max(0.0, flow);
                system.diagonal[next] += spread + std::max(0.0, -flow);
            }
        }
        Field truth = box.field();
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            truth[i] = random.uniform();
        }
        Field b = box.field();
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            b[i] = system.diagonal[i] * truth[i];
            for (std::size_t d = 0; d < 2; ++d) {
                const std::size_t stride = box.stride(kEveryDirection[d]);
                b[i] -= system.from_low[d][i] * truth[i - stride] +
                        system.from_high[d][i] * truth[i + stride];
            }
        }
        Field x = box.field();
        const auto outcome = system.solve(b, x, 1e-13, 500);
        EXPECT_TRUE(outcome.converged) << spread << ' ' << outcome.residual;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            ASSERT_NEAR(x[i], truth[i], 1e-8) << spread;
        }
    }
}

}  // namespace
}  // namespace beetwright::num
