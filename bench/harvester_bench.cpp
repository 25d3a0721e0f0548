// Learning a season of 10,000 checks of one machine, and the way from a check to advice.
//
// Goals: the season in under 10 s, a check to advice in under 100 ms. Also what part of the latter
// each step takes. Nothing here passes or fails.
#include <chrono>
#include <cstdio>
#include <string>

#include "crew/economy.hpp"
#include "crew/other_machine.hpp"
#include "harvester/advice.hpp"
#include "harvester/belief.hpp"
#include "harvester/next_look.hpp"

namespace {

using namespace beetwright;
using namespace beetwright::harvester;

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

int main() {
    constexpr int kChecks = 10'000;
    constexpr int kChecksAField = 20;
    const crew::Economy economy(60);
    const Machine machine = ready_made(MachineKind::six_row_turbines);
    const SightConstants sight =
        sight_constants(economy.catalogue(), ledger::loss_of_breaks(economy.catalogue()));
    const crew::OtherMachine other(machine, 5, 1);
    const auto here = situation(machine, other.found(), other.judged(), economy.catalogue());
    RandomStream random(1, "bench");
    std::vector<Look> looks;
    for (int i = 0; i < kChecks; ++i) {
        looks.push_back(other.look(other.found(), 1.0, 100, SeenOnTheWay::after_cleaning, random));
    }
    Belief belief(economy.catalogue());
    const double season_s = seconds_of([&] {
        for (int i = 0; i < kChecks; ++i) {
            belief.enter("field " + std::to_string(i / kChecksAField));
            belief.learn(looks[static_cast<std::size_t>(i)], *here, sight);
        }
    });
    std::printf("a season of %d checks: %.1f s (goal 10), %.2f ms each\n", kChecks, season_s,
                1e3 * season_s / kChecks);

    const Worth worth = [&](const Outcome& outcome, std::size_t draw) {
        return economy.worth()(outcome, draw);
    };
    std::vector<double> draws;
    const double learn_s = seconds_of([&] { belief.learn(looks.front(), *here, sight); });
    const double draw_s = seconds_of([&] { draws = belief.draws(crew::Economy::kDraws, 1); });
    const Ground ground{machine, other.judged(), economy.catalogue(), draws, worth};
    std::vector<Tried> options;
    const double advise_s = seconds_of([&] {
        const auto advice = advise(other.found(), ground, {}, 2e-4);
        options = advice->others;
    });
    const double look_s = seconds_of([&] { worth_of_looks(*here, ground, options, sight, 1); });
    std::printf(
        "check to advice: %.0f ms (goal 100): learning %.1f, draws %.1f, changes %.1f, looks "
        "%.1f\n",
        1e3 * (learn_s + draw_s + advise_s + look_s), 1e3 * learn_s, 1e3 * draw_s, 1e3 * advise_s,
        1e3 * look_s);
    return 0;
}
