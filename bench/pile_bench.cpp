// Piles at scale: a section of 60 x 6 m through 150 days in cells of 1, 0.5 and 0.25 m, a small
// section alone and as an ensemble, the section that CVODE integrated beside CVODE itself where
// that was built (./run oracles), and, where they are asked for, a `whole` pile of 60 x 200 x 6 m
// in cells of 1 m, or `fifty` members of the section in cells of 0.25 m on two threads.
//
// Goals: 1 s, 3 s acceptable, for cells of 0.25 m; 0.1 s for the small section; 30 s for the fifty;
// 3 minutes for the whole pile; under 200 MB.
#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string>
#include <string_view>

#include "base/pool.hpp"
#include "base/random.hpp"
#include "pile/humid.hpp"
#include "pile/reference_section.hpp"

namespace {

using namespace beetwright;

constexpr std::size_t kHours = 3600;
/// What a step must at least read and write of a cell: six fields of State and ten of Health.
constexpr double kStateBytes = 2.0 * 16.0 * 8.0;

/// Of the processor: one thread works, and others may want the machine too.
double seconds_of(const auto& work) {
    const std::clock_t start = std::clock();
    work();
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

/// As a clock on the wall sees it: for work on several threads, and for other programs.
double wall_seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
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

pile::Plan small_pile() {
    auto plan = big_pile(0.5, false);
    plan.shape = {.width = Length(16.0),
                  .height = Length(4.0),
                  .top_width = Length(6.0),
                  .length = Length(60.0)};
    return plan;
}

pile::PileConstants central_constants() {
    const Catalogue catalogue;
    return pile::pile_constants([&](ConstantId id) { return catalogue.value(id); });
}

/// The memory's ceiling [bytes/s]: a = b + s c over fields far larger than any cache, best of five.
double triad_bytes_s() {
    constexpr std::size_t kNumbers = 8'000'000;
    std::vector<double> a(kNumbers, 1.0);
    std::vector<double> b(kNumbers, 2.0);
    std::vector<double> c(kNumbers, 3.0);
    double best = 0.0;
    for (int pass = 0; pass < 6; ++pass) {
        const double took = wall_seconds_of([&] {
            for (std::size_t i = 0; i < kNumbers; ++i) {
                a[i] = b[i] + 1e-9 * c[i];
            }
        });
        std::swap(a, b);
        best = std::max(best, 24.0 * static_cast<double>(kNumbers) / took);
    }
    return b[kNumbers / 2] > 0.0 ? best : 0.0;
}

void pass_through(pile::Pile& pile, const std::vector<pile::WeatherHour>& weather) {
    for (const auto& hour : weather) {
        if (auto done = pile.pass(hour); !done) {
            std::printf("%s\n", done.problems().front().text().c_str());
            break;
        }
    }
}

void run(const char* name, const pile::Plan& plan, double goal_s, double bytes_s) {
    auto made = pile::Pile::make(plan, central_constants());
    auto& pile = **made;
    const auto weather = made_up_winter(pile.grid().sides.size());
    std::size_t cells = 0;
    for (std::size_t c = pile.grid().box.begin(); c < pile.grid().box.end(); ++c) {
        cells += pile.bed().is_there(c) ? 1U : 0U;
    }
    const double took = seconds_of([&] { pass_through(pile, weather); });
    const auto sum = pile::totals(pile);
    const double each_s = took / static_cast<double>(cells * kHours);
    const auto& work = pile.work();
    const double hours = static_cast<double>(kHours);
    std::printf("%s: %zu cells x %zu h in %.2f s (goal %.2g), %.0f ns per cell and step", name,
                cells, kHours, took, goal_s, 1e9 * each_s);
    if (bytes_s > 0.0) {
        std::printf(", %.0f %% of what memory allows", 100.0 * kStateBytes / bytes_s / each_s);
    }
    std::printf("\n");
    std::printf(
        "    %.2f evaluations a step, %.2f Newton steps and %.1f iterations a flow, %ld "
        "halvings; mean %.2f, warmest %.2f °C, %.2f %% of sugar lost\n",
        static_cast<double>(work.evaluations) / static_cast<double>(work.steps),
        static_cast<double>(work.flow_steps) / hours,
        static_cast<double>(work.flow_iterations) / hours, work.halvings, sum.mean_C, sum.warmest_C,
        100.0 * (1.0 - sum.sugar_left / sum.sugar_piled));
}

double lost_by_member(const pile::Plan& plan, std::size_t member) {
    RandomStream random(1, "bench pile member " + std::to_string(member));
    auto constants = central_constants();
    constants.root_diameter *= 1.0 + 0.05 * random.normal();
    constants.lump.basal_at_5C *= std::exp(0.15 * random.normal());
    auto made = pile::Pile::make(plan, constants);
    pass_through(**made, made_up_winter((*made)->grid().sides.size()));
    const auto sum = pile::totals(**made);
    return 100.0 * (1.0 - sum.sugar_left / sum.sugar_piled);
}

/// Members that differ in what is known least: the air's resistance and how beet breathes.
void run_members(const char* name, const pile::Plan& plan, unsigned threads, std::size_t members) {
    WorkerPool pool(threads);
    std::vector<double> lost(members);
    double took = 0.0;
    const double worked = seconds_of([&] {
        took = wall_seconds_of([&] {
            pool.for_chunks(members, 1, [&](std::size_t first, std::size_t last) {
                for (std::size_t m = first; m < last; ++m) {
                    lost[m] = lost_by_member(plan, m);
                }
            });
        });
    });
    std::ranges::sort(lost);
    std::printf(
        "%s: %zu members on %u threads in %.2f s, each %.3f s of a processor; %.1f to "
        "%.1f %% of sugar lost\n",
        name, members, threads, took, worked / static_cast<double>(members), lost.front(),
        lost.back());
}

/// The reference section's hours by the pile's own steps, and by CVODE in a program of its own.
void run_beside_cvode() {
    constexpr int kTimes = 20;
    const auto plan = pile::reference_section();
    const double took =
        seconds_of([&] {
            for (int time = 0; time < kTimes; ++time) {
                auto made = pile::Pile::make(plan, pile::reference_constants());
                for (int k = 0; k < pile::kReferenceHours; ++k) {
                    if (!(*made)->pass(pile::reference_hour(k, (*made)->grid().sides.size()))) {
                        std::printf("the section does not stand\n");
                    }
                }
            }
        }) /
        kTimes;
    const std::string cvode = BEETWRIGHT_BINARY_DIR "/../oracles/oracle_pile_cvode";
    if (!std::filesystem::exists(cvode)) {
        std::printf(
            "CVODE's section: %.4f s by hourly steps; ./run oracles builds what CVODE takes "
            "for it\n",
            took);
        return;
    }
    int status = 0;
    const double theirs =
        wall_seconds_of([&] { status = std::system((cvode + " /dev/null > /dev/null").c_str()); });
    std::printf("CVODE's section: %.4f s by hourly steps, %.1f s by CVODE%s: %.0f times as long\n",
                took, theirs, status == 0 ? "" : " (which failed)", theirs / took);
}

double megabytes() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

}  // namespace

int main(int count, char** words) {
    const std::string_view asked = count > 1 ? words[1] : "";
    if (asked == "fifty") {
        run_members("section in cells of 0.25 m (goal 30 s)", big_pile(0.25, false), 2U, 50U);
        return 0;
    }
    const bool is_whole = asked == "whole";
    const double before_MB = megabytes();
    if (is_whole) {
        // First, while the most memory ever used is its own; before what the memory allows is
        // measured.
        run("whole pile", big_pile(1.0, true), 180.0, 0.0);
        std::printf("    %.0f MB, of which %.0f were there before\n", megabytes(), before_MB);
    }
    const double bytes_s = triad_bytes_s();
    std::printf("memory: %.1f GB/s by one core\n", 1e-9 * bytes_s);
    run("section in cells of 1 m", big_pile(1.0, false), 0.06, bytes_s);
    run("section in cells of 0.5 m", big_pile(0.5, false), 0.25, bytes_s);
    run("section in cells of 0.25 m", big_pile(0.25, false), 1.0, bytes_s);
    run("small section, 16 x 4 m in cells of 0.5 m", small_pile(), 0.1, bytes_s);
    for (const unsigned threads : {1U, 2U}) {
        for (const std::size_t members : {5U, 20U}) {
            run_members("small section", small_pile(), threads, members);
        }
    }
    run_beside_cvode();
}
