#include "engine/pile_probes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "base/number_text.hpp"
#include "base/sorted.hpp"
#include "engine/pile_bands.hpp"
#include "num/ensemble_smoother.hpp"

namespace beetwright::engine {
namespace {

/// Constants that readings of temperature may move: those that say how warm a pile gets. What else
/// is not known stays as it is in each member.
constexpr std::array kLearned{ConstantId::storage_basal_rate,
                              ConstantId::storage_q10,
                              ConstantId::storage_healing_time,
                              ConstantId::storage_healing_extra,
                              ConstantId::storage_leaf_extra,
                              ConstantId::storage_soil_extra,
                              ConstantId::storage_rot_onset,
                              ConstantId::storage_rot_sound,
                              ConstantId::storage_rot_wound,
                              ConstantId::pile_bulk_density,
                              ConstantId::pile_root_density,
                              ConstantId::pile_root_diameter,
                              ConstantId::pile_soil_density,
                              ConstantId::pile_leaf_density,
                              ConstantId::pile_heat_capacity,
                              ConstantId::pile_still_conductivity,
                              ConstantId::pile_pore_radiation,
                              ConstantId::pile_ground_conductivity,
                              ConstantId::pile_ground_capacity,
                              ConstantId::pile_skin_transfer,
                              ConstantId::pile_wound_transpiration,
                              ConstantId::pile_film,
                              ConstantId::pile_absorptance,
                              ConstantId::pile_emissivity,
                              ConstantId::pile_face_convection,
                              ConstantId::pile_face_convection_wind,
                              ConstantId::pile_wind_share,
                              ConstantId::pile_wind_windward,
                              ConstantId::pile_wind_lee,
                              ConstantId::pile_wind_top,
                              ConstantId::pile_oxygen_half,
                              ConstantId::pile_fleece_resistance,
                              ConstantId::pile_fleece_air,
                              ConstantId::pile_straw_conductivity,
                              ConstantId::pile_straw_air,
                              ConstantId::pile_plastic_air,
                              ConstantId::pile_sheet_absorptance};

constexpr double kGram_per_tonne = 1e6;
/// Of PartScores, before what is moved of its beets.
constexpr std::size_t kScoresOfPart = 3 + std::tuple_size_v<decltype(PartScores::waves)>;

/// Where a member's scores are that readings in these parts may move.
std::vector<double*> scores_of(PileMember& member, const std::set<std::size_t>& parts) {
    std::vector<double*> scores;
    for (const ConstantId id : kLearned) {
        scores.push_back(&member.constants[static_cast<std::size_t>(id)]);
    }
    scores.push_back(&member.air);
    for (const std::size_t p : parts) {
        PartScores& part = member.parts[p];
        scores.insert(scores.end(), {&part.as_piled, &part.breathing, &part.resistance});
        for (double& wave : part.waves) {
            scores.push_back(&wave);
        }
        for (double& trait : part.moved) {
            scores.push_back(&trait);
        }
    }
    return scores;
}

/// Cells for learning: as coarse as still tells a pile's places apart.
Length cell_of(const PileStudy& study) {
    constexpr double kLayers = 4.5;
    constexpr Length kMost(1.0);
    return std::max(study.basis().cell, std::min(kMost, study.contents().site.height / kLayers));
}

class Learner {
 public:
    Learner(const PileStudy& study, WorkerPool& pool, Steps& steps)
        : study_(study),
          pool_(pool),
          steps_(steps),
          basis_(study.basis()),
          places_(probe_places(study)),
          members_(study.new_members(learners(study.member_count()))) {
        basis_.cell = cell_of(study);
        Instant last{};
        for (const ProbePlace& place : places_) {
            if (place.part) {
                parts_.insert(*place.part);
                last = std::max(last, place.at.back());
            }
        }
        ends_ = last + std::chrono::hours(1);
        samples_.resize(study.parts().size());
        places_of_sample_.resize(study.parts().size());
        for (const std::size_t p : parts_) {
            gather_samples(p);
        }
    }

    [[nodiscard]] const std::vector<ProbePlace>& places() const { return places_; }
    [[nodiscard]] const std::vector<PredictedPlace>& predicted() const { return predicted_; }
    [[nodiscard]] std::vector<PileMember>& members() { return members_; }
    [[nodiscard]] const std::set<std::size_t>& parts() const { return parts_; }

