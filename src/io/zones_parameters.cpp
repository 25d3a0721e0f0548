#include "io/zones_parameters.hpp"

namespace beetwright::io {

engine::ZonesQuestion zones_question_in(Parameters& parameters) {
    engine::ZonesQuestion question{.field = parameters.text("field")};
    question.slice_after_days = parameters.days("slice_in");
    question.at = parameters.instant("at");
    if (const auto width_m = parameters.positive("width")) {
        question.width = Length(*width_m);
    }
    return question;
}

}  // namespace beetwright::io
