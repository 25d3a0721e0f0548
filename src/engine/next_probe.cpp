#include "engine/next_probe.hpp"

#include <algorithm>
#include <cmath>

#include "engine/pile_bands.hpp"

namespace beetwright::engine {
namespace {

/// Places that are asked about in each part: shares of half the width at a height, and of the
/// height.
constexpr std::array kAcross{-0.6, -0.3, 0.0, 0.3, 0.6};
constexpr std::array kUp{0.25, 0.5, 0.75};

struct Candidate {
    std::size_t part = 0;
    PlaceInPile place;
    std::vector<double> celsius;  ///< by member
};

std::vector<Candidate> candidates(const PileStudy& study, const Courses& courses) {
    const auto grid = part_grid(study.basis());
    const ledger::PileSite& site = study.contents().site;
    std::vector<Candidate> all;
    for (std::size_t p = 0; grid && p < study.parts().size(); ++p) {
        if (study.parts()[p].removed) {
            continue;
        }
        for (const double of_height : kUp) {
            for (const double of_width : kAcross) {
                const Length height = of_height * site.height;
                const Length across = of_width * site.half_width_at(height);
                const auto column = static_cast<std::size_t>(
                    0.5 * static_cast<double>(grid->across) + across / grid->cell_across);
                const auto row = static_cast<std::size_t>(height / grid->cell_up);
                const std::size_t cell = row * grid->across + column;
                if (row >= grid->up || column >= grid->across || !grid->has_beet[cell]) {
                    continue;
                }
                Candidate one{
                    .part = p, .place = {study.parts()[p].middle(), across, height}, .celsius = {}};
                for (std::size_t m = 0; m < study.member_count(); ++m) {
                    const PartFrame* const today = courses.of(p, m).frame_on(study.today());
                    if (today != nullptr) {
                        one.celsius.push_back(static_cast<double>(today->celsius[cell]));
                    }
                }
                if (one.celsius.size() == study.member_count()) {
                    all.push_back(std::move(one));
                }
            }
        }
    }
    return all;
}

std::vector<double> sugar_lost_kg(const PileStudy& study, const Courses& courses) {
    std::vector<double> lost(study.member_count(), 0.0);
    for (std::size_t p = 0; p < study.parts().size(); ++p) {
        for (std::size_t m = 0; m < lost.size(); ++m) {
            const PartDay& day = study.on(p, courses.of(p, m), study.facts(p).sliced);
            lost[m] += (1.0 - day.sugar_left) * study.sugar_kg(p, m);
        }
    }
    return lost;
}

/// Covariances of what is asked (the first) and all candidates, as readings come in.
class Covariances {
 public:
    Covariances(const std::vector<double>& asked, const std::vector<Candidate>& candidates)
        : n_(candidates.size() + 1), members_(asked.size()), c_(n_ * n_) {
        std::vector<std::vector<double>> all{asked};
        for (const Candidate& one : candidates) {
            all.push_back(one.celsius);
        }
        const double count = static_cast<double>(members_);
        for (auto& values : all) {
            double mean = 0.0;
            for (const double one : values) {
                mean += one / count;
            }
            for (double& one : values) {
                one -= mean;
            }
        }
        for (std::size_t a = 0; a < n_; ++a) {
            for (std::size_t b = 0; b < n_; ++b) {
                for (std::size_t m = 0; m < members_; ++m) {
                    c_[a * n_ + b] += all[a][m] * all[b][m] / (count - 1.0);
                }
            }
        }
    }

    [[nodiscard]] double asked_variance() const { return c_[0]; }
    /// What a reading of this candidate takes off the variance of what is asked, less what few
    /// members show by chance.
    [[nodiscard]] double taken_off(std::size_t candidate, double error) const {
        const std::size_t k = candidate + 1;
        const double own = c_[k * n_ + k];
        if (own <= 0.0 || c_[0] <= 0.0) {
            return 0.0;
        }
        const double squared = c_[k] * c_[k] / (own * c_[0]);
        const double sure =
            std::max(0.0, squared - (1.0 - squared) / (static_cast<double>(members_) - 2.0));
        return sure * c_[0] * own / (own + error);
    }
    /// It was read. What it takes off what is asked is what was promised.
    void read(std::size_t candidate, double error) {
        const double promised = asked_variance() - taken_off(candidate, error);
        const std::size_t k = candidate + 1;
        std::vector<double> with(n_);
        for (std::size_t a = 0; a < n_; ++a) {
            with[a] = c_[a * n_ + k];
        }
        const double variance = with[k] + error;
        for (std::size_t a = 0; a < n_; ++a) {
            for (std::size_t b = 0; b < n_; ++b) {
                c_[a * n_ + b] -= with[a] * with[b] / variance;
            }
        }
        c_[0] = promised;
    }

 private:
    std::size_t n_;
    std::size_t members_;
    std::vector<double> c_;
};

}  // namespace

std::vector<NextProbe> next_probes(const PileStudy& study, const Courses& courses,
                                   std::size_t most) {
    const auto all = candidates(study, courses);
    const Catalogue& catalogue = study.catalogue();
    const double error = std::pow(catalogue.value(ConstantId::pile_probe_error), 2.0) +
                         std::pow(catalogue.value(ConstantId::pile_probe_offset), 2.0);
    Covariances covariances(sugar_lost_kg(study, courses), all);
    std::vector<NextProbe> places;
    while (places.size() < most) {
        std::size_t best = all.size();
        double taken = 0.0;
        for (std::size_t k = 0; k < all.size(); ++k) {
            const double off = covariances.taken_off(k, error);
            if (off > taken) {
                taken = off;
                best = k;
            }
        }
        const double before = std::sqrt(std::max(0.0, covariances.asked_variance()));
        const double after = std::sqrt(std::max(0.0, covariances.asked_variance() - taken));
        constexpr double kWorthwhile = 1.0 / 30.0;
        if (best == all.size() || before - after < kWorthwhile * before) {
            break;
        }
        covariances.read(best, error);
        const auto celsius = summary_of(all[best].celsius);
        places.push_back({.part = all[best].part,
                          .place = all[best].place,
                          .celsius_low = celsius.low,
                          .celsius_high = celsius.high,
                          .half_width_before_kg = kIntervalZ * before,
                          .half_width_after_kg = kIntervalZ * after});
    }
    return places;
}

}  // namespace beetwright::engine
