#include "engine/pile_order_question.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "engine/out_of_bounds.hpp"
#include "engine/pile_studies.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

constexpr int kMostDays = 250;

/// Every pile of which something is left, looked ahead to a day.
struct Studies {
    std::vector<StudiedPile> all;
    std::vector<std::string> left_out;
};

Studies study_all(const ledger::Season& season, StudyQuestion about, std::optional<Day> until) {
    about.until = until;
    Studies studies;
    for (StudiedPile& pile : study_piles(season, about)) {
        if (!pile.study) {
            studies.left_out.push_back(pile.why_not());
        } else if (!std::ranges::all_of(pile.study->parts(), [](const PilePart& part) {
                       return part.removed.has_value();
                   })) {
            studies.all.push_back(std::move(pile));
        }
    }
    return studies;
}

/// Parts of a pile that lie there still.
std::vector<std::size_t> standing_parts(const PileStudy& study) {
    std::vector<std::size_t> standing;
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        if (!study.parts()[p].removed) {
            standing.push_back(p);
        }
    }
    return standing;
}

campaign::PilePart part_to_slice(const PileStudy& study, const Courses& courses, std::size_t part,
                                 std::size_t horizon) {
    campaign::PilePart made;
    made.name = general_text(std::round(study.parts()[part].from.si()), 4) + "-" +
                general_text(std::round(study.parts()[part].to.si()), 4) + " m";
    made.mass = study.parts()[part].mass();
    made.piled = study.first_day(part);
    double celsius = 0.0;
    for (std::size_t m = 0; m < study.member_count(); ++m) {
        const PartCourse& course = courses.of(part, m);
        celsius += study.on(part, course, study.today()).mean_C;
        std::vector<double> worth;
        for (std::size_t d = 0; d < horizon; ++d) {
            const Day day = study.today() + days(static_cast<int>(d));
            worth.push_back(study.paid(part, m, day, study.on(part, course, day).sugar_left));
        }
        made.worth_money.push_back(std::move(worth));
    }
    made.temperature = Temperature::celsius(celsius / static_cast<double>(study.member_count()));
    return made;
}

Problems nothing_left(const Studies& studies) {
    Problems problems{{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "piles"},
                       "there is no pile with anything left in it",
                       "record its loads, or ask earlier with --at"}};
    for (const std::string& why : studies.left_out) {
        problems.push_back({ProblemKind::missing,
                            {.file = "", .line = 0, .field = "piles"},
                            why,
                            "mend that first"});
    }
    return problems;
}

/// How much there is to slice, and by when the season wants it done.
struct ToSlice {
    CleanMass mass = CleanMass::zero();
    Day last{};
};

ToSlice to_slice(const Studies& studies) {
    ToSlice all;
    for (const StudiedPile& pile : studies.all) {
        for (const std::size_t p : standing_parts(*pile.study)) {
            all.mass += pile.study->parts()[p].mass();
            all.last = std::max(all.last, pile.study->facts(p).sliced);
        }
    }
    return all;
}

/// A pile for the search, and its parts for the answer.
void add_pile(const PileStudy& study, const Courses& courses, std::size_t horizon,
              campaign::SlicingQuestion& order, PileOrderAnswer& answer) {
    campaign::PileToSlice& pile = order.piles.emplace_back();
    pile.name = study.contents().site.name;
    answer.piles.push_back(pile.name);
    auto& parts = answer.parts.emplace_back();
    for (const std::size_t p : standing_parts(study)) {
        pile.parts.push_back(part_to_slice(study, courses, p, horizon));
        parts.push_back(study.parts()[p]);
    }
    for (const std::string& assumption : study.assumptions()) {
        answer.assumptions.push_back(pile.name + ": " + assumption);
    }
}

}  // namespace

Result<PileOrderAnswer> ask_pile_order(const ledger::Season& season,
                                       const PileOrderQuestion& question, WorkerPool& pool,
                                       Progress* progress) {
    auto studies = study_all(season, question.about, std::nullopt);
    if (studies.all.empty()) {
        return nothing_left(studies);
    }
    PileOrderAnswer answer;
    answer.today = studies.all.front().study->today();
    const ToSlice all = to_slice(studies);
    if (question.a_day) {
        answer.a_day = *question.a_day;
    } else {
        const auto wanted = std::max<std::ptrdiff_t>(1, (all.last - answer.today).count() + 1);
        answer.a_day = all.mass / static_cast<double>(wanted);
        answer.assumptions.push_back(
            "the slicer takes as much of the piles in a day as has them sliced by " +
            to_text(all.last));
    }
    const double length = std::ceil(all.mass / answer.a_day - 1e-9);
    if (!(length >= 1.0 && length <= kMostDays)) {
        return out_of_bounds("a_day",
                             "at " + general_text(answer.a_day.si() / 1000.0, 4) +
                                 " t a day the piles would take " + general_text(length, 4) +
                                 " days",
                             "give a rate that takes 1 to 250 days");
    }
    const auto horizon = static_cast<std::size_t>(length);
    studies = study_all(season, question.about, answer.today + days(static_cast<int>(horizon)));
    Steps steps(progress, std::max(1.0, runs_of(studies.all)));
    if (!steps.done(0.0)) {
        return not_wanted();
    }
    campaign::SlicingQuestion order{.first_day = answer.today,
                                    .slicer_takes = std::vector(horizon, answer.a_day),
                                    .piles = {},
                                    .loader_move = question.loader_move};
    for (const StudiedPile& pile : studies.all) {
        const auto courses = learn_and_run(*pile.study, pool, steps);
        if (!courses) {
            return courses.problems();
        }
        add_pile(*pile.study, *courses, horizon, order, answer);
        order.piles.back().taken_from = question.taken_from;
    }
    answer.left_out = std::move(studies.left_out);
    auto found = campaign::best_slicing_order(order);
    if (!found) {
        return found.problems();
    }
    answer.order = *std::move(found);
    return answer;
}

}  // namespace beetwright::engine