    /// Histories of all members, with what they have where something was read.
    Result<Done> predict() {
        const std::size_t count = members_.size();
        const std::vector<std::size_t> parts(parts_.begin(), parts_.end());
        // Each part in all members, and then in some of them in the forecast's own cells.
        struct Run {
            std::size_t part, member;
            bool is_fine;
        };
        std::vector<Run> runs;
        for (const std::size_t part : parts) {
            for (std::size_t m = 0; m < count; ++m) {
                runs.push_back({part, m, false});
            }
        }
        for (const std::size_t part : parts) {
            for (std::size_t m = 0; is_coarse() && m < count; m += kFineEach) {
                runs.push_back({part, m, true});
            }
        }
        std::vector<std::vector<Sample>> found(runs.size());
        std::vector<Problems> wrong(found.size());
        pool_.for_chunks(found.size(), 1, [&](std::size_t from, std::size_t to) {
            for (std::size_t run = from; run < to && !steps_.are_stopped(); ++run) {
                const auto [part, m, is_fine] = runs[run];
                auto course =
                    study_.course(is_fine ? study_.basis() : basis_, {.part = part,
                                                                      .weather = m,
                                                                      .member = &members_[m],
                                                                      .beets = {},
                                                                      .deed = {},
                                                                      .frames = {},
                                                                      .samples = samples_[part],
                                                                      .ends = ends_});
                if (course) {
                    found[run] = std::move(course->samples);
                } else {
                    wrong[run] = course.problems();
                }
                steps_.done(is_fine ? kFineWork : kWork);
            }
        });
        if (steps_.are_stopped()) {
            return not_wanted();
        }
        if (const auto stood = replace_fallen(parts.size(), found, wrong); !stood) {
            return stood.problems();
        }
        std::size_t fine = parts.size() * count;
        for (std::size_t p = 0; p < parts.size() && is_coarse(); ++p) {
            const std::size_t fines = (count + kFineEach - 1) / kFineEach;
            correct({found.data() + p * count, count}, {found.data() + fine, fines});
            fine += fines;
        }
        found.resize(parts.size() * count);
        spread_over_places(parts, found);
        return Done{};
    }

    /// One step of the smoother, by the places that are trusted.
    void smooth(std::size_t step, const std::vector<ProbeVerdict>& verdicts) {
        const std::size_t count = members_.size();
        std::vector<double> observed;
        std::vector<std::vector<double>> predicted(count);
        for (std::size_t r = 0; r < places_.size(); ++r) {
            if (verdicts[r].fault != ProbeFault::none) {
                continue;
            }
            const auto& windows = places_[r].windows;
            ProbeError error = probe_error(places_[r], predicted_[r], study_.catalogue());
            error.steady = std::hypot(error.steady, verdicts[r].apart_K);
            std::vector<double> of(windows.size());
            for (std::size_t w = 0; w < of.size(); ++w) {
                of[w] = windows[w].celsius;
            }
            bleach(of, error);
            observed.insert(observed.end(), of.begin(), of.end());
            for (std::size_t m = 0; m < count; ++m) {
                const auto all = std::span(predicted_[r].windows);
                const auto own = all.subspan(m * windows.size(), windows.size());
                of.assign(own.begin(), own.end());
                bleach(of, error);
                predicted[m].insert(predicted[m].end(), of.begin(), of.end());
            }
        }
        std::vector<double> flat;
        for (const auto& of : predicted) {
            flat.insert(flat.end(), of.begin(), of.end());
        }
        std::vector<std::vector<double*>> where;
        std::vector<std::vector<double>> drawn;
        for (PileMember& member : members_) {
            where.push_back(scores_of(member, parts_));
            drawn.push_back(drawn_of(member));
        }
        std::vector<double> scores;
        for (std::size_t i = 0; i < where.front().size(); ++i) {
            for (std::size_t m = 0; m < count; ++m) {
                scores.push_back(*where[m][i] + drawn[m][i]);
            }
        }
        num::smooth(scores,
                    {.members = count,
                     .predicted = flat,
                     .observed = observed,
                     .inflation = num::kInflations[step]},
                    RandomStream(study_.season().seed, "errors of probes", step));
        for (std::size_t i = 0; i < where.front().size(); ++i) {
            for (std::size_t m = 0; m < count; ++m) {
                *where[m][i] = scores[i * count + m] - drawn[m][i];
            }
        }
    }

    /// What part of a run a learner's history is, with its coarser cells, and one in the forecast's
    /// own: about.
    static constexpr double kWork = 0.15;
    static constexpr double kFineWork = 0.4;
    /// One member in so many is run in the forecast's own cells as well.
    static constexpr std::size_t kFineEach = 8;

