#include <fmt/format.h>

#include <memory>
#include <thread>

#include "common.hpp"
#include "engine/pile_question.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
void add_pile(CommandLine& program) {
    struct Options : SeasonOptions { std::string pile; std::size_t members = 16; };
    auto options = std::make_shared<Options>();
    auto verb = program.verb("pile", "Will a pile keep, and what should be done to it");
    verb.option("pile", options->pile, "the pile, by its name").required();
    add_season_options(verb, *options);
    verb.does([options] {
        const auto season = load_season(options->season);
        if (!season) { return tell(season.problems()); }
        engine::PileQuestion question{.about = {.pile = options->pile, .members = options->members}};
        question.deeds = {"bare", "fleece", "fan"};
        if (const auto read = chosen_instant(options->at)) { question.about.at = *read; }
        WorkerPool pool(2);
        const auto answer = engine::ask_pile(*season, question, pool);
        if (!answer) { return tell(answer.problems()); }
        fmt::print("{} {:.0f} t until {}\n", answer->pile, answer->mass.si()/1e3, to_text(answer->until));
        for (const auto& part : answer->parts) {
            const auto& last = part.days.back();
            fmt::print("{:.0f}-{:.0f} m {} {} mean {:.1f} ({:.1f}-{:.1f}) warmest {:.1f} sugar lost {:.2f} % ({:.2f}-{:.2f}) killed {:.1f} % rot {:.2f} days left {:.0f} ({:.0f}-{:.0f})\n", part.part.from.si(), part.part.to.si(), part.facts.fields.front(), to_text(std::chrono::floor<std::chrono::days>(part.part.piled())), last.mean_C.value, last.mean_C.low, last.mean_C.high, last.warmest_C.value, 100*last.sugar_lost.value, 100*last.sugar_lost.low, 100*last.sugar_lost.high, 100*last.killed.value, last.rotting.value, part.days_left ? part.days_left->value : 0, part.days_left ? part.days_left->low : 0, part.days_left ? part.days_left->high : 0);
        }
        fmt::print("sugar lost {:.0f} kg, money {:.0f} ({:.0f}-{:.0f})\n", answer->sugar_lost_kg.value, answer->money_lost.value.si(), answer->money_lost.low.si(), answer->money_lost.high.si());
        for (const auto& deed : answer->deeds) fmt::print("deed {} gain {:.0f} ({:.0f}-{:.0f}) cost {:.0f} chance {:.2f}\n", deed.name, deed.gain.value.si(), deed.gain.low.si(), deed.gain.high.si(), deed.cost.si(), deed.chance_better);
        for (const auto& line : answer->assumptions) fmt::print("- {}\n", line);
        return 0;
    });
}
}  // namespace beetwright::cli
