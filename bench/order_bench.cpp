// The slicing order at scale: states gone through against time, beside a bare pass over as many;
// and where there are too many, what the search leaves open and how long it takes. Questions are
// those of the tests. Ratios in one run; nothing here passes or fails.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "campaign/slicing_fixture.hpp"

namespace {

using namespace beetwright;
using campaign::Invented;
using campaign::TakenFrom;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

struct Row {
    const char* name;
    Invented kind;
};

Invented piles(std::size_t count, std::size_t parts, TakenFrom way, double move_money = 0.0) {
    return {.parts_of_piles = std::vector<std::size_t>(count, parts),
            .taken_from = {way},
            .days = 150,
            .loader_move_money = move_money};
}

/// As many states, each the most of so many others and a number: what no such search can be
/// quicker than.
double bare_pass(double states, std::size_t piles_of_state) {
    const auto count = static_cast<std::size_t>(states);
    std::vector<double> worth(count + 1, 0.0);
    std::vector<std::size_t> strides;
    const double digits = std::pow(states, 1.0 / static_cast<double>(piles_of_state));
    for (std::size_t p = 0; p < piles_of_state; ++p) {
        strides.push_back(static_cast<std::size_t>(std::pow(digits, static_cast<double>(p))));
    }
    const double seconds = seconds_of([&] {
        for (std::size_t s = count; s-- > 0;) {
            double most = 0.0;
            for (const std::size_t stride : strides) {
                most = std::max(most, worth[std::min(s + stride, count)] + 1.0);
            }
            worth[s] = most;
        }
    });
    return worth[0] > 0.0 ? seconds : 0.0;
}

void go_through_states() {
    const std::vector<Row> rows{
        {"3 piles of 20 from an end", piles(3, 20, TakenFrom::beginning)},
        {"4 piles of 20 from an end", piles(4, 20, TakenFrom::beginning)},
        {"5 piles of 19 from an end", piles(5, 19, TakenFrom::beginning)},
        {"4 piles of 20, moves cost", piles(4, 20, TakenFrom::beginning, 2000.0)},
        {"4 piles of 8 from either end", piles(4, 8, TakenFrom::either_end)},
        {"a pile of 20 anywhere", piles(1, 20, TakenFrom::anywhere)},
        {"8 piles of 1", piles(8, 1, TakenFrom::beginning)},
    };
    for (const Row& row : rows) {
        const auto question = invented(1, row.kind);
        const double states = campaign::states_of(question);
        bool is_exact = false;
        const double exact =
            seconds_of([&] { is_exact = campaign::best_slicing_order(question)->is_exact; });
        auto searched = question;
        searched.effort.most_states = 0;
        double worth = 0.0;
        const double search =
            seconds_of([&] { worth = campaign::best_slicing_order(searched)->worth.value.si(); });
        const double best = campaign::best_slicing_order(question)->worth.value.si();
        const double bare = bare_pass(states, question.piles.size());
        std::printf(
            "%-30s %9.0f states%s in %6.3f s, %4.0f ns each, %4.1f bare passes; the search takes "
            "%5.2f of that and misses %.1e\n",
            row.name, states, is_exact ? "" : " (too many)", exact, 1e9 * exact / states,
            exact / bare, search / exact, 1.0 - worth / best);
    }
}

void search() {
    const std::vector<Row> rows{
        {"8 piles of 12 from an end", piles(8, 12, TakenFrom::beginning)},
        {"the same, moves cost", piles(8, 12, TakenFrom::beginning, 2000.0)},
        {"8 piles of 12 from either end", piles(8, 12, TakenFrom::either_end)},
        {"8 piles of 12 anywhere", piles(8, 12, TakenFrom::anywhere)},
        {"10 piles of 30 from an end", piles(10, 30, TakenFrom::beginning)},
    };
    for (const Row& row : rows) {
        const auto question = invented(1, row.kind);
        double gap = 0.0;
        double at_stake = 0.0;
        bool is_best = false;
        const double seconds = seconds_of([&] {
            const auto answer = campaign::best_slicing_order(question);
            gap = (answer->bound - answer->worth.value) / answer->worth.value;
            at_stake = answer->first_piled_first->less_than_found.value / answer->worth.value;
            is_best = answer->is_best;
        });
        std::printf(
            "%-30s %9.1e states: %5.2f s; %s, gap %.3f %% of the worth; first piled first sliced "
            "is "
            "%.1f %% less\n",
            row.name, campaign::states_of(question), seconds,
            is_best ? "proven best" : "not settled", 100.0 * gap, 100.0 * at_stake);
    }
}

}  // namespace

int main() {
    go_through_states();
    search();
}
