// The question about a field's zones, for jobs and programs. Whoever knows the field's ground
// answers it (app/grounds.hpp): the engine inside a browser does not hold it.
#pragma once

#include <array>

#include "engine/zones_question.hpp"
#include "io/question_parameters.hpp"

namespace beetwright::io {

inline constexpr std::array kZonesParameters{
    ParameterInfo{"field", "the field, by its name; its heights are kept", "Hollow Oak"},
    ParameterInfo{"slice_in", "from lifting to slicing; as the season says without it", "8w"},
    ParameterInfo{"width", "of the machine, in metres; by its rows without it", "2.7"},
    ParameterInfo{"at", "what now is: an instant or a day; the last that is known without it",
                  "2031-12-04T07:00:00Z"}};

inline constexpr QuestionInfo kZonesQuestion{
    "zones", "Into which zones does a field's ground part, and where does switching settings pay?",
    kZonesParameters};

engine::ZonesQuestion zones_question_in(Parameters& parameters);

}  // namespace beetwright::io
