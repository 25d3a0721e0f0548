// A field's machine as it is set: what leaves the flow of beets at each stage, and how what comes
// out would follow one of its controls.
//
// A struct in, a struct out; no I/O. docs/methods/harvester_response.md.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "engine/harvester_question.hpp"
#include "harvester/control.hpp"
#include "harvester/prospect.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// What is told of the flow of beets, in the order in which they meet it. Shares are of the beets
/// that stood before the machine.
enum class FlowFigure : std::uint8_t {
    long_stalks,         ///< beets with leaf stalks over 2 cm left
    too_deep,            ///< beets topped too deep
    knocked_out,         ///< beets struck out of the row
    tails_in_lifting,    ///< broken at over 2 cm, and left in the soil
    unlifted,            ///< beets that the shares pass by
    lost_on_the_bed,     ///< beets lost through rolls and transfer
    tails_in_cleaning,   ///< broken at over 2 cm by rolls and what cleans
    lost_in_cleaning,    ///< beets lost between guards and turbines, or between axial rolls
    torn_skin,           ///< [m2] of a beet
    soil,                ///< [kg/kg clean], on beets and loose
    reaches_the_bunker,  ///< beets
};
inline constexpr std::size_t kFlowFigures = 11;
const harvester::FigureTraits& traits(FlowFigure figure);

struct StageFigure {
    FlowFigure figure{};
    Estimate<double> amount;  ///< SI
};

struct StageControl {
    ControlReading now;
    std::string least_text, most_text, usual_text;
    double least = 0.0, most = 0.0, usual = 0.0;  ///< SI
    bool hands_off = false;
    /// Whether what comes out is reckoned by it.
    bool is_reckoned = false;
};

struct StageOfMachine {
    harvester::Stage stage{};
    std::vector<StageFigure> figures;
    std::vector<StageControl> controls;
};

struct MachineAnswer {
    std::string field;
    std::string machine;
    Instant at{};
    std::string soil;
    std::vector<std::string> seen;
    std::optional<Instant> set_at;
    std::vector<StageOfMachine> stages;  ///< those that the machine has, in their order
    std::vector<Wear> wear;
    int checks_here = 0;
    int checks_elsewhere = 0;
    std::vector<std::string> assumptions;
    std::vector<std::string> cautions;
};

struct ResponseQuestion {
    HarvesterQuestion about;
    std::string control;  ///< its id
};

/// What comes out at one value of the control, all else as it stands.
struct ResponsePoint {
    ControlReading reading;
    std::array<Estimate<double>, harvester::kFigures> figures{};  ///< by Figure, SI
    Estimate<MoneyPerArea> gain;                                  ///< over how it is set now
};

struct ResponseAnswer {
    std::string field;
    std::string machine;
    Instant at{};
    ControlReading now;
    bool is_choice = false;
    std::vector<std::string> together;  ///< controls that are moved with it, this one among them
    std::vector<ResponsePoint> points;  ///< by rising value; the present one is among them
    int checks_here = 0;
    int checks_elsewhere = 0;
};

/// Problems: those of harvester_basis().
Result<MachineAnswer> ask_machine(const ledger::Season& season, const HarvesterQuestion& question,
                                  HarvesterMemory* memory = nullptr);
/// Problems: likewise, and a control that the machine has not.
Result<ResponseAnswer> ask_response(const ledger::Season& season, const ResponseQuestion& question,
                                    HarvesterMemory* memory = nullptr);

}  // namespace beetwright::engine
