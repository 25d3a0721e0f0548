// The parameters of a pile's questions, for the command line, jobs and programs alike.
#pragma once

#include <array>

#include "engine/pile_order_question.hpp"
#include "engine/pile_question.hpp"
#include "io/question_parameters.hpp"

namespace beetwright::io {

inline constexpr ParameterInfo kPileAt{
    "at", "what now is: an instant or a day; the last that is known without it",
    "2031-12-04T07:00:00Z"};
inline constexpr ParameterInfo kPileUntil{
    "until", "the day to look ahead to; that on which its last beets are sliced without it",
    "2032-02-01"};
inline constexpr ParameterInfo kPileMembers{
    "members",
    "ways in which the weather and all that is not known may go, 2 to 200; 16 without it", "50"};
inline constexpr ParameterInfo kPileDetail{
    "detail", "coarse, usual or fine: cells of a section of 1, 0.5 or 0.25 m", "fine"};

inline constexpr std::array kPileParameters{
    ParameterInfo{"pile", "the pile, by its name", "Copse Road pile"},
    kPileAt,
    kPileUntil,
    kPileMembers,
    kPileDetail,
    ParameterInfo{
        "deeds",
        "what it would come to if these were done, parted by commas: bare, fleece, frost, "
        "straw, plastic, strips, fan, freeze",
        "bare,fleece,fan"},
    ParameterInfo{"days", "yes: also looks for the days on which to put a cover on and off", "yes"},
    ParameterInfo{"part", "the part whose section is shown, from 1; the one due first without it",
                  "2"},
    ParameterInfo{"pictures", "of that section through time, 0 to 60; 24 without it", "40"}};
inline constexpr std::array kPilesParameters{kPileAt, kPileUntil, kPileMembers, kPileDetail};

inline constexpr ParameterInfo kPileRate{
    "rate",
    "tonnes of clean beet that the slicer takes of the piles in a day; without it as much "
    "as has them sliced by the season's last day",
    "800"};
inline constexpr ParameterInfo kPileTaken{
    "taken", "from where a pile is taken: beginning, end, either or anywhere; either without it",
    "anywhere"};
inline constexpr ParameterInfo kPileMove{
    "move", "what each move of the loader to another pile costs; nothing without it", "400"};
inline constexpr std::array kPileOrderParameters{kPileAt,   kPileMembers, kPileDetail,
                                                 kPileRate, kPileTaken,   kPileMove};

/// What is asked of all piles. What is wrong is among the parameters' problems.
engine::StudyQuestion study_question_in(Parameters& parameters);
engine::PileQuestion pile_question_in(Parameters& parameters);
engine::PileOrderQuestion pile_order_question_in(Parameters& parameters);

}  // namespace beetwright::io