 private:
    /// Some member may be such that no flow of air stands in it. It becomes the next one that
    /// stands, in all parts; a Problem only where an eighth of them or more do not.
    Result<Done> replace_fallen(std::size_t parts, std::vector<std::vector<Sample>>& found,
                                const std::vector<Problems>& wrong) {
        const std::size_t count = members_.size();
        std::vector<bool> stands(count, true);
        const Problems* first = nullptr;
        std::size_t fallen = 0;
        for (std::size_t run = 0; run < wrong.size(); ++run) {
            if (!wrong[run].empty()) {
                first = first != nullptr ? first : &wrong[run];
                const std::size_t m = run < parts * count ? run % count : fine_member(run, parts);
                fallen += stands[m] ? 1U : 0U;
                stands[m] = false;
            }
        }
        constexpr std::size_t kMostFallen = 8;
        if (kMostFallen * fallen >= count) {
            return *first;
        }
        for (std::size_t m = 0; m < count; ++m) {
            std::size_t from = m;
            while (!stands[from]) {
                from = (from + 1) % count;
            }
            if (from == m) {
                continue;
            }
            members_[m] = members_[from];
            for (std::size_t p = 0; p < parts; ++p) {
                found[p * count + m] = found[p * count + from];
                const std::size_t fines = (count + kFineEach - 1) / kFineEach;
                if (is_coarse() && m % kFineEach == 0) {
                    // It has no run in fine cells: none is as good as it.
                    found[parts * count + p * fines + m / kFineEach] = found[p * count + m];
                }
            }
        }
        return Done{};
    }
    [[nodiscard]] std::size_t fine_member(std::size_t run, std::size_t parts) const {
        const std::size_t fines = (members_.size() + kFineEach - 1) / kFineEach;
        return (run - parts * members_.size()) % fines * kFineEach;
    }

    [[nodiscard]] bool is_coarse() const { return basis_.cell > study_.basis().cell; }

    /// Coarse cells have faces colder or warmer than fine ones: by how much on the median of some
    /// members, reading by reading, is added to all.
    static void correct(std::span<std::vector<Sample>> coarse,
                        std::span<const std::vector<Sample>> fine) {
        std::vector<double> apart(fine.size());
        for (std::size_t s = 0; s < coarse.front().size(); ++s) {
            for (std::size_t k = 0; k < fine.size(); ++k) {
                apart[k] = fine[k][s].celsius - coarse[k * kFineEach][s].celsius;
            }
            std::ranges::sort(apart);
            const std::size_t half = apart.size() / 2;
            const double middle =
                apart.size() % 2 == 1 ? apart[half] : 0.5 * (apart[half - 1] + apart[half]);
            for (auto& of_member : coarse) {
                of_member[s].celsius += middle;
            }
        }
    }

    /// What stands beneath each of scores_of(): nought, but for beets' traits, which were drawn and
    /// are moved from there.
    [[nodiscard]] std::vector<double> drawn_of(PileMember member) const {
        for (PartScores& part : member.parts) {
            part.moved = {};
        }
        std::vector<double> drawn;
        for (const std::size_t p : parts_) {
            auto layers = study_.beets(p, member);
            std::array<double, 5> sums{};
            for (LayerBeet& layer : layers) {
                const auto traits = traits_of(layer.condition);
                for (std::size_t t = 0; t < sums.size(); ++t) {
                    sums[t] += *traits[t] / static_cast<double>(layers.size());
                }
            }
            drawn.insert(drawn.end(), kScoresOfPart, 0.0);
            for (const double sum : sums) {
                constexpr double kTrace = 1e-4;  // a load without leaf has a logarithm, too
                drawn.push_back(std::log(sum + kTrace));
            }
        }
        drawn.insert(drawn.begin(), kLearned.size() + 1, 0.0);
        return drawn;
    }

    void gather_samples(std::size_t part) {
        struct One {
            SampleAt at;
            std::size_t place, reading;
        };
        std::vector<One> all;
        for (std::size_t r = 0; r < places_.size(); ++r) {
            const ProbePlace& place = places_[r];
            for (std::size_t i = 0; place.part == part && i < place.at.size(); ++i) {
                all.push_back({{place.at[i], place.place.across, place.place.height}, r, i});
            }
        }
        sort_list(all, std::less<>(), [](const One& one) { return one.at.at; });
        for (const One& one : all) {
            samples_[part].push_back(one.at);
            places_of_sample_[part].emplace_back(one.place, one.reading);
        }
    }

