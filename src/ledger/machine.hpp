// A machine of the season, and what its owner and its crew say of it.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "harvester/dial.hpp"
#include "harvester/machine.hpp"

namespace beetwright::ledger {

/// The wheel of a machine that bears most, with a full tank; NaN: not known.
struct Wheel {
    Mass load;
    Pressure pressure;  ///< in its tyre
    Length width;
    Length diameter;
};

/// A number of a display and what was measured at it.
struct DialPoint : harvester::DialPoint {
    std::optional<Day> measured;  ///< absent: not said when
};

/// What is said of one control. Numbers are SI, or which of its choices; NaN: as on machines of its
/// build.
struct OwnControl {
    std::string control;     ///< as harvester::Control::id() gives it
    bool fitted = true;      ///< the machine has it
    bool hands_off = false;  ///< advice leaves it as it is
    double least = std::numeric_limits<double>::quiet_NaN();
    double most = std::numeric_limits<double>::quiet_NaN();
    double step = std::numeric_limits<double>::quiet_NaN();
    double usual = std::numeric_limits<double>::quiet_NaN();
    /// The smallest change of its display's number; NaN: no display is bound.
    double display_step = std::numeric_limits<double>::quiet_NaN();
    std::vector<DialPoint> dial{};

    /// Its display's numbers have a meaning, if dial_of() finds nothing wrong with it.
    [[nodiscard]] bool has_dial() const { return !dial.empty(); }
};

struct Machine {
    std::string name;
    std::string kind;  ///< "six-row self-propelled", in the owner's words
    std::int32_t rows = 0;
    Length row_spacing;
    Wheel heaviest_wheel{};
    std::optional<harvester::MachineKind> build{};  ///< absent: not said
    MoneyPerTime hour_cost{};            ///< machine and crew, without fuel; NaN: not said
    std::vector<OwnControl> controls{};  ///< each once, in the owner's order

    /// Null where nothing is said of it.
    [[nodiscard]] const OwnControl* find(std::string_view control) const;
};

}  // namespace beetwright::ledger
