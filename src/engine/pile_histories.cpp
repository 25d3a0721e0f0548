#include "engine/pile_histories.hpp"

#include <algorithm>

#include "engine/pile_studies.hpp"

namespace beetwright::engine {
namespace {

using ledger::SectionHistory;
using std::chrono::days;

/// A part that some of a field's beets lie in.
struct Lies {
    std::size_t part = 0;
    double mass = 0.0;
};

std::map<std::size_t, std::vector<Lies>> parts_by_field(const PileStudy& study) {
    std::map<std::size_t, std::vector<Lies>> fields;
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        for (const BeetInPart& beet : study.parts()[p].beets()) {
            fields[beet.field].push_back({p, beet.mass.si()});
        }
    }
    return fields;
}

void add(pile::Exposure& sum, const pile::Exposure& one, double share) {
    sum.breathing += share * one.breathing;
    sum.healing += share * one.healing;
    sum.rotting += share * one.rotting;
    sum.thawed += share * one.thawed;
    sum.thermal_time += share * one.thermal_time;
}

/// The mean of a field's parts by mass, from the day on which the last of them lies there until the
/// first of them is gone.
SectionHistory history_of(const PileStudy& study, const Courses& courses,
                          const std::vector<Lies>& lies) {
    SectionHistory history;
    double mass = 0.0;
    Day last = study.until();
    for (const Lies& one : lies) {
        const Day first = study.first_day(one.part);
        const auto length = static_cast<int>(courses.of(one.part, 0).exposure.size());
        history.first = std::max(history.first, first);
        last = std::min(last, first + days(length - 1));
        mass += one.mass;
    }
    for (std::size_t m = 0; m < study.member_count(); ++m) {
        SectionHistory::Member member;
        for (const Lies& one : lies) {
            member.basal_at_5C +=
                one.mass / mass *
                study.members()[m].constants_of(study.catalogue(), one.part).lump.basal_at_5C;
        }
        for (Day day = history.first; day <= last; day += days(1)) {
            pile::Exposure sum;
            for (const Lies& one : lies) {
                const auto d = static_cast<std::size_t>((day - study.first_day(one.part)).count());
                add(sum, courses.of(one.part, m).exposure[d], one.mass / mass);
            }
            member.after.push_back(sum);
        }
        history.members.push_back(std::move(member));
    }
    return history;
}

}  // namespace

Result<Histories> pile_histories(const ledger::Season& season, const StudyQuestion& about,
                                 WorkerPool& pool, Progress* progress) {
    Histories histories;
    auto piles = study_piles(season, about);
    Steps steps(progress, std::max(1.0, runs_of(piles)));
    for (StudiedPile& pile : piles) {
        if (!pile.study) {
            histories.left_out.push_back(pile.why_not());
            continue;
        }
        const auto& study = pile.study;
        const auto courses = learn_and_run(*study, pool, steps);
        if (!courses) {
            if (steps.are_stopped()) {
                return courses.problems();
            }
            pile.problems = courses.problems();
            histories.left_out.push_back(pile.why_not());
            continue;
        }
        for (const auto& [field, lies] : parts_by_field(*study)) {
            auto history = history_of(*study, *courses, lies);
            if (!history.members.front().after.empty()) {
                histories.by_field.insert_or_assign(study->season().fields[field].name,
                                                    std::move(history));
            }
        }
    }
    return histories;
}

}  // namespace beetwright::engine