    void spread_over_places(const std::vector<std::size_t>& parts,
                            const std::vector<std::vector<Sample>>& found) {
        const std::size_t count = members_.size();
        predicted_.assign(places_.size(), {});
        for (std::size_t r = 0; r < places_.size(); ++r) {
            predicted_[r].members = count;
            predicted_[r].celsius.resize(count * places_[r].at.size());
        }
        for (std::size_t run = 0; run < found.size(); ++run) {
            const std::size_t part = parts[run / count];
            const std::size_t m = run % count;
            for (std::size_t s = 0; s < found[run].size(); ++s) {
                const auto [place, reading] = places_of_sample_[part][s];
                const std::size_t readings = places_[place].at.size();
                predicted_[place].celsius[m * readings + reading] = found[run][s].celsius;
                predicted_[place].slope_K_m +=
                    found[run][s].slope_K_m / static_cast<double>(count * readings);
            }
        }
        for (std::size_t r = 0; r < places_.size(); ++r) {
            for (std::size_t m = 0; m < count; ++m) {
                for (const ReadingWindow& window : places_[r].windows) {
                    double sum = 0.0;
                    for (std::size_t i = window.first; i < window.last; ++i) {
                        sum += predicted_[r].of(m)[i];
                    }
                    predicted_[r].windows.push_back(
                        sum / static_cast<double>(window.last - window.first));
                }
            }
        }
    }

    /// Divides by the root of the errors' covariance daily^2 1 + steady^2: its mean and what is
    /// left of it are its two eigenspaces.
    static void bleach(std::vector<double>& windows, const ProbeError& error) {
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

    const PileStudy& study_;
    WorkerPool& pool_;
    Steps& steps_;
    CourseBasis basis_;
    std::vector<ProbePlace> places_;
    std::vector<PileMember> members_;
    std::set<std::size_t> parts_;  ///< in which something was read
    Instant ends_{};
    std::vector<std::vector<SampleAt>> samples_;  ///< by part
    std::vector<std::vector<std::pair<std::size_t, std::size_t>>> places_of_sample_;
    std::vector<PredictedPlace> predicted_;
};

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
std::vector<PileMember> chosen(const std::vector<PileMember>& all, const Learner& learner,
                               const std::vector<ProbeVerdict>& verdicts, std::size_t count) {
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t m = 0; m < all.size(); ++m) {
        double warmth = 0.0;
        for (std::size_t r = 0; r < verdicts.size(); ++r) {
            const bool counts = verdicts[r].fault == ProbeFault::none;
            warmth += counts ? learner.predicted()[r].of(m).back() : 0.0;
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
    constexpr std::size_t kOfEach = 3;
    constexpr std::size_t kFew = 24;
    return std::max(members, std::clamp(kOfEach * members, kFew, kLearners));
}

double learning_runs(const PileStudy& study) {
    std::set<std::size_t> parts;
    for (const ProbePlace& place : probe_places(study)) {
        if (place.part) {
            parts.insert(*place.part);
        }
    }
    const std::size_t members = learners(study.member_count());
    const bool is_coarse = cell_of(study) > study.basis().cell;
    const std::size_t fines = (members + Learner::kFineEach - 1) / Learner::kFineEach;
    const double of_part = static_cast<double>(members) * Learner::kWork +
                           (is_coarse ? static_cast<double>(fines) * Learner::kFineWork : 0.0);
    return static_cast<double>((num::kInflations.size() + 1) * parts.size()) * of_part;
}

Result<PileLearned> learn_from_probes(PileStudy& study, WorkerPool& pool, Steps& steps) {
    PileLearned learned;
    Learner learner(study, pool, steps);
    if (learner.parts().empty() && learner.places().empty()) {
        return learned;
    }
    if (const auto done = learner.predict(); !done) {
        return done.problems();
    }
    const auto before = learner.predicted();
    const auto levels_before = levels_of(study, learner.members(), learner.parts());
    const auto verdicts = probe_verdicts(learner.places(), before, study.catalogue());
    const bool learns = std::ranges::any_of(
        verdicts, [](const ProbeVerdict& one) { return one.fault == ProbeFault::none; });
    for (std::size_t step = 0; learns && step < num::kInflations.size(); ++step) {
        learner.smooth(step, verdicts);
        if (const auto done = learner.predict(); !done) {
            return done.problems();
        }
    }
    for (std::size_t r = 0; r < learner.places().size(); ++r) {
        const ProbePlace& place = learner.places()[r];
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
            learned.probes.back().after = last_of(learner.predicted()[r]);
        }
    }
    if (!learns) {
        const double steps_left = static_cast<double>(num::kInflations.size());
        steps.done(learning_runs(study) * steps_left / (steps_left + 1.0));
        return learned;
    }
    const auto levels = levels_of(study, learner.members(), learner.parts());
    learned.breathing = {levels_before.breathing, levels.breathing};
    learned.resistance = {levels_before.resistance, levels.resistance};
    study.members() = chosen(learner.members(), learner, verdicts, study.member_count());
    return learned;
}

}  // namespace beetwright::engine
