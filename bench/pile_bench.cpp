// Piles at scale: a section of 60 x 6 m in cells of 0.5 and 0.25 m through 150 days, and, where
// `whole` is asked for, a whole pile of 60 x 200 x 6 m in cells of 1 m.
//
// Goals: 1 s, 3 s acceptable, for cells of 0.25 m; 3 minutes for the whole pile; under 200 MB.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string_view>

#include "base/random.hpp"
#include "pile/humid.hpp"
#include "pile/pile.hpp"

namespace {

using namespace beetwright;

constexpr std::size_t kHours = 3600;

/// Of the processor: one thread works, and others may want the machine too.
double seconds_of(const auto& work) {
    const std::clock_t start = std::clock();
    work();
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

/// An invented autumn and winter inland: 8 °C at first, -8 °C in the end, windy and wet.
std::vector<pile::WeatherHour> made_up_winter(std::size_t sides) {
    std::vector<pile::WeatherHour> hours;
    RandomStream random(1, "bench pile weather");
    double front = 0.0;
    for (std::size_t k = 0; k < kHours; ++k) {
        pile::WeatherHour hour;
        const double day = static_cast<double>(k) / 24.0;
        front = 0.985 * front + 0.5 * random.normal();
        const double of_day = std::sin(0.2618 * static_cast<double>(k % 24 + 15));
        hour.air_C = 8.0 * std::cos(day * 0.0209) + front + 3.0 * of_day;
        hour.humidity = pile::humidity_ratio_of(0.87 * pile::saturation_Pa(hour.air_C));
        hour.wind =
            1.0 + 3.0 * std::abs(std::sin(0.013 * static_cast<double>(k))) + 0.8 * random.uniform();
        hour.wind_from = 4.0 + std::sin(0.02 * static_cast<double>(k));
        hour.rain_mm = random.chance(0.08) ? 1.5 * random.uniform() : 0.0;
        hour.sky_W_m2 = 5.67e-8 * std::pow(hour.air_C + 273.15, 4.0) * 0.82;
        hour.sun_W_m2.assign(sides, 120.0 * std::max(0.0, of_day - 0.3));
        hours.push_back(hour);
    }
    return hours;
}

pile::Plan big_pile(double cell, bool is_whole) {
    pile::Plan plan;
    plan.shape = {.width = Length(60.0),
                  .height = Length(6.0),
                  .top_width = Length(44.0),
                  .length = Length(200.0)};
    plan.grid.cell_across = plan.grid.cell_up = Length(cell);
    if (is_whole) {
        plan.grid.cell_along = Length(cell);
    }
    plan.lots.emplace_back();
    plan.lots.back().beet = {
        .tail_wound = 0.009, .crown_wound = 0.024, .skin_wound = 0.032, .leaf = 0.01, .soil = 0.06};
    plan.lots.back().celsius = 8.0;
    return plan;
}

/// What one plain pass over fields of this size costs a cell [ns]: a = b + s c, three fields.
double plain_pass_ns(std::size_t cells) {
    std::vector<double> a(cells, 1.0);
    std::vector<double> b(cells, 2.0);
    std::vector<double> c(cells, 3.0);
    const std::size_t passes = 200'000'000 / cells;
    const double took = seconds_of([&] {
        for (std::size_t pass = 0; pass < passes; ++pass) {
            for (std::size_t i = 0; i < cells; ++i) {
                a[i] = b[i] + 1e-9 * c[i];
            }
            std::swap(a, b);
        }
    });
    return b[cells / 2] > 0.0 ? 1e9 * took / static_cast<double>(passes * cells) : 0.0;
}

void run(const char* name, const pile::Plan& plan, double goal_s) {
    const Catalogue catalogue;
    const auto constants = pile::pile_constants([&](ConstantId id) { return catalogue.value(id); });
    auto made = pile::Pile::make(plan, constants);
    auto& pile = **made;
    const auto weather = made_up_winter(pile.grid().sides.size());
    std::size_t cells = 0;
    for (std::size_t c = pile.grid().box.begin(); c < pile.grid().box.end(); ++c) {
        cells += pile.bed().is_there(c) ? 1U : 0U;
    }
    const double took = seconds_of([&] {
        for (const auto& hour : weather) {
            if (auto done = pile.pass(hour); !done) {
                std::printf("%s\n", done.problems().front().text().c_str());
                break;
            }
        }
    });
    const auto sum = pile::totals(pile);
    const double each_ns = 1e9 * took / static_cast<double>(cells * kHours);
    const auto& work = pile.work();
    const double hours = static_cast<double>(kHours);
    std::printf(
        "%s: %zu cells x %zu h in %.2f s (goal %.2g), %.0f ns per cell and hour, as long as %.0f "
        "plain passes over three fields; %.2f evaluations a step, %.2f Newton steps and %.1f "
        "iterations a flow, %ld halvings; mean %.2f, warmest %.2f °C, %.2f %% of sugar lost\n",
        name, cells, kHours, took, goal_s, each_ns,
        each_ns / plain_pass_ns(pile.grid().box.cells()),
        static_cast<double>(work.evaluations) / static_cast<double>(work.steps),
        static_cast<double>(work.flow_steps) / hours,
        static_cast<double>(work.flow_iterations) / hours, work.halvings, sum.mean_C, sum.warmest_C,
        100.0 * (1.0 - sum.sugar_left / sum.sugar_piled));
}

}  // namespace

int main(int count, char** words) {
    run("section in cells of 0.5 m", big_pile(0.5, false), 0.25);
    run("section in cells of 0.25 m", big_pile(0.25, false), 1.0);
    if (count > 1 && std::string_view(words[1]) == "whole") {
        run("whole pile", big_pile(1.0, true), 180.0);
    }
}
