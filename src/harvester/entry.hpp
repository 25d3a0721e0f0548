// Settings to enter a field with, before anything has been seen of the work there.
//
// docs/methods/harvester_advice.md.
#pragma once

#include <string>
#include <vector>

#include "harvester/advice.hpp"
#include "harvester/prospect.hpp"

namespace beetwright::harvester {

/// Why a control is entered with this value rather than the usual one.
struct Reason {
    std::string control;
    double usual = 0.0;  ///< SI
    double value = 0.0;
    /// What the usual value in its place would cost [money/m2].
    Estimate<double> cost_of_usual;
    /// The figures that it is for: what it changes most, by their worth.
    std::vector<Figure> for_the_sake_of;
};

struct Entry {
    Settings settings;
    Figures figures{};
    std::vector<Reason> reasons;  ///< of controls that differ from usual, dearest first
    Estimate<double> gain;        ///< over the usual settings
};

/// Values that earn this much less than the best are as good: of those, the nearest to usual.
inline constexpr double kAsGood = 1e-4;  ///< [money/m2], 1 a hectare

/// Problems: those of situation().
Result<Entry> entry_settings(const Ground& ground, const KeptOff& kept_off);

}  // namespace beetwright::harvester
