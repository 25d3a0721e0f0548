#include "engine/pile_question.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "base/nearest_name.hpp"
#include "base/number_text.hpp"
#include "base/sorted.hpp"
#include "engine/cover_days.hpp"
#include "engine/out_of_bounds.hpp"
#include "engine/pile_bands.hpp"
#include "engine/pile_outcome.hpp"
#include "engine/pile_studies.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

std::vector<std::string> cautions() {
    return {"Stay off a pile's edges and away from its face: beets slide, and machines work there.",
            "In ducts, under sheets and in closed stores carbon dioxide gathers and oxygen lacks: "
            "nobody goes in alone, or before it was aired and measured.",
            "Fans and their cables are for whoever is licensed for them; lock them off before "
            "anybody reaches in.",
            "The maker's manuals and local rules come before anything said here."};
}

Result<std::vector<NamedDeed>> deeds_named(const std::vector<std::string>& names, Day today) {
    const auto known = named_deeds(today);
    std::vector<NamedDeed> deeds;
    Problems problems;
    for (const std::string& name : names) {
        const auto found = std::ranges::find(known, name, &NamedDeed::name);
        if (found != known.end()) {
            deeds.push_back(*found);
            continue;
        }
        std::set<std::string> all;
        std::string listed;
        for (const NamedDeed& one : known) {
            all.emplace(one.name);
            listed += (listed.empty() ? "" : ", ") + std::string(one.name);
        }
        problems.push_back({ProblemKind::input,
                            {.file = "", .line = 0, .field = "deeds"},
                            "nothing that is done to a pile is called \"" + name + "\"",
                            did_you_mean(name, all) + "there are " + listed});
    }
    if (!problems.empty()) {
        return problems;
    }
    return deeds;
}

/// Days for pictures: evenly from a part's first day to its last, today among them.
std::vector<Day> picture_days(const PileStudy& study, std::size_t part, std::size_t most) {
    std::vector<Day> shown;
    if (most == 0) {
        return shown;
    }
    const Day first = study.first_day(part);
    Day last = study.until();
    if (const auto& removed = study.parts()[part].removed) {
        last = std::min(last, std::chrono::floor<days>(*removed) - days(1));
    }
    const auto length = std::max<std::ptrdiff_t>(1, (last - first).count());
    const auto step = std::max<std::ptrdiff_t>(
        1, (length + static_cast<std::ptrdiff_t>(most) - 1) / static_cast<std::ptrdiff_t>(most));
    // Counted from today, so that today is one of them.
    const auto ahead = (study.today() - first).count();
    auto day = first + days(static_cast<int>(ahead > 0 ? ahead % step : 0));
    for (; day <= last; day += days(static_cast<int>(step))) {
        shown.push_back(day);
    }
    return shown;
}

std::string percent(double share) {
    return general_text(std::round(share * 100.0), 3) + " %";
}

std::string metres(Length length) {
    return general_text(std::round(length.si()), 4) + " m";
}

/// Of the air that a part's fans would give, this much passes, mean of the members.
double fan_share(const PileStudy& study, const Courses& courses, std::size_t part) {
    double sum = 0.0;
    for (std::size_t m = 0; m < study.member_count(); ++m) {
        sum += courses.of(part, m).fan_share;
    }
    return sum / static_cast<double>(study.member_count());
}

/// Parts whose fans give far less than their plates say.
void warn_of_fans(const PileStudy& study, const Courses& courses,
                  std::vector<PileWarning>& warnings) {
    constexpr double kMuchLess = 0.75;
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        const PilePart& part = study.parts()[p];
        const double share = fan_share(study, courses, p);
        if (!part.removed && share < kMuchLess) {
            warnings.push_back({p, "Through the part from " + metres(part.from) + " to " +
                                       metres(part.to) + " the fan gets " + percent(share) +
                                       " of the air on its plate: it is larger than this part can "
                                       "pass, by its beets, soil or cover."});
        }
    }
}

