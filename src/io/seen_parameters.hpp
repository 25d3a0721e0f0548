// What somebody at a field sees, said along with a question: soil, crowns, beets and leaf by eye,
// in the words and within the bounds of the season's table of looks (standing.csv).
#pragma once

#include <optional>

#include "check/standing_look.hpp"
#include "io/question_parameters.hpp"

namespace beetwright::io {

inline constexpr std::array kSeenParameters{
    ParameterInfo{"soil_in_hand", "how soil feels that is lifted from, as seen now", "sticky"},
    ParameterInfo{"crown_height",
                  "mean height of crowns over the ground, as seen now; cm, or as said", "9cm"},
    ParameterInfo{"evenness", "whether crowns stand at one height, as seen now", "uneven"},
    ParameterInfo{"root_mass", "mean mass of a beet, as seen now; kg, or as said", "0.9kg"},
    ParameterInfo{"leaf_sick", "per cent of the leaf that is sick, as seen now", "30"},
    ParameterInfo{"leaf_frozen", "whether frost killed the leaf, as seen now", "no"}};

/// Nothing where none of them is said. What is wrong is added to the parameters' problems.
std::optional<check::StandingLook> seen_in(Parameters& parameters);

}  // namespace beetwright::io
