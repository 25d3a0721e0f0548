#include "io/pile_parameters.hpp"

#include <algorithm>

namespace beetwright::io {
namespace {

Length cell_of(Parameters& parameters) {
    static constexpr std::array<std::string_view, 3> kDetails{"coarse", "usual", "fine"};
    constexpr std::array kCells{Length(1.0), Length(0.5), Length(0.25)};
    return kCells[parameters.one_of("detail", kDetails, 1)];
}

/// "bare,fleece"
std::vector<std::string> names_in(const std::string& text) {
    std::vector<std::string> names;
    std::size_t begin = 0;
    while (begin < text.size()) {
        const auto end = std::min(text.find(',', begin), text.size());
        if (end > begin) {
            names.push_back(text.substr(begin, end - begin));
        }
        begin = end + 1;
    }
    return names;
}

}  // namespace

engine::StudyQuestion study_question_in(Parameters& parameters) {
    engine::StudyQuestion about;
    about.at = parameters.instant("at");
    about.until = parameters.day("until");
    about.members = parameters.whole("members", about.members);
    about.cell = cell_of(parameters);
    return about;
}

engine::PileQuestion pile_question_in(Parameters& parameters) {
    engine::PileQuestion question{.about = study_question_in(parameters)};
    question.about.pile = parameters.text("pile");
    question.deeds = names_in(parameters.text("deeds"));
    question.looks_for_days = parameters.yes("days", false);
    if (const std::size_t part = parameters.whole("part", 0); part > 0) {
        question.pictured = part - 1;
    }
    question.pictures = parameters.whole("pictures", question.pictures);
    return question;
}

engine::PileOrderQuestion pile_order_question_in(Parameters& parameters) {
    engine::PileOrderQuestion question{.about = study_question_in(parameters)};
    constexpr double kTonne_kg = 1000.0;
    if (const auto rate = parameters.positive("rate")) {
        question.a_day = CleanMass(*rate * kTonne_kg);
    }
    static constexpr std::array<std::string_view, 4> kTaken{"beginning", "end", "either",
                                                            "anywhere"};
    question.taken_from = static_cast<campaign::TakenFrom>(parameters.one_of("taken", kTaken, 2));
    if (const auto cost = parameters.positive("move")) {
        question.loader_move = Money(*cost);
    }
    return question;
}

}  // namespace beetwright::io