std::vector<PileWarning> warnings_of(const PileAnswer& answer) {
    /// A shift's limit in most countries, 5000 ppm; from memory.
    constexpr double kTooMuchCarbonDioxide = 0.005;
    constexpr double kLikely = 0.5;
    std::vector<PileWarning> warnings;
    double carbon_dioxide = 0.0;
    for (std::size_t p = 0; p < answer.parts.size(); ++p) {
        const PartAnswer& part = answer.parts[p];
        if (part.part.removed) {
            continue;
        }
        carbon_dioxide = std::max(carbon_dioxide, part.carbon_dioxide);
        const std::string where = "from " + metres(part.part.from) + " to " + metres(part.part.to);
        if (part.chance_due >= kLikely && part.days_left) {
            const bool is_now = part.days_left->value < 1.0;
            warnings.push_back(
                {p,
                 "The part " + where + " should be sliced " +
                     (is_now ? std::string("now")
                             : "within " + general_text(std::round(part.days_left->value), 3) +
                                   " days") +
                     (part.due_for == DueFor::thaw ? ": beets that frost has killed thaw and spoil."
                                                   : ": beyond that, rot grows.")});
        }
        if (part.warmest.days_until && part.warmest.chance >= kLikely) {
            warnings.push_back(
                {p, "A hot spot " +
                        (part.warmest.days_until->value < 1.0
                             ? std::string("is there")
                             : "comes in about " +
                                   general_text(std::round(part.warmest.days_until->value), 3) +
                                   " days") +
                        " in the part " + where + ", " + metres(part.warmest.place.height) +
                        " above the ground, with a chance of " + percent(part.warmest.chance) +
                        "."});
        }
    }
    if (carbon_dioxide > kTooMuchCarbonDioxide) {
        warnings.push_back(
            {std::nullopt, "The air between the beets holds up to " +
                               general_text(carbon_dioxide * 100.0, 2) +
                               " % carbon dioxide: nobody goes into ducts or under sheets."});
    }
    return warnings;
}

/// What the question says of the pile as it is left, without deeds and pictures.
PileAnswer plain_answer(const PileStudy& study, const Courses& courses) {
    PileAnswer answer;
    answer.pile = study.contents().site.name;
    answer.at = study.now();
    answer.today = study.today();
    answer.until = study.until();
    answer.mass = study.contents().mass;
    answer.site = study.contents().site;
    answer.members = study.member_count();
    answer.assumptions = study.assumptions();
    answer.cautions = cautions();
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        answer.parts.push_back(part_answer(study, courses, p));
        const auto& left = answer.parts.back().days_left;
        if (left &&
            (!answer.due_first || left->value < answer.parts[*answer.due_first].days_left->value)) {
            answer.due_first = p;
        }
    }
    answer.days = whole_bands(study, courses);
    const Outcome outcome = outcome_of(study, courses);
    std::vector<double> lost;
    std::vector<double> share;
    std::vector<double> money;
    for (std::size_t m = 0; m < study.member_count(); ++m) {
        const double sugar = total_sugar(study, m);
        lost.push_back(sugar - outcome.sugar[m]);
        share.push_back(lost.back() / sugar);
        double whole = 0.0;
        for (std::size_t p = 0; p < study.parts().size(); ++p) {
            whole += study.paid(p, m, study.facts(p).sliced, 1.0);
        }
        money.push_back(whole - outcome.paid[m]);
    }
    answer.sugar_lost_kg = summary_of(std::move(lost));
    answer.sugar_lost = summary_of(std::move(share));
    answer.money_lost = money_of(std::move(money));
    answer.warnings = warnings_of(answer);
    warn_of_fans(study, courses, answer.warnings);
    return answer;
}

}  // namespace

