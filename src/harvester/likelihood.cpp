#include "harvester/likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace beetwright::harvester {
namespace {

using P = Predictor;

constexpr std::size_t index(Predictor predictor) {
    return static_cast<std::size_t>(predictor);
}
double of(const Predictors& predictors, Predictor predictor) {
    return predictors[index(predictor)];
}

/// A chance of what was seen although it cannot be: keeps one odd beet from deciding all.
constexpr double kOdd = 1e-9;

/// How far a predictor is moved to see what follows; small against what is ever known of it.
double step_of(Predictor predictor) {
    constexpr double kOfLengths = 1e-5;  // [m]
    constexpr double kOfOthers = 1e-4;
    return predictor == P::knife_offset || predictor == P::remover_offset ? kOfLengths : kOfOthers;
}

}  // namespace

SightConstants sight_constants(const Catalogue& catalogue, const LossOfBreaks& loss_of_breaks) {
    using enum ConstantId;
    const auto get = [&](ConstantId id) { return catalogue.value(id); };
    return {.tare_cv = get(check_tare_cv),
            .skin_cv = get(check_amount_cv),
            .root_mass_cv = get(root_mass_cv),
            .lost_root_mass = get(harvester_lost_root_mass),
            .tail_piece = get(harvester_tail_piece),
            .misjudged = get(harvester_misjudged),
            .loss_of_breaks = loss_of_breaks};
}

std::array<double, kCrownsSeen> crowns_seen(const ToppingShares& shares, double long_stalks,
                                            double slanted, double misjudged) {
    // A slant is seen on what the knife met; it may be anything else besides.
    const double level = 1.0 - slanted;
    const double with_leaf = shares.untouched + shares.leaf_left * level;
    const double stalks_long = with_leaf * long_stalks;
    const double stalks_short = with_leaf - stalks_long;
    const double right = shares.right * level;
    const double too_deep = shares.too_deep * level;
    const double slants = (1.0 - shares.untouched) * slanted;
    // From long stalks through the right cut to one too deep; a slant that is missed looks right.
    const double kept = 1.0 - misjudged;
    return {kept * stalks_long + 0.5 * misjudged * stalks_short,
            kept * stalks_short + misjudged * (stalks_long + 0.5 * right),
            kept * right + misjudged * (0.5 * stalks_short + too_deep + slants),
            kept * too_deep + 0.5 * misjudged * right, kept * slants};
}

double mean_tail_loss(const Predictors& predictors, const LossOfBreaks& loss_of_breaks) {
    const Breaks breaks(predictors);
    const double fall = breaks.fall(kBreakStep);
    double sum = 0.0;
    Breaks::Over at = breaks.at_all();
    double over = at.by_any();
    for (std::size_t i = 0; i + 1 < kBreakSteps; ++i) {
        at = at.times(fall);
        const double over_next = at.by_any();
        sum += (over - over_next) * loss_of_breaks[i];
        over = over_next;
    }
    return sum + over * loss_of_breaks.back();
}

