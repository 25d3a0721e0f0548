// What is known of a machine's work in a field, from all that was seen and written down by now.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/result.hpp"
#include "engine/ground_days.hpp"
#include "engine/harvester_memory.hpp"
#include "harvester/advice.hpp"
#include "harvester/belief.hpp"
#include "harvester/look.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// What a machine meets in a field, and what had to be assumed of it, in sentences.
struct FieldConditions {
    harvester::Conditions conditions;
    std::vector<std::string> seen;  ///< "soil sticky, by hand on 2031-10-04"
    std::vector<std::string> assumptions;
};
/// By looks at the standing crop up to `now`, else by weather, else usual. `expected`: clean beet
/// that stands there.
FieldConditions conditions_of(const ledger::Season& season, const ledger::Field& field,
                              const ledger::Machine& machine, CleanMassPerArea expected,
                              const Catalogue& catalogue, GroundDays& ground, Instant now);

struct HarvesterState {
    const ledger::Machine* owner = nullptr;
    harvester::Machine machine;
    harvester::Settings settings;   ///< as last noted in this field, else anywhere
    std::optional<Instant> set_at;  ///< when the last of them was noted; absent: as usual, assumed
    FieldConditions conditions;
    harvester::Belief belief;
    harvester::SightConstants sight;  ///< by which it learned
    harvester::KeptOff kept_off;
    int checks_here = 0;       ///< in this field
    int checks_elsewhere = 0;  ///< of this machine in others
    double beets_here = 0.0;   ///< judged, as many as they count for
    std::vector<Wear> wear{};
    std::vector<std::string> assumptions{};
};

/// `season` as it was known `now`, without what was superseded. `standing`: clean beet that stands
/// on each of its fields; see ledger::standing_crops(). Problems: no such field, no machine
/// there, a machine whose build is not said, and what is wrong with its controls.
Result<HarvesterState> harvester_state(const ledger::Season& season, const ledger::Field& field,
                                       std::span<const CleanMassPerArea> standing,
                                       const Catalogue& catalogue, Instant now,
                                       HarvesterMemory& memory);

}  // namespace beetwright::engine
