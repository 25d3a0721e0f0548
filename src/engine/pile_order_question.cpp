#include "engine/pile_order_question.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "engine/pile_probes.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

constexpr int kMostDays = 250;

/// Every pile with something in it, looked ahead to a day.
struct Studies {
    std::vector<std::unique_ptr<PileStudy>> all;
    std::vector<std::string> left_out;
};

Studies study_all(const ledger::Season& season, StudyQuestion about, std::optional<Day> until) {
    Studies studies;
    for (const ledger::Destination& destination : season.destinations) {
        if (destination.kind != ledger::DestinationKind::pile) {
            continue;
        }
        about.pile = destination.name;
        about.until = until;
        auto study = PileStudy::make(season, about);
        if (!study) {
            studies.left_out.push_back(destination.name + ": " + study.problems().front().text());
            continue;
        }
        const bool is_gone = std::ranges::all_of(
            (*study)->parts(), [](const PilePart& part) { return part.removed.has_value(); });
        if (!is_gone) {
            studies.all.push_back(std::move(*study));
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

}  // namespace

Result<PileOrderAnswer> ask_pile_order(const ledger::Season& season,
                                       const PileOrderQuestion& question, WorkerPool& pool,
                                       Progress* progress) {
    auto studies = study_all(season, question.about, std::nullopt);
    if (studies.all.empty()) {
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
    PileOrderAnswer answer;
    answer.today = studies.all.front()->today();
    CleanMass mass = CleanMass::zero();
    Day last = answer.today;
    for (const auto& study : studies.all) {
        for (const std::size_t p : standing_parts(*study)) {
            mass += study->parts()[p].mass();
            last = std::max(last, study->facts(p).sliced);
        }
    }
    if (question.a_day) {
        answer.a_day = *question.a_day;
    } else {
        const auto length = std::max<std::ptrdiff_t>(1, (last - answer.today).count() + 1);
        answer.a_day = mass / static_cast<double>(length);
        answer.assumptions.push_back(
            "the slicer takes as much of the piles in a day as has them sliced by " +
            to_text(last));
    }
    const double length = std::ceil(mass / answer.a_day - 1e-9);
    if (!(length >= 1.0 && length <= kMostDays)) {
        return Problem{ProblemKind::limit,
                       {.file = "", .line = 0, .field = "a_day"},
                       "at " + general_text(answer.a_day.si() / 1000.0, 4) +
                           " t a day the piles would take " + general_text(length, 4) + " days",
                       "give a rate that takes 1 to 250 days"};
    }
    const auto horizon = static_cast<std::size_t>(length);
    studies = study_all(season, question.about, answer.today + days(static_cast<int>(horizon)));
    double runs = 1.0;
    for (const auto& study : studies.all) {
        runs += study->runs() + learning_runs(*study);
    }
    Steps steps(progress, runs);
    if (!steps.done(0.0)) {
        return Problem{
            ProblemKind::outside, {}, "this was stopped before it was done", "ask again"};
    }
    campaign::SlicingQuestion order{.first_day = answer.today,
                                    .slicer_takes = std::vector(horizon, answer.a_day),
                                    .piles = {},
                                    .loader_move = question.loader_move};
    for (const auto& study : studies.all) {
        if (const auto learned = learn_from_probes(*study, pool, steps); !learned) {
            return learned.problems();
        }
        const auto courses = study->run({}, pool, steps);
        if (!courses) {
            return courses.problems();
        }
        campaign::PileToSlice& pile = order.piles.emplace_back();
        pile.name = study->contents().site.name;
        pile.taken_from = question.taken_from;
        answer.piles.push_back(pile.name);
        auto& parts = answer.parts.emplace_back();
        for (const std::size_t p : standing_parts(*study)) {
            pile.parts.push_back(part_to_slice(*study, *courses, p, horizon));
            parts.push_back(study->parts()[p]);
        }
        for (const std::string& assumption : study->assumptions()) {
            answer.assumptions.push_back(pile.name + ": " + assumption);
        }
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
