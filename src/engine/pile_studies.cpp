#include "engine/pile_studies.hpp"

namespace beetwright::engine {

std::vector<StudiedPile> study_piles(const ledger::Season& season, StudyQuestion about) {
    std::vector<StudiedPile> piles;
    for (const ledger::Destination& destination : season.destinations) {
        if (destination.kind != ledger::DestinationKind::pile) {
            continue;
        }
        about.pile = destination.name;
        StudiedPile& pile = piles.emplace_back();
        pile.pile = destination.name;
        if (auto study = PileStudy::make(season, about)) {
            pile.study = std::move(*study);
        } else {
            pile.problems = study.problems();
        }
    }
    return piles;
}

double runs_of(const std::vector<StudiedPile>& piles) {
    double runs = 0.0;
    for (const StudiedPile& pile : piles) {
        runs += pile.study ? pile.study->runs() + learning_runs(*pile.study) : 0.0;
    }
    return runs;
}

Result<Courses> learn_and_run(PileStudy& study, WorkerPool& pool, Steps& steps,
                              PileLearned* learned) {
    auto said = learn_from_probes(study, pool, steps);
    if (!said) {
        return said.problems();
    }
    if (learned != nullptr) {
        *learned = *std::move(said);
    }
    return study.run({}, pool, steps);
}

}  // namespace beetwright::engine