Likelihood::Likelihood(const Look& look, const Situation& situation,
                       const SightConstants& constants)
    : look_(&look), situation_(&situation), constants_(&constants) {
    const std::vector<Predictor> lifting{P::break_lifting, P::break_slope};
    const std::vector<Predictor> all_breaks{P::break_lifting, P::break_cleaning, P::break_slope};
    if (std::ranges::any_of(look.crowns, [](double count) { return count > 0.0; })) {
        add_part(Part::crowns,
                 {P::knife_offset, P::remover_offset, P::follower_error, P::follower_lag,
                  P::tuft_lift, P::leaf_free, P::right_depth, P::long_stalks, P::slanted},
                 {look.crowns.begin(), look.crowns.end()});
    }
    if (!look.breaks.empty() && look.where != SeenOnTheWay::in_the_row) {
        std::vector<double> counts;
        for (const BreaksSeen& seen : look.breaks) {
            counts.push_back(seen.beets);
        }
        add_part(Part::breaks, look.where == SeenOnTheWay::before_cleaning ? lifting : all_breaks,
                 std::move(counts));
    }
    if (look.skin_beets > 0.0 && look.skin_mean > Area::zero() &&
        look.where == SeenOnTheWay::after_cleaning) {
        add_part(Part::skin, {P::torn_skin}, {std::log(look.skin_mean.si())});
    }
    if (look.strip > Area::zero()) {
        if (look.strip_whole_roots.is_known()) {
            // A find's masses differ: as many as this many of one mass tell as much.
            const double spread = 1.0 + constants.root_mass_cv * constants.root_mass_cv;
            const CleanMass root = situation.roots.mean_mass * spread;
            add_part(Part::whole_roots,
                     {P::unlifted, P::through_rolls, P::through_guards, P::knocked_out},
                     {look.strip_whole_roots / root});
        }
        if (look.strip_tails.is_known()) {
            std::vector<Predictor> touched = all_breaks;
            touched.push_back(P::tails_found);
            add_part(Part::tails, touched, {look.strip_tails.si()});
        }
    }
    if (look.tares > 0.0) {
        add_part(Part::tare, {P::sticking_soil, P::loose_soil}, {look.tare_log_mean});
    }
    std::set<Predictor> touched;
    for (const Seen& part : parts_) {
        touched.insert(part.touched.begin(), part.touched.end());
    }
    touched_.assign(touched.begin(), touched.end());
}

void Likelihood::add_part(Part part, std::vector<Predictor> touched, std::vector<double> seen) {
    parts_.push_back({part, std::move(touched)});
    seen_[static_cast<std::size_t>(part)] = std::move(seen);
}

std::span<const double> Likelihood::seen(Part part) const {
    return seen_[static_cast<std::size_t>(part)];
}

void Likelihood::expect(Part part, const Predictors& z, std::vector<double>& expected) const {
    expected.clear();
    switch (part) {
        case Part::crowns: {
            const auto chances =
                crowns_seen(shares_of(z, *situation_), chance_of(of(z, P::long_stalks)),
                            chance_of(of(z, P::slanted)), constants_->misjudged);
            expected.assign(chances.begin(), chances.end());
            break;
        }
        case Part::breaks: {
            const Breaks breaks(z);
            const auto chance = [&](const Breaks::Over& over) {
                return look_->where == SeenOnTheWay::before_cleaning ? over.by_lifting()
                                                                     : over.by_any();
            };
            const double at_all = chance(breaks.at_all());
            // Where a group begins the one before it mostly ends.
            Length last = Length::zero();
            double over_last = at_all;
            for (const BreaksSeen& group : look_->breaks) {
                if (!(group.to > Length::zero())) {
                    expected.push_back(1.0 - at_all);
                    continue;
                }
                const double from =
                    group.from == last ? over_last : chance(breaks.over(group.from));
                last = group.to;
                over_last = std::isinf(last.si()) ? 0.0 : chance(breaks.over(last));
                expected.push_back(from - over_last);
            }
            break;
        }
        case Part::skin: expected.push_back(of(z, P::torn_skin)); break;
        case Part::whole_roots: {
            const double spread = 1.0 + constants_->root_mass_cv * constants_->root_mass_cv;
            const double share = std::exp(of(z, P::unlifted)) +
                                 struck(z, *situation_) * std::exp(of(z, P::knocked_out)) +
                                 constants_->lost_root_mass * (std::exp(of(z, P::through_rolls)) +
                                                               std::exp(of(z, P::through_guards)));
            expected.push_back(look_->strip * situation_->roots.beets * share / spread);
            break;
        }
        case Part::tails: {
            const double found = std::exp(of(z, P::tails_found));
            expected.push_back((look_->strip * situation_->standing).si() *
                               mean_tail_loss(z, constants_->loss_of_breaks) * found);
            break;
        }
        case Part::tare:
            expected.push_back(
                std::log(std::exp(of(z, P::sticking_soil)) + std::exp(of(z, P::loose_soil))));
            break;
    }
}

double Likelihood::variance(Part part) const {
    return part == Part::skin
               ? std::log1p(constants_->skin_cv * constants_->skin_cv / look_->skin_beets)
               : std::log1p(constants_->tare_cv * constants_->tare_cv) / look_->tares;
}

double Likelihood::tail_piece() const {
    return constants_->tail_piece * situation_->roots.mean_mass.si();
}

