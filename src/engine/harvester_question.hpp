// How to set a harvester on entry, and what to change next.
//
// A struct in, a struct out; no I/O. docs/methods/harvester_advice.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "check/standing_look.hpp"
#include "engine/harvester_state.hpp"
#include "harvester/advice.hpp"
#include "harvester/dial.hpp"
#include "harvester/entry.hpp"
#include "harvester/next_look.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

struct HarvesterQuestion {
    std::string field;
    /// Slice this many days after lifting, whatever the season says; absent: as the season says.
    std::optional<int> slice_after_days = {};
    std::optional<Instant> at = {};  ///< now; absent: as_of()
    /// What somebody at the field sees now, besides what was recorded; its field and time are those
    /// of the question.
    std::optional<check::StandingLook> seen = {};
};

/// A control's value, in its unit and on its display.
struct ControlReading {
    std::string control;
    std::string words;                            ///< "depth of the shares"
    double value = 0.0;                           ///< SI, or which of the choices
    std::string text;                             ///< "85 mm", "tined"
    std::optional<harvester::DialReading> shown;  ///< absent: no display is bound, or none reaches
};

/// What one kind of fault costs as things stand: what would be earned more without it.
struct FaultCost {
    harvester::Figure figure{};
    Estimate<MoneyPerArea> cost;
};

/// Where the beets go, and what faults cost there.
struct OnTheWay {
    Day lifted{};
    Day sliced{};
    std::vector<FaultCost> costs;  ///< dearest first
};

struct SetupLine {
    ControlReading reading;
    double usual = 0.0;  ///< SI
    std::string usual_text;
    Estimate<MoneyPerArea> cost_of_usual;  ///< what the usual value in its place would cost
    std::vector<std::string> reasons;      ///< in sentences; none where it is as usual
};

struct SetupAnswer {
    std::string field;
    std::string machine;
    Instant at{};
    std::string soil;                  ///< "sticky"
    harvester::Conditions conditions;  ///< that it is for
    check::Evenness evenness{};        ///< of those crowns
    std::vector<std::string> seen;     ///< what is known of the field, and from what
    std::vector<SetupLine> lines;      ///< every control, in the order of the machine
    harvester::Figures figures{};      ///< expected
    Estimate<MoneyPerArea> gain;       ///< over the usual settings
    OnTheWay on_the_way;
    int checks_elsewhere = 0;
    std::vector<std::string> assumptions;
    std::vector<std::string> cautions;
};

enum class Verdict : std::uint8_t {
    change,  ///< make this change
    look,    ///< look first: it is worth more than any change
    leave,   ///< what was seen proves nothing worth a change
};

struct ChangeLine {
    std::vector<ControlReading> from;  ///< one, or several that move together
    std::vector<ControlReading> to;
    std::string confirm;  ///< what to look at afterwards
};

struct ChangeTried {
    std::vector<ChangeLine> changes;
    std::vector<std::string> confirm;  ///< of all of them, each look once
    Estimate<MoneyPerArea> gain;
    double chance_better = 0.0;
    harvester::Figures figures{};  ///< after it
};

struct LookWorth {
    harvester::LookAt look{};
    MoneyPerArea worth;
};

struct AdviceAnswer {
    std::string field;
    std::string machine;
    Instant at{};
    std::string soil;
    std::vector<std::string> seen;
    std::vector<ControlReading> settings;
    std::optional<Instant> set_at;
    Verdict verdict = Verdict::leave;
    harvester::Figures now{};
    std::optional<ChangeTried> change;
    std::vector<ChangeTried> others;
    std::vector<LookWorth> looks;  ///< dearest first
    OnTheWay on_the_way;
    std::vector<Wear> wear;
    int checks_here = 0;
    int checks_elsewhere = 0;
    double beets_here = 0.0;
    std::vector<std::string> assumptions;
    std::vector<std::string> cautions;
};

/// `memory`: of earlier questions, which it spares the way; the answer is the same without.
/// Problems: those of harvester_state() and schedule(), and bad replacements of constants.
Result<SetupAnswer> ask_setup(const ledger::Season& season, const HarvesterQuestion& question,
                              HarvesterMemory* memory = nullptr);
Result<AdviceAnswer> ask_advice(const ledger::Season& season, const HarvesterQuestion& question,
                                HarvesterMemory* memory = nullptr);

}  // namespace beetwright::engine
