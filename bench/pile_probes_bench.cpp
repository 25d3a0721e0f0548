// Twins: hidden piles of which four loggers tell for ten days, and what is thought of them at
// thirty days, without the readings and with them. `bench_pile_probes 40 16 1` for so many of them,
// as many members, and cells of so many metres.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include "engine/pile_twin.hpp"

namespace {

using namespace beetwright;
using namespace beetwright::engine;

double seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

}  // namespace

int main(int count, char** words) {
    const int twins = count > 1 ? std::atoi(words[1]) : 20;
    const auto members = static_cast<std::size_t>(count > 2 ? std::atoi(words[2]) : 16);
    const double cell_m = count > 3 ? std::atof(words[3]) : 0.75;
    WorkerPool pool(1);
    twin::Score without_all;
    twin::Score with_all;
    double learning = 0.0;
    double forecasting = 0.0;
    int n = 0;
    for (int k = 0; k < twins; ++k) {
        const twin::Twin pile({.seed = 100 + static_cast<std::uint64_t>(k),
                               .members = members,
                               .cell = Length(cell_m)});
        const auto season = pile.season();
        auto study = pile.study(season);
        double begun = seconds();
        const auto without =
            twin::score(twin::forecast(*study, pile.last_day(), pool), pile.true_celsius());
        forecasting += seconds() - begun;
        begun = seconds();
        Steps steps(nullptr, 1.0);
        const auto learned = learn_from_probes(*study, pool, steps);
        learning += seconds() - begun;
        if (!learned) {
            std::printf("%s\n", learned.problems().front().text().c_str());
            return 1;
        }
        const auto with =
            twin::score(twin::forecast(*study, pile.last_day(), pool), pile.true_celsius());
        std::printf(
            "%2d  without %5.2f K, %3.0f %% in %5.2f K   with %5.2f K, %3.0f %% in %5.2f K ", k,
            std::sqrt(without.squares), 100.0 * without.within, without.width,
            std::sqrt(with.squares), 100.0 * with.within, with.width);
        for (const auto& probe : learned->probes) {
            if (!probe.after) {
                continue;
            }
            std::printf(" %s %.1f: %.1f (%.1f to %.1f)%s", probe.probe.c_str(), probe.celsius,
                        probe.after->value, probe.after->low, probe.after->high,
                        probe.is_trusted() ? "" : "!");
        }
        for (const auto& probe : learned->probes) {
            if (!probe.why.empty()) {
                std::printf("\n    %s: %s", probe.probe.c_str(), probe.why.c_str());
            }
        }
        std::printf("\n");
        ++n;
        for (const auto& [sum, one] :
             {std::pair(&without_all, without), std::pair(&with_all, with)}) {
            sum->squares += one.squares;
            sum->within += one.within;
            sum->width += one.width;
        }
    }
    const double each = 1.0 / n;
    std::printf("without %.2f K, %.0f %% in %.2f K; with %.2f K, %.0f %% in %.2f K; ratio %.2f\n",
                std::sqrt(each * without_all.squares), 100.0 * each * without_all.within,
                each * without_all.width, std::sqrt(each * with_all.squares),
                100.0 * each * with_all.within, each * with_all.width,
                std::sqrt(with_all.squares / without_all.squares));
    std::printf("learning takes as long as %.1f forecasts\n", learning / forecasting);
}