double Likelihood::log(Part part, std::span<const double> expected) const {
    const auto counts = seen(part);
    double sum = 0.0;
    switch (part) {
        case Part::crowns:
        case Part::breaks:
            for (std::size_t i = 0; i < counts.size(); ++i) {
                if (counts[i] > 0.0) {
                    sum += counts[i] * std::log(std::max(expected[i], kOdd));
                }
            }
            return sum;
        case Part::whole_roots: return counts[0] * std::log(expected[0]) - expected[0];
        case Part::tails: {
            const double piece = tail_piece();
            return (counts[0] * std::log(expected[0]) - expected[0]) / piece;
        }
        case Part::skin:
        case Part::tare: {
            const double off = counts[0] - expected[0];
            return -0.5 * off * off / variance(part);
        }
    }
    return sum;
}

double Likelihood::log(const Predictors& predictors) const {
    double sum = 0.0;
    std::vector<double> expected;
    expected.reserve(std::max(kCrownsSeen, look_->breaks.size()));
    for (const Seen& part : parts_) {
        expect(part.part, predictors, expected);
        sum += log(part.part, expected);
    }
    return sum;
}

Likelihood::Slopes Likelihood::slopes(const Predictors& predictors) const {
    const std::size_t n = touched_.size();
    Slopes slopes{std::vector<double>(n), std::vector<double>(n * n)};
    const auto place = [&](Predictor predictor) {
        return static_cast<std::size_t>(std::ranges::lower_bound(touched_, predictor) -
                                        touched_.begin());
    };
    std::vector<double> expected, above, below;
    for (const Seen& part : parts_) {
        const auto counts = seen(part.part);
        expect(part.part, predictors, expected);
        // Of each expectation: what the score gives for a unit of it, and what it informs.
        std::vector<double> score(expected.size()), weight(expected.size());
        double all = 0.0;
        for (const double count : counts) {
            all += count;
        }
        for (std::size_t i = 0; i < expected.size(); ++i) {
            switch (part.part) {
                case Part::crowns:
                case Part::breaks: {
                    const double chance = std::max(expected[i], kOdd);
                    score[i] = counts[i] / chance;
                    weight[i] = all / chance;
                    break;
                }
                case Part::whole_roots:
                    score[i] = counts[i] / expected[i] - 1.0;
                    weight[i] = 1.0 / expected[i];
                    break;
                case Part::tails: {
                    const double piece = tail_piece();
                    score[i] = (counts[i] / expected[i] - 1.0) / piece;
                    weight[i] = 1.0 / (expected[i] * piece);
                    break;
                }
                case Part::skin:
                case Part::tare:
                    score[i] = (counts[i] - expected[i]) / variance(part.part);
                    weight[i] = 1.0 / variance(part.part);
                    break;
            }
        }
        const std::size_t m = part.touched.size();
        std::vector<double> jacobian(m * expected.size());
        for (std::size_t a = 0; a < m; ++a) {
            const double step = step_of(part.touched[a]);
            Predictors moved = predictors;
            moved[index(part.touched[a])] += step;
            expect(part.part, moved, above);
            moved[index(part.touched[a])] -= 2.0 * step;
            expect(part.part, moved, below);
            for (std::size_t i = 0; i < expected.size(); ++i) {
                jacobian[a * expected.size() + i] = (above[i] - below[i]) / (2.0 * step);
            }
        }
        for (std::size_t a = 0; a < m; ++a) {
            const double* row_a = &jacobian[a * expected.size()];
            const std::size_t to_a = place(part.touched[a]);
            for (std::size_t i = 0; i < expected.size(); ++i) {
                slopes.gradient[to_a] += row_a[i] * score[i];
            }
            for (std::size_t b = 0; b < m; ++b) {
                const double* row_b = &jacobian[b * expected.size()];
                double sum = 0.0;
                for (std::size_t i = 0; i < expected.size(); ++i) {
                    sum += row_a[i] * row_b[i] * weight[i];
                }
                slopes.information[to_a * n + place(part.touched[b])] += sum;
            }
        }
    }
    return slopes;
}

}  // namespace beetwright::harvester
