#include "engine/pile_question.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "base/nearest_name.hpp"
#include "base/number_text.hpp"
#include "base/sorted.hpp"
#include "engine/out_of_bounds.hpp"
#include "engine/pile_bands.hpp"
#include "engine/pile_studies.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

constexpr double kKilowattHour_J = 3.6e6;

std::vector<std::string> cautions() {
    return {"Stay off a pile's edges and away from its face: beets slide, and machines work there.",
            "In ducts, under sheets and in closed stores carbon dioxide gathers and oxygen lacks: "
            "nobody goes in alone, or before it was aired and measured.",
            "Fans and their cables are for whoever is licensed for them; lock them off before "
            "anybody reaches in.",
            "The maker's manuals and local rules come before anything said here."};
}

/// What the pile comes to under one deed, member by member.
struct Outcome {
    std::vector<double> paid;      ///< [money], each part on its slicing day
    std::vector<double> sugar;     ///< kept [kg]
    std::vector<double> covered;   ///< length, each time that a cover is put on [m]
    std::vector<double> energy_J;  ///< of fans, from now on
    std::vector<double> warmest;   ///< [°C] on the last day
};

Outcome outcome_of(const PileStudy& study, const Courses& courses) {
    const std::size_t members = study.member_count();
    Outcome outcome{.paid = std::vector<double>(members, 0.0),
                    .sugar = std::vector<double>(members, 0.0),
                    .covered = std::vector<double>(members, 0.0),
                    .energy_J = std::vector<double>(members, 0.0),
                    .warmest = std::vector<double>(members, -99.0)};
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        const PilePart& part = study.parts()[p];
        const Day sliced = study.facts(p).sliced;
        for (std::size_t m = 0; m < members; ++m) {
            const PartCourse& course = courses.of(p, m);
            const double left = study.on(p, course, sliced).sugar_left;
            outcome.paid[m] += study.paid(p, m, sliced, left);
            outcome.sugar[m] += left * study.sugar_kg(p, m);
            const double length = (part.to - part.from).si();
            outcome.energy_J[m] += course.fan_J_per_metre * length;
            outcome.covered[m] += course.covered * length;
            if (!part.removed) {
                outcome.warmest[m] = std::max(outcome.warmest[m], course.days.back().warmest_C);
            }
        }
    }
    return outcome;
}

double total_sugar(const PileStudy& study, std::size_t member) {
    double sum = 0.0;
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        sum += study.sugar_kg(p, member);
    }
    return sum;
}

