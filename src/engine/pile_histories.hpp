// What the physics of piles did, and will do, to each field's beets, for the ledger.
#pragma once

#include "engine/pile_study.hpp"
#include "ledger/section_history.hpp"

namespace beetwright::engine {

struct Histories {
    ledger::SectionHistories by_field;
    std::vector<std::string> left_out;  ///< piles that none could be worked out of, and why
};

/// Of all of the season's piles. `about.pile` is not looked at. Problems: that it was stopped.
Result<Histories> pile_histories(const ledger::Season& season, const StudyQuestion& about,
                                 WorkerPool& pool, Progress* progress = nullptr);

}  // namespace beetwright::engine
