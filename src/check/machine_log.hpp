// What a crew writes down about its machine: how it was set, and what was renewed or repaired.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::check {

/// What became of the advice that was shown when the machine was set.
enum class Answer : std::uint8_t {
    none,      ///< none was shown
    accepted,  ///< set as advised
    declined,
    other,  ///< changed, and otherwise than advised
};

/// One control as it was set: SI, or which of its choices. The harvester's room knows controls by
/// these ids, and what each number is.
struct SetControl {
    std::string control;
    double value = std::numeric_limits<double>::quiet_NaN();
};

/// How a machine was set from then on. Controls that it leaves out stayed as they were.
struct SettingsNote {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string machine;
    std::string field;  ///< empty: not said
    Instant at{};
    Answer answer = Answer::none;
    std::vector<SetControl> controls;  ///< each once; none only where advice was declined
};

/// Stages of a machine whose parts wear, in the order in which a beet meets them.
enum class MachineStage : std::uint8_t {
    leaf_remover,
    scalper,
    lifting_shares,
    roller_bed,
    transfer,
    turbines,
    axial_rolls,
};

/// New parts, or a repair: from then on the stage may work otherwise at the same settings.
struct PartChange {
    Uuid id;
    Uuid supersedes;
    std::string machine;
    Instant at{};
    MachineStage stage = MachineStage::leaf_remover;
    std::string what;
};

}  // namespace beetwright::check