Result<PileAnswer> ask_pile(const ledger::Season& season, const PileQuestion& question,
                            WorkerPool& pool, Progress* progress) {
    auto made = PileStudy::make(season, question.about);
    if (!made) {
        return made.problems();
    }
    PileStudy& study = **made;
    const auto deeds = deeds_named(question.deeds, study.today());
    if (!deeds) {
        return deeds.problems();
    }
    constexpr std::size_t kMostPictures = 60;
    if (question.pictures > kMostPictures) {
        return out_of_bounds("pictures", std::to_string(question.pictures) + " pictures",
                             "ask for 60 at most");
    }
    if (question.pictured && *question.pictured >= study.parts().size()) {
        return out_of_bounds(
            "part", "there is no part " + std::to_string(*question.pictured + 1) + " in this pile",
            "it has " + std::to_string(study.parts().size()));
    }
    // Whose pictures are told unless a part is named is known once all parts have been run.
    const bool is_known_late = question.pictures > 0 && !question.pictured;
    const double runs = study.runs() * (1.0 + static_cast<double>(deeds->size()) +
                                        (question.looks_for_days ? kMostCoverDays : 0.0)) +
                        (is_known_late ? static_cast<double>(question.about.members) : 0.0) +
                        learning_runs(study);
    Steps steps(progress, runs);
    if (!steps.done(0.0)) {
        return not_wanted();
    }
    auto learned = learn_from_probes(study, pool, steps);
    if (!learned) {
        return learned.problems();
    }
    std::vector<Day> shown;
    std::vector<Day> with_today;
    std::optional<PicturedPart> named;
    if (question.pictured) {
        shown = picture_days(study, *question.pictured, question.pictures);
        with_today = shown;
        if (!std::ranges::binary_search(with_today, study.today())) {
            with_today.insert(std::ranges::lower_bound(with_today, study.today()), study.today());
        }
        named = {*question.pictured, with_today};
    }
    const auto courses = study.run({}, pool, steps, std::array{study.today()}, named);
    if (!courses) {
        return courses.problems();
    }
    PileAnswer answer = plain_answer(study, *courses);
    answer.learned = *std::move(learned);
    answer.next_probes = next_probes(study, *courses);
    const Outcome left_alone = outcome_of(study, *courses);
    for (const NamedDeed& deed : *deeds) {
        const auto done = study.run(deed.deed, pool, steps);
        if (!done) {
            return done.problems();
        }
        answer.deeds.push_back(deed_answer(study, deed.deed, left_alone, outcome_of(study, *done)));
        answer.deeds.back().name = deed.name;
        answer.deeds.back().words = deed.words;
    }
    sort_list(answer.deeds, std::greater<>(), [](const DeedAnswer& one) { return one.gain.value; });
    if (question.looks_for_days) {
        const auto cover = std::ranges::find_if(answer.deeds, [](const DeedAnswer& one) {
            return one.deed.cover && *one.deed.cover != check::PileCover::none;
        });
        if (cover != answer.deeds.end()) {
            auto found = best_cover_days(study, *cover, left_alone, pool, steps);
            if (!found) {
                return found.problems();
            }
            answer.best_days = *std::move(found);
        }
    }
    if (question.pictures > 0 && question.pictured) {
        answer.picture = picture_of(study, *courses, *question.pictured, shown);
    }
    if (is_known_late) {
        const std::size_t part = answer.due_first.value_or(0);
        shown = picture_days(study, part, question.pictures);
        const auto pictured = study.run_part(part, {}, pool, steps, shown);
        if (!pictured) {
            return pictured.problems();
        }
        answer.picture = picture_of(study, *pictured, part, shown);
    }
    return answer;
}

Result<std::vector<PileLine>> ask_piles(const ledger::Season& season, const StudyQuestion& about,
                                        WorkerPool& pool, Progress* progress) {
    auto piles = study_piles(season, about);
    Steps steps(progress, std::max(1.0, runs_of(piles)));
    if (!steps.done(0.0)) {
        return not_wanted();
    }
    std::vector<PileLine> lines;
    for (StudiedPile& pile : piles) {
        PileLine& line = lines.emplace_back();
        line.pile = pile.pile;
        line.problems = std::move(pile.problems);
        if (!pile.study) {
            continue;
        }
        // As the pile's own question has it, so that both say the same.
        PileLearned learned;
        const auto courses = learn_and_run(*pile.study, pool, steps, &learned);
        if (steps.are_stopped()) {
            return courses.problems();
        }
        if (courses) {
            line.answer = plain_answer(*pile.study, *courses);
            line.answer->learned = std::move(learned);
        } else {
            line.problems = courses.problems();
        }
    }
    return lines;
}

}  // namespace beetwright::engine
