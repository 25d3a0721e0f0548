#include "engine/pile_probes.hpp"

#include <algorithm>
#include <cmath>

#include "base/sorted.hpp"
#include "engine/learned_scores.hpp"
#include "engine/pile_bands.hpp"
#include "engine/probe_histories.hpp"
#include "num/ensemble_smoother.hpp"

namespace beetwright::engine {
namespace {

constexpr double kGram_per_tonne = 1e6;

/// Divides by the root of the errors' covariance daily^2 1 + steady^2: its mean and what is
/// left of it are its two eigenspaces.
void bleach(std::vector<double>& windows, const ProbeError& error) {
    const double n = static_cast<double>(windows.size());
    double mean = 0.0;
    for (const double one : windows) {
        mean += one / n;
    }
    const double of_mean =
        mean / std::sqrt(error.daily * error.daily + n * error.steady * error.steady);
    for (double& one : windows) {
        one = (one - mean) / error.daily + of_mean;
    }
}

/// One step of the smoother, by the places that are trusted.
void smooth(ProbeHistories& histories, const PileStudy& study, std::size_t step,
            const std::vector<ProbeVerdict>& verdicts) {
    const std::size_t count = histories.members().size();
    std::vector<double> observed;
    std::vector<std::vector<double>> predicted(count);
    for (std::size_t r = 0; r < verdicts.size(); ++r) {
        if (verdicts[r].fault != ProbeFault::none) {
            continue;
        }
        const PredictedPlace& of_members = histories.predicted()[r];
        const auto& windows = histories.places()[r].windows;
        ProbeError error = probe_error(histories.places()[r], of_members, study.catalogue());
        error.steady = std::hypot(error.steady, verdicts[r].apart_K);
        std::vector<double> of(windows.size());
        for (std::size_t w = 0; w < of.size(); ++w) {
            of[w] = windows[w].celsius;
        }
        bleach(of, error);
        observed.insert(observed.end(), of.begin(), of.end());
        for (std::size_t m = 0; m < count; ++m) {
            const auto own =
                std::span(of_members.windows).subspan(m * windows.size(), windows.size());
            of.assign(own.begin(), own.end());
            bleach(of, error);
            predicted[m].insert(predicted[m].end(), of.begin(), of.end());
        }
    }
    std::vector<double> flat;
    for (const auto& of : predicted) {
        flat.insert(flat.end(), of.begin(), of.end());
    }
    LearnedScores scores(study, histories.members(), histories.parts());
    num::smooth(scores.values(),
                {.members = count,
                 .predicted = flat,
                 .observed = observed,
                 .inflation = num::kInflations[step]},
                RandomStream(study.season().seed, "errors of probes", step));
    scores.put_back();
}

Estimate<double> last_of(const PredictedPlace& place) {
    std::vector<double> last;
    for (std::size_t m = 0; m < place.members; ++m) {
        last.push_back(place.of(m).back());
    }
    return summary_of(std::move(last));
}

/// Resistance to a slow flow of a pile of usual beets.
double resistance_of(const pile::PileConstants& constants) {
    constexpr double kUsualSoil = 0.06;
    const double pores = pile::porosity({.soil = kUsualSoil}, constants);
    return pile::ergun(constants.root_diameter, pores).inverse_permeability;
}

struct Levels {
    Estimate<double> breathing, resistance;
};
Levels levels_of(const PileStudy& study, const std::vector<PileMember>& members,
                 const std::set<std::size_t>& parts) {
    const Catalogue& catalogue = study.catalogue();
    const double central =
        resistance_of(pile::pile_constants([&](ConstantId id) { return catalogue.value(id); }));
    std::vector<double> breathing;
    std::vector<double> resistance;
    for (const PileMember& member : members) {
        double breathes = 0.0;
        double resists = 0.0;
        for (const std::size_t p : parts) {
            const auto constants = member.constants_of(catalogue, p);
            const double share = 1.0 / static_cast<double>(parts.size());
            breathes += share * kGram_per_tonne * constants.lump.basal_at_5C;
            resists += share * resistance_of(constants) / central;
        }
        breathing.push_back(breathes);
        resistance.push_back(resists);
    }
    return {summary_of(std::move(breathing)), summary_of(std::move(resistance))};
}

/// Of many members, so many that are as unlike each other as all are: in the order of how warm
/// they have the places, the middle one of each of as many slices.
std::vector<PileMember> chosen(const ProbeHistories& histories,
                               const std::vector<ProbeVerdict>& verdicts, std::size_t count) {
    const auto& all = histories.members();
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t m = 0; m < all.size(); ++m) {
        double warmth = 0.0;
        for (std::size_t r = 0; r < verdicts.size(); ++r) {
            const bool counts = verdicts[r].fault == ProbeFault::none;
            warmth += counts ? histories.predicted()[r].of(m).back() : 0.0;
        }
        order.emplace_back(warmth, m);
    }
    sort_list(order);
    std::vector<PileMember> some;
    for (std::size_t k = 0; k < count; ++k) {
        some.push_back(all[order[(2 * k + 1) * all.size() / (2 * count)].second]);
    }
    return some;
}

}  // namespace

std::size_t learners(std::size_t members) {
    constexpr std::size_t kOfEach = 6;
    constexpr std::size_t kFew = 24;
    return std::max(members, std::clamp(kOfEach * members, kFew, kLearners));
}

double learning_runs(const PileStudy& study) {
    return static_cast<double>(num::kInflations.size() + 1) *
           history_runs(study, learners(study.member_count()));
}

Result<PileLearned> learn_from_probes(PileStudy& study, WorkerPool& pool, Steps& steps) {
    PileLearned learned;
    ProbeHistories histories(study, learners(study.member_count()), pool, steps);
    if (histories.parts().empty() && histories.places().empty()) {
        return learned;
    }
    if (const auto done = histories.predict(); !done) {
        return done.problems();
    }
    const auto before = histories.predicted();
    const auto levels_before = levels_of(study, histories.members(), histories.parts());
    const auto verdicts = probe_verdicts(histories.places(), before, study.catalogue());
    const bool learns = std::ranges::any_of(
        verdicts, [](const ProbeVerdict& one) { return one.fault == ProbeFault::none; });
    for (std::size_t step = 0; learns && step < num::kInflations.size(); ++step) {
        smooth(histories, study, step, verdicts);
        if (const auto done = histories.predict(); !done) {
            return done.problems();
        }
    }
    for (std::size_t r = 0; r < histories.places().size(); ++r) {
        const ProbePlace& place = histories.places()[r];
        learned.probes.push_back({.probe = place.probe,
                                  .kind = place.kind,
                                  .place = place.place,
                                  .part = place.part,
                                  .readings = place.at.size(),
                                  .at = place.at.back(),
                                  .celsius = place.celsius.back(),
                                  .before = {},
                                  .after = {},
                                  .fault = verdicts[r].fault,
                                  .why = verdicts[r].why});
        if (verdicts[r].fault != ProbeFault::nowhere) {
            learned.probes.back().before = last_of(before[r]);
            learned.probes.back().after = last_of(histories.predicted()[r]);
        }
    }
    if (!learns) {
        const double steps_left = static_cast<double>(num::kInflations.size());
        steps.done(learning_runs(study) * steps_left / (steps_left + 1.0));
        return learned;
    }
    const auto levels = levels_of(study, histories.members(), histories.parts());
    learned.breathing = {levels_before.breathing, levels.breathing};
    learned.resistance = {levels_before.resistance, levels.resistance};
    study.members() = chosen(histories, verdicts, study.member_count());
    return learned;
}

}  // namespace beetwright::engine