DeedAnswer deed_answer(const PileStudy& study, const PileDeed& deed, const Outcome& left_alone,
                       const Outcome& done) {
    double standing = 0.0;  // [m]
    for (const PilePart& part : study.parts()) {
        standing += part.removed ? 0.0 : (part.to - part.from).si();
    }
    const double of_metre =
        deed.cover ? cover_cost_per_metre(*deed.cover, study.contents().site, study.catalogue())
                   : 0.0;
    const double again = study.catalogue().value(ConstantId::pile_cover_again);
    const double power = study.catalogue().value(ConstantId::pile_power_price);  // [money/J]
    DeedAnswer answer;
    answer.deed = deed;
    std::vector<double> gain;
    std::vector<double> kept;
    std::vector<double> lost;
    double energy = 0.0;
    double covers = 0.0;
    double better = 0.0;
    const std::size_t members = study.member_count();
    for (std::size_t m = 0; m < members; ++m) {
        const double drawn = done.energy_J[m] - left_alone.energy_J[m];
        // Bought once; put on once more, it costs the work.
        const double cover =
            of_metre * (standing + again * std::max(0.0, done.covered[m] - standing));
        gain.push_back(done.paid[m] - left_alone.paid[m] - cover - power * drawn);
        covers += cover / static_cast<double>(members);
        kept.push_back(done.sugar[m] - left_alone.sugar[m]);
        lost.push_back(1.0 - done.sugar[m] / total_sugar(study, m));
        energy += drawn / static_cast<double>(members);
        better += gain.back() > 0.0 ? 1.0 : 0.0;
    }
    answer.gain = money_of(std::move(gain));
    answer.sugar_kept_kg = summary_of(std::move(kept));
    answer.sugar_lost = summary_of(std::move(lost));
    answer.warmest_C = summary_of(done.warmest);
    answer.cost = Money(covers + power * energy);
    answer.energy_kWh = energy / kKilowattHour_J;
    answer.chance_better = better / static_cast<double>(members);
    return answer;
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

/// The days on which the best of the covers would best go on, and come off.
class DaySearch {
 public:
    DaySearch(const PileStudy& study, WorkerPool& pool, Steps& steps, const Outcome& left_alone)
        : study_(study), pool_(pool), steps_(steps), left_alone_(left_alone) {}

    static constexpr std::array kOnAfter_d{0, 7, 14, 28, 42, 63};
    static constexpr std::array kOffBefore_d{0, 14, 28};
    static constexpr double kRuns = static_cast<double>(kOnAfter_d.size() + kOffBefore_d.size());

    Result<BestDays> find(const DeedAnswer& cover) {
        BestDays found{.best = cover, .earliest = {}, .latest = {}, .by_day = {}};
        struct Tried {
            Day day;
            DeedAnswer answer;
            std::vector<double> paid;
        };
        std::vector<Tried> tried;
        std::size_t best = 0;
        for (const int after : kOnAfter_d) {
            PileDeed deed = cover.deed;
            deed.cover_on = study_.today() + days(after);
            if (deed.cover_on >= study_.until()) {
                break;
            }
            const auto courses = study_.run(deed, pool_, steps_);
            if (!courses) {
                return courses.problems();
            }
            const Outcome outcome = outcome_of(study_, *courses);
            tried.push_back({deed.cover_on, named(cover, deed, outcome), outcome.paid});
            if (tried.back().answer.gain.value > tried[best].answer.gain.value) {
                best = tried.size() - 1;
            }
        }
        if (tried.empty()) {
            return found;
        }
        found.best = tried[best].answer;
        found.earliest = found.latest = tried[best].day;
        // As good as the best are those of which the difference, member by member, is not sure.
        for (const Tried& one : tried) {
            found.by_day.emplace_back(one.day, one.answer.gain);
            std::vector<double> short_by;
            for (std::size_t m = 0; m < one.paid.size(); ++m) {
                short_by.push_back(tried[best].paid[m] - one.paid[m]);
            }
            if (summary_of(std::move(short_by)).low <= 0.0) {
                found.earliest = std::min(found.earliest, one.day);
                found.latest = std::max(found.latest, one.day);
            }
        }
        for (const int before : kOffBefore_d) {
            PileDeed deed = found.best.deed;
            deed.cover_off = study_.until() - days(before);
            if (before == 0 || *deed.cover_off <= deed.cover_on) {
                continue;
            }
            const auto courses = study_.run(deed, pool_, steps_);
            if (!courses) {
                return courses.problems();
            }
            auto answer = named(cover, deed, outcome_of(study_, *courses));
            if (answer.gain.value > found.best.gain.value) {
                found.best = std::move(answer);
            }
        }
        return found;
    }

 private:
    [[nodiscard]] DeedAnswer named(const DeedAnswer& cover, const PileDeed& deed,
                                   const Outcome& outcome) const {
        auto answer = deed_answer(study_, deed, left_alone_, outcome);
        answer.name = cover.name;
        answer.words = cover.words;
        return answer;
    }

    const PileStudy& study_;
    WorkerPool& pool_;
    Steps& steps_;
    const Outcome& left_alone_;
};

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
    const double runs =
        study.runs() * (1.0 + static_cast<double>(deeds->size()) +
                        (question.looks_for_days ? DaySearch::kRuns : 0.0)) +
        (question.pictures > 0 ? static_cast<double>(question.about.members) : 0.0) +
        learning_runs(study);
    Steps steps(progress, runs);
    if (!steps.done(0.0)) {
        return not_wanted();
    }
    auto learned = learn_from_probes(study, pool, steps);
    if (!learned) {
        return learned.problems();
    }
    const auto courses = study.run({}, pool, steps, std::array{study.today()});
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
            auto found = DaySearch(study, pool, steps, left_alone).find(*cover);
            if (!found) {
                return found.problems();
            }
            answer.best_days = *std::move(found);
        }
    }
    if (question.pictures > 0) {
        const std::size_t part = question.pictured.value_or(answer.due_first.value_or(0));
        const auto shown = picture_days(study, part, question.pictures);
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
