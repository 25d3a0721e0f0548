// What to change next, and whether to change anything.
//
// Every change that one would make at once is tried over draws of what is known, against leaving
// all as it is in the same draws. docs/methods/harvester_advice.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/estimate.hpp"
#include "harvester/prospect.hpp"

namespace beetwright::harvester {

/// One control, or all of its kind together: turbines go up and down as one.
struct Change {
    std::vector<std::string> controls;
    double from = 0.0;  ///< SI; of several, the first's
    double to = 0.0;
};

/// What advice keeps off.
struct KeptOff {
    std::vector<std::string> pinned;  ///< controls that stay as they are
    /// A change that was declined: none of this control in this direction.
    struct Declined {
        std::string control;
        bool upwards = false;
    };
    std::vector<Declined> declined;
    /// Nothing has been seen of the field yet: it is begun no faster than usual.
    bool is_begun = true;

    /// Whether a control may be set so.
    [[nodiscard]] bool is_too_fast(const Control& control, double value) const {
        return !is_begun && control.kind == ControlKind::forward_speed && value > control.usual;
    }
};

/// A change, by what it gains over leaving everything as it is [money/m2].
struct Tried {
    std::vector<Change> changes;
    Settings settings;
    Estimate<double> gain;
    double chance_better = 0.0;
    Figures figures{};            ///< after it
    std::vector<double> gains{};  ///< draw by draw
};

struct Advice {
    Figures now{};  ///< figures as all stands
    /// The change most worth making: one, and a second where each, given the other, is likely
    /// enough to help and worth it. Nothing where none is.
    std::optional<Tried> change;
    std::vector<Tried> others;  ///< what came next, best first
};

/// Chance of helping below which a change is not advised.
inline constexpr double kLeastChance = 0.65;

/// Problems: those of situation(), for the settings as they stand.
Result<Advice> advise(const Settings& settings, const Ground& ground, const KeptOff& kept_off,
                      double least_gain);

/// Whether the response is reckoned by such controls; to move others would change no figure.
bool is_reckoned(ControlKind kind);

}  // namespace beetwright::harvester
