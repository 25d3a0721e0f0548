#include "engine/pile_outcome.hpp"

#include <algorithm>

#include "engine/pile_bands.hpp"

namespace beetwright::engine {
namespace {

constexpr double kKilowattHour_J = 3.6e6;

}  // namespace

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

}  // namespace beetwright::engine
