// Twins: hidden piles of which four loggers tell for ten days, and what is thought of them at
// thirty days, without the readings and with them. `bench_pile_probes 40 16 1 200` for so many of
// them, as many members, cells of so many metres, and the first one's seed.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>

#include "base/random.hpp"
#include "engine/pile_twin.hpp"

namespace {

using namespace beetwright;
using namespace beetwright::engine;

double seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

struct Pair {
    twin::Score without, with;
};

double mean(const std::vector<Pair>& twins, const std::function<double(const Pair&)>& of) {
    double sum = 0.0;
    for (const Pair& one : twins) {
        sum += of(one) / static_cast<double>(twins.size());
    }
    return sum;
}

double median(const std::vector<Pair>& twins, const std::function<double(const Pair&)>& of) {
    std::vector<double> values;
    for (const Pair& one : twins) {
        values.push_back(of(one));
    }
    return twin::median_of(std::move(values));
}

double left_by_square(const std::vector<Pair>& twins) {
    return std::sqrt(mean(twins, [](const Pair& one) { return one.with.squares; }) /
                     mean(twins, [](const Pair& one) { return one.without.squares; }));
}

/// Few twins that run away hold most of a mean square: what other twins of the same kind would
/// have made of it, by drawing again from these.
void print_left(const std::vector<Pair>& twins) {
    RandomStream random(1, "twins drawn again");
    std::vector<double> again(1000);
    for (double& one : again) {
        std::vector<Pair> drawn;
        for (std::size_t k = 0; k < twins.size(); ++k) {
            drawn.push_back(twins[random.below(static_cast<std::uint32_t>(twins.size()))]);
        }
        one = left_by_square(drawn);
    }
    std::ranges::sort(again);
    const double usual = std::exp(0.5 * mean(twins, [](const Pair& one) {
                                      return std::log(one.with.squares / one.without.squares);
                                  }));
    std::printf("left of the error: %.2f (%.2f to %.2f) by mean square, %.2f in the usual twin\n",
                left_by_square(twins), again[50], again[949], usual);
}

void print(const char* name, const std::vector<Pair>& twins, twin::Score Pair::*which) {
    const auto score = [&](double twin::Score::*field) {
        return [=](const Pair& one) { return one.*which.*field; };
    };
    std::printf(
        "%-8s error of the mean %.2f K, of the median %.2f K by mean square; %.2f and %.2f K in "
        "the median twin; %.0f %% in %.2f K\n",
        name, std::sqrt(mean(twins, score(&twin::Score::squares))),
        std::sqrt(mean(twins, score(&twin::Score::of_median))),
        std::sqrt(median(twins, score(&twin::Score::squares))),
        std::sqrt(median(twins, score(&twin::Score::of_median))),
        100.0 * mean(twins, score(&twin::Score::within)), mean(twins, score(&twin::Score::width)));
}

void print_twin(std::uint64_t seed, const Pair& twin, const PileLearned& learned) {
    std::printf("%3u  without %5.2f K, %3.0f %% in %5.2f K   with %5.2f K, %3.0f %% in %5.2f K ",
                static_cast<unsigned>(seed), std::sqrt(twin.without.squares),
                100.0 * twin.without.within, twin.without.width, std::sqrt(twin.with.squares),
                100.0 * twin.with.within, twin.with.width);
    for (const auto& probe : learned.probes) {
        if (!probe.after) {
            continue;
        }
        std::printf(" %s %.1f: %.1f (%.1f to %.1f)%s", probe.probe.c_str(), probe.celsius,
                    probe.after->value, probe.after->low, probe.after->high,
                    probe.is_trusted() ? "" : "!");
    }
    for (const auto& probe : learned.probes) {
        if (!probe.why.empty()) {
            std::printf("\n    %s: %s", probe.probe.c_str(), probe.why.c_str());
        }
    }
    std::printf("\n");
}

}  // namespace

int main(int count, char** words) {
    const int many = count > 1 ? std::atoi(words[1]) : 20;
    const auto members = static_cast<std::size_t>(count > 2 ? std::atoi(words[2]) : 16);
    const double cell_m = count > 3 ? std::atof(words[3]) : 0.75;
    const auto first = static_cast<std::uint64_t>(count > 4 ? std::atoi(words[4]) : 100);
    WorkerPool pool(1);
    std::vector<Pair> twins;
    double learning = 0.0;
    double forecasting = 0.0;
    for (std::uint64_t seed = first; seed < first + static_cast<std::uint64_t>(many); ++seed) {
        const twin::Twin pile({.seed = seed, .members = members, .cell = Length(cell_m)});
        const auto season = pile.season();
        auto study = pile.study(season);
        Pair one;
        double begun = seconds();
        one.without =
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
        one.with = twin::score(twin::forecast(*study, pile.last_day(), pool), pile.true_celsius());
        print_twin(seed, one, *learned);
        twins.push_back(one);
    }
    print("without", twins, &Pair::without);
    print("with", twins, &Pair::with);
    print_left(twins);
    std::printf("learning takes as long as %.1f forecasts\n", learning / forecasting);
}
