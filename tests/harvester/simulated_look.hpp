// A check of work whose truth is known, drawn as people would see it.
#pragma once

#include <cmath>
#include <vector>

#include "base/random.hpp"
#include "harvester/likelihood.hpp"
#include "harvester/look.hpp"
#include "harvester/outcome.hpp"

namespace beetwright::harvester {

struct Effort {
    int crowns = 100;
    int tails = 100;
    int skins = 0;
    double strip_m2 = 0.0;
    int tares = 0;
};

/// Losses by two tables' law, for tests: 9.36 % at 5 cm, by the power 2.11 of the diameter.
inline LossOfBreaks usual_losses() {
    LossOfBreaks losses{};
    for (std::size_t i = 0; i < losses.size(); ++i) {
        losses[i] = std::min(0.0936 * std::pow((static_cast<double>(i) + 0.5) / 10.0, 2.11), 0.6);
    }
    return losses;
}

template <std::size_t N>
std::array<double, N> counts_of(RandomStream& random, const std::array<double, N>& chances,
                                int beets) {
    std::array<double, N> counts{};
    for (int beet = 0; beet < beets; ++beet) {
        double left = random.uniform();
        std::size_t seen = 0;
        while (seen + 1 < N && left >= chances[seen]) {
            left -= chances[seen++];
        }
        counts[seen] += 1.0;
    }
    return counts;
}

inline Look simulated_look(RandomStream& random, const Predictors& truth,
                           const Situation& situation, const SightConstants& sight,
                           const Effort& effort,
                           SeenOnTheWay where = SeenOnTheWay::after_cleaning) {
    Look look;
    look.where = where;
    const auto predictor = [&](Predictor p) { return truth[static_cast<std::size_t>(p)]; };
    if (effort.crowns > 0) {
        look.crowns =
            counts_of(random,
                      crowns_seen(topped(truth, situation).shares,
                                  chance_of(predictor(Predictor::long_stalks)),
                                  chance_of(predictor(Predictor::slanted)), sight.misjudged),
                      effort.crowns);
    }
    if (effort.tails > 0) {
        const Breaks breaks(truth);
        const auto over = [&](double cm) {
            return where == SeenOnTheWay::before_cleaning ? breaks.by_lifting(Length(0.01 * cm))
                                                          : breaks.by_any(Length(0.01 * cm));
        };
        const std::array<double, 6> chances{1.0 - over(0),     over(0) - over(2), over(2) - over(4),
                                            over(4) - over(6), over(6) - over(8), over(8)};
        const auto counts = counts_of(random, chances, effort.tails);
        look.breaks.push_back({Length::zero(), Length::zero(), counts[0]});
        for (std::size_t c = 1; c < counts.size(); ++c) {
            const double from = 0.02 * static_cast<double>(c - 1);
            const double to = c + 1 == counts.size() ? HUGE_VAL : from + 0.02;
            look.breaks.push_back({Length(from), Length(to), counts[c]});
        }
    }
    if (effort.skins > 0) {
        look.skin_beets = effort.skins;
        const double sd = std::sqrt(std::log1p(sight.skin_cv * sight.skin_cv / effort.skins));
        look.skin_mean = Area(std::exp(predictor(Predictor::torn_skin) + sd * random.normal()));
    }
    if (effort.strip_m2 > 0.0) {
        look.strip = Area(effort.strip_m2);
        const double share =
            std::exp(predictor(Predictor::unlifted)) +
            topped(truth, situation).shares.struck * std::exp(predictor(Predictor::knocked_out)) +
            sight.lost_root_mass * (std::exp(predictor(Predictor::through_rolls)) +
                                    std::exp(predictor(Predictor::through_guards)));
        const double spread = 1.0 + sight.root_mass_cv * sight.root_mass_cv;
        const double mean = look.strip * situation.roots.beets * share / spread;
        look.strip_whole_roots = random.poisson(mean) * (spread * situation.roots.mean_mass);
        const double piece = sight.tail_piece * situation.roots.mean_mass.si();
        const double tails = (look.strip * situation.standing).si() *
                             mean_tail_loss(truth, sight.loss_of_breaks) *
                             std::exp(predictor(Predictor::tails_found));
        look.strip_tails = CleanMass(piece * random.poisson(tails / piece));
    }
    if (effort.tares > 0) {
        look.tares = effort.tares;
        const double sd = std::sqrt(std::log1p(sight.tare_cv * sight.tare_cv) / effort.tares);
        look.tare_log_mean = std::log(std::exp(predictor(Predictor::sticking_soil)) +
                                      std::exp(predictor(Predictor::loose_soil))) +
                             sd * random.normal();
    }
    return look;
}

}  // namespace beetwright::harvester
