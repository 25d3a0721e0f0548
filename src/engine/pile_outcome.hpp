// What a pile comes to under a deed, against leaving it as it is: money, sugar, power.
//
// Both go through the same members, and are held against each other member by member: so weather
// and beets, which are most of what is not known, fall out of the difference.
#pragma once

#include <string>
#include <vector>

#include "base/estimate.hpp"
#include "engine/pile_study.hpp"

namespace beetwright::engine {

/// What the pile comes to under one deed, member by member.
struct Outcome {
    std::vector<double> paid;      ///< [money], each part on its slicing day
    std::vector<double> sugar;     ///< kept [kg]
    std::vector<double> covered;   ///< length, each time that a cover is put on [m]
    std::vector<double> energy_J;  ///< of fans, from now on
    std::vector<double> warmest;   ///< [°C] on the last day
};
Outcome outcome_of(const PileStudy& study, const Courses& courses);

/// In the pile as it was piled [kg].
double total_sugar(const PileStudy& study, std::size_t member);

/// What a deed comes to, against leaving the pile as it is.
struct DeedAnswer {
    std::string name, words;
    PileDeed deed;
    Estimate<Money> gain;  ///< on the last line: beets kept, less what the deed costs
    Estimate<double> sugar_kept_kg;
    Money cost;               ///< mean
    double energy_kWh = 0.0;  ///< of fans, beyond those that run anyway; mean
    double chance_better = 0.0;
    Estimate<double> sugar_lost;  ///< share of what was piled, with it
    Estimate<double> warmest_C;   ///< of all beets, on the last day
};
/// Without name and words.
DeedAnswer deed_answer(const PileStudy& study, const PileDeed& deed, const Outcome& left_alone,
                       const Outcome& done);

}  // namespace beetwright::engine
