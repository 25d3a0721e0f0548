// The tables in which owners and crews say how their machines are made and set.
#include <array>

#include "check/machine_log.hpp"
#include "harvester/control.hpp"
#include "io/columns.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

using namespace columns;
using check::Answer;
using check::MachineStage;
using harvester::Guard;

/// Numbers whose unit stands in the row, or that a display shows.
constexpr double kMostOfRow = 1e6;
constexpr double kLeastStep = 1e-6;

constexpr Column plain(std::string_view name, Presence presence, std::string_view words,
                       double least = -kMostOfRow) {
    return number(name, presence, UnitKind::number, "", "", least, kMostOfRow, words);
}

/// The choices of all controls that have any; which of them a row may use, its control says.
constexpr std::array kChoices{Word{"off", 0}, Word{"on", 1}, Word{"closed", code(Guard::closed)},
                              Word{"tined", code(Guard::tined)}};

constexpr Column number_or_choice(std::string_view name, std::string_view words) {
    Column column = plain(name, optional, words);
    column.kind = CellKind::number_or_word;
    column.allowed = kChoices;
    return column;
}

constexpr Column kMachine =
    name_of(Master::machines, "machine", required, "the machine's name, as in machines.csv");
constexpr Column kControl =
    text("control", required, "which of its controls: share.depth, turbine_2.speed");
constexpr Column kUnit = text(
    "unit", optional, "of the row's amounts: mm, in, rpm, mph; empty: the control's usual one");

constexpr std::array kControls{
    kMachine,
    kControl,
    word("fitted", kYesNo, "whether the machine has it; empty: yes"),
    word("hands_off", kYesNo, "whether advice leaves it as it is; empty: no"),
    kUnit,
    plain("least", optional, "how low it goes; empty, as the next three: as usual for the build"),
    plain("most", optional, "how high it goes"),
    plain("step", optional, "the smallest change that is made"),
    number_or_choice("usual", "what it is set to before anybody has looked at beets"),
    plain("display_step", optional,
          "the smallest change of the number on its display; dials.csv says what those mean",
          kLeastStep)};

constexpr std::array kDials{kMachine,
                            kControl,
                            plain("shown", required, "the number on the display"),
                            plain("actual", required, "what was measured at the machine then"),
                            kUnit,
                            day("measured", optional, "the day on which it was measured")};

constexpr std::array kAnswers{Word{"accepted", code(Answer::accepted)},
                              Word{"declined", code(Answer::declined)},
                              Word{"other", code(Answer::other)}};

constexpr std::array kSettings{
    text("id", required, "the note's name or id; rows with the same one are one note"),
    supersedes,
    instant(),
    kMachine,
    name_of(Master::fields, "field", optional, "the field's name, as in fields.csv"),
    word("answer", kAnswers, "what became of the advice that was shown; empty: none was"),
    text("control", optional,
         "what was set, as in controls.csv; empty only in the one row of a note that advice was "
         "declined"),
    number_or_choice("value", "what it was set to"),
    text("unit", optional,
         "of the value: mm, in, rpm, mph; display: the number on its display; empty: the "
         "control's usual one")};

constexpr std::array kStages{Word{"leaf_remover", code(MachineStage::leaf_remover)},
                             Word{"scalper", code(MachineStage::scalper)},
                             Word{"lifting_shares", code(MachineStage::lifting_shares)},
                             Word{"roller_bed", code(MachineStage::roller_bed)},
                             Word{"transfer", code(MachineStage::transfer)},
                             Word{"turbines", code(MachineStage::turbines)},
                             Word{"axial_rolls", code(MachineStage::axial_rolls)}};

constexpr std::array kParts{own_id,
                            supersedes,
                            kMachine,
                            instant(),
                            word("stage", kStages, "where on the machine", required),
                            text("what", required, "what was renewed or repaired")};

}  // namespace

namespace controls {
constinit const Table table{"controls.csv", optional,
                            "What can be set on a machine, where its owner knows more than its "
                            "build says; a row a control.",
                            kControls};
}
namespace dials {
constinit const Table table{"dials.csv", optional,
                            "What the numbers on displays mean: points measured at the machine, at "
                            "least two for a control.",
                            kDials};
}
namespace settings {
constinit const Table table{"settings.csv", optional,
                            "How machines were set, a row a control; what a note leaves out stayed "
                            "as it was.",
                            kSettings};
}
namespace parts {
constinit const Table table{"parts.csv", optional, "New parts and repairs of machines.", kParts};
}

}  // namespace beetwright::io
