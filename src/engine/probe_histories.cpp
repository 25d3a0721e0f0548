#include "engine/probe_histories.hpp"

#include <algorithm>
#include <cmath>

#include "base/sorted.hpp"

namespace beetwright::engine {
namespace {

/// What part of a run a history is, with its coarser cells, and one in the forecast's own: about.
constexpr double kWork = 0.15;
constexpr double kFineWork = 0.4;
/// So many members, evenly among the others, are run in the forecast's own cells as well.
constexpr std::size_t kFines = 6;
std::size_t fines_of(std::size_t members) {
    return std::min(kFines, members);
}
std::size_t fine_member(std::size_t fine, std::size_t members) {
    return fine * members / fines_of(members);
}

/// Cells for learning: as coarse as still tells a pile's places apart.
Length cell_of(const PileStudy& study) {
    constexpr double kLayers = 4.5;
    constexpr Length kMost(1.0);
    return std::max(study.basis().cell, std::min(kMost, study.contents().site.height / kLayers));
}

/// Coarse cells have faces colder or warmer than fine ones: by how much on the median of some
/// members, reading by reading, is added to all.
void correct(std::span<std::vector<Sample>> coarse, std::span<const std::vector<Sample>> fine) {
    std::vector<double> apart(fine.size());
    for (std::size_t s = 0; s < coarse.front().size(); ++s) {
        for (std::size_t k = 0; k < fine.size(); ++k) {
            apart[k] = fine[k][s].celsius - coarse[fine_member(k, coarse.size())][s].celsius;
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

}  // namespace

ProbeHistories::ProbeHistories(const PileStudy& study, std::size_t members, WorkerPool& pool,
                               Steps& steps)
    : study_(study),
      pool_(pool),
      steps_(steps),
      basis_(study.basis()),
      places_(probe_places(study)),
      members_(study.new_members(members)) {
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

std::size_t ProbeHistories::fines() const {
    return is_coarse() ? fines_of(members_.size()) : 0;
}

/// Each part in all members, and then in some of them in the forecast's own cells.
std::vector<ProbeHistories::Run> ProbeHistories::runs_in_order() const {
    std::vector<Run> runs;
    for (const std::size_t part : parts_) {
        for (std::size_t m = 0; m < members_.size(); ++m) {
            runs.push_back({part, m, false});
        }
    }
    for (const std::size_t part : parts_) {
        for (std::size_t fine = 0; fine < fines(); ++fine) {
            runs.push_back({part, fine_member(fine, members_.size()), true});
        }
    }
    return runs;
}

Result<Done> ProbeHistories::predict() {
    const auto runs = runs_in_order();
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
    if (const auto stood = replace_fallen(runs, found, wrong); !stood) {
        return stood.problems();
    }
    const std::size_t count = members_.size();
    const std::size_t coarse = parts_.size() * count;
    for (std::size_t p = 0; p < parts_.size() && is_coarse(); ++p) {
        correct({found.data() + p * count, count}, {found.data() + coarse + p * fines(), fines()});
    }
    found.resize(coarse);
    spread_over_places(found);
    return Done{};
}

/// Some member may be such that no flow of air stands in it. It becomes the next one that stands,
/// in all parts; a Problem only where an eighth of them or more do not.
Result<Done> ProbeHistories::replace_fallen(const std::vector<Run>& runs,
                                            std::vector<std::vector<Sample>>& found,
                                            const std::vector<Problems>& wrong) {
    const std::size_t count = members_.size();
    std::vector<bool> stands(count, true);
    const Problems* first = nullptr;
    std::size_t fallen = 0;
    for (std::size_t run = 0; run < wrong.size(); ++run) {
        if (!wrong[run].empty()) {
            first = first != nullptr ? first : &wrong[run];
            fallen += stands[runs[run].member] ? 1U : 0U;
            stands[runs[run].member] = false;
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
        for (std::size_t p = 0; p < parts_.size(); ++p) {
            found[p * count + m] = found[p * count + from];
            for (std::size_t fine = 0; fine < fines(); ++fine) {
                if (fine_member(fine, count) == m) {
                    // It has no run in fine cells: none is as good as it.
                    found[parts_.size() * count + p * fines() + fine] = found[p * count + m];
                }
            }
        }
    }
    return Done{};
}

void ProbeHistories::gather_samples(std::size_t part) {
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

void ProbeHistories::spread_over_places(const std::vector<std::vector<Sample>>& found) {
    const std::vector<std::size_t> parts(parts_.begin(), parts_.end());
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
                predicted_[r].windows.push_back(sum /
                                                static_cast<double>(window.last - window.first));
            }
        }
    }
}

double history_runs(const PileStudy& study, std::size_t members) {
    std::set<std::size_t> parts;
    for (const ProbePlace& place : probe_places(study)) {
        if (place.part) {
            parts.insert(*place.part);
        }
    }
    const bool is_coarse = cell_of(study) > study.basis().cell;
    const std::size_t fines = is_coarse ? fines_of(members) : 0;
    return static_cast<double>(parts.size()) *
           (static_cast<double>(members) * kWork + static_cast<double>(fines) * kFineWork);
}

}  // namespace beetwright::engine
