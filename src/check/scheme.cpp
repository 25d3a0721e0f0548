#include "check/scheme.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <utility>
#include <vector>

#include "base/contract.hpp"
#include "check/change.hpp"
#include "num/distributions.hpp"

namespace beetwright::check {
namespace {

constexpr std::array kSchemes{
    Scheme{"nl_petioles", "Netherlands: at most 5 % with stalks over 2 cm", Judged::long_petioles,
           0.05, 0, 0, 0, "[V] IRS handbook 8.3"},
    Scheme{"nl_too_deep", "Netherlands: at most 5 % topped too deep", Judged::too_deep, 0.05, 0, 0,
           0, "[V] IRS handbook 8.3"},
    Scheme{"nl_penalty", "Dutch factory 2008: penalty above 15 % with stalks over 2 cm",
           Judged::long_petioles, 0.15, 0, 0, 0, "[V] cumela.nl, 2008"},
    Scheme{"nl_refusal", "Dutch factory 2008: refusal above 30 % with stalks over 2 cm",
           Judged::long_petioles, 0.30, 0, 0, 0, "[V] cumela.nl, 2008"},
    Scheme{"be_too_deep", "Belgium: at most 5 % topped too deep", Judged::too_deep, 0.05, 0, 0, 0,
           "[V] IRBAB"},
    Scheme{"be_petioles", "Belgium: at most 15 % with leaf stalks", Judged::long_petioles, 0.15, 0,
           0, 0, "[V] IRBAB"},
    Scheme{"fr_too_deep", "France: less than 10 % topped too deep", Judged::too_deep, 0.10, 0, 0, 0,
           "[V] ITB"},
    Scheme{"fr_petioles", "France: less than 20 % with leaf stalks", Judged::long_petioles, 0.20, 0,
           0, 0, "[V] ITB"},
    Scheme{"uk_fingers", "United Kingdom: at most 15 of 100 broken wider than a finger",
           Judged::broken_over_2cm, 0.15, 100, 15, 0,
           "[V] Farmers Weekly 7 Nov 1998; a finger taken as 2 cm [assumed]"},
    Scheme{"ten_spots_of_ten", "Rhineland: ten spots of ten beets, at most 2 of 10 rejected",
           Judged::any_fault, 0.20, 10, 2, 10, "[V] Moll 2006, SLU thesis, after LIZ"},
};

constexpr CleanMassPerArea by_area(double t_per_ha) {
    return t_per_ha * unit::t_clean_per_ha;
}
constexpr CleanMassPerArea by_acre(double short_tons) {
    return tonnes<CleanMass>(short_tons * kg_per_short_ton / kg_per_tonne) / unit::acre;
}
constexpr CleanMassPerArea kNoArea;

constexpr std::array kLossLimits{
    LossLimit{"Denmark, within reach: whole roots and pieces at most 0.5 t/ha",
              LossPart::whole_roots_and_pieces, by_area(0.5), 0.0, "[V] NBR 626-2013"},
    LossLimit{"Denmark, within reach: over-topping at most 0.5 t/ha", LossPart::over_topping,
              by_area(0.5), 0.0, "[V] NBR 626-2013"},
    LossLimit{"Denmark, within reach: tails at most 1 t/ha", LossPart::tails, by_area(1.0), 0.0,
              "[V] NBR 626-2013"},
    LossLimit{"France: tails less than 1 t/ha", LossPart::tails, by_area(1.0), 0.0, "[V] ITB"},
    LossLimit{"United Kingdom, target: all losses at most 2.5 t/ha", LossPart::all_losses,
              by_area(2.5), 0.0, "[V] BBRO"},
    LossLimit{"United States, low: less than half a short ton/acre", LossPart::all_losses,
              by_acre(0.5), 0.0, "[V] Red River Valley grower notes, harvest loss appraisal"},
    LossLimit{"United States, acceptable: less than one short ton/acre", LossPart::all_losses,
              by_acre(1.0), 0.0, "[V] Red River Valley grower notes, harvest loss appraisal"},
    LossLimit{"Russian norm: at most 1 % left in the soil", LossPart::left_in_soil, kNoArea, 0.01,
              "[V] consultant.ru LAW_103850"},
    LossLimit{"Russian norm: at most 5 % lost on the surface", LossPart::lost_on_surface, kNoArea,
              0.05, "[V] consultant.ru LAW_103850"},
    LossLimit{"Russian norm: at most 5 % of root mass cut off with the tops",
              LossPart::over_topping, kNoArea, 0.05, "[V] consultant.ru LAW_103850"},
};

/// Met or missed with a chance of error below one in ten.
Judgement judgement_of(double chance_met) {
    Judgement judgement;
    judgement.chance_met = chance_met;
    if (chance_met >= 1.0 - kMiss) {
        judgement.verdict = Verdict::met;
    } else if (chance_met <= kFalseAlarm) {
        judgement.verdict = Verdict::missed;
    }
    return judgement;
}

}  // namespace

std::string_view words(Judged judged) {
    switch (judged) {
        case Judged::long_petioles: return "leaf stalks over 2 cm";
        case Judged::too_deep: return "topped too deep";
        case Judged::broken_over_2cm: return "tail broken wider than 2 cm";
        case Judged::any_fault: return "any fault";
    }
    return "";
}

std::span<const Scheme> schemes() {
    return kSchemes;
}

double acceptance(int beets, int most_hits, double share, double correlation) {
    return num::beta_binomial_cdf(std::min(most_hits, beets), beets, share, correlation);
}

Judgement judge(std::span<const SpotSum> spots, double most_share, const Catalogue& catalogue) {
    const auto estimate = share_estimate(spots, catalogue);
    const double beets = estimate.effective_beets();
    const double hits = beets * estimate.share.value;
    constexpr double kPrior = 0.5;  // Jeffreys, as in share_of_spots
    return judgement_of(num::beta_cdf(most_share, hits + kPrior, beets - hits + kPrior));
}

double acceptance_of_spots(int spots, int beets, int most_hits, double share, double correlation) {
    require(spots >= 1 && beets >= 1, "a scheme has spots and beets");
    // The distribution of the sum, one spot after another; more hits than may be are not followed.
    const auto kept = static_cast<std::size_t>(std::clamp(most_hits, -1, spots * beets) + 1);
    std::vector<double> one(std::min(kept, static_cast<std::size_t>(beets) + 1));
    double below = 0.0;
    for (std::size_t hits = 0; hits < one.size(); ++hits) {
        const double up_to =
            num::beta_binomial_cdf(static_cast<int>(hits), beets, share, correlation);
        one[hits] = up_to - below;
        below = up_to;
    }
    std::vector<double> sum(kept, 0.0);
    if (kept > 0) {
        sum[0] = 1.0;
    }
    for (int spot = 0; spot < spots; ++spot) {
        std::vector<double> next(kept, 0.0);
        for (std::size_t had = 0; had < kept; ++had) {
            for (std::size_t more = 0; more < one.size() && had + more < kept; ++more) {
                next[had + more] += sum[had] * one[more];
            }
        }
        sum = std::move(next);
    }
    return std::accumulate(sum.begin(), sum.end(), 0.0);
}

double acceptance_of_all(const Scheme& scheme, double share, double correlation) {
    require(scheme.spots > 0, "the scheme judges each spot on its own");
    return std::pow(acceptance(scheme.beets, scheme.most_hits, share, correlation), scheme.spots);
}

Ruling rule(const Scheme& scheme, std::span<const SpotSum> spots) {
    require(scheme.spots > 0, "the scheme judges each spot on its own");
    const double most = static_cast<double>(scheme.most_hits) / scheme.beets;
    Ruling ruling;
    for (const SpotSum& spot : spots) {
        if (spot.n < scheme.beets) {
            ++ruling.too_small;
        } else if (spot.sum <= most * spot.n + 1e-9) {
            ++ruling.passed;
        } else {
            ++ruling.failed;
        }
    }
    return ruling;
}

std::string_view words(LossPart part) {
    switch (part) {
        case LossPart::whole_roots_and_pieces: return "whole roots and pieces";
        case LossPart::over_topping: return "crown cut away too deep";
        case LossPart::tails: return "tails broken and left";
        case LossPart::left_in_soil: return "left in the soil";
        case LossPart::lost_on_surface: return "lost on the surface";
        case LossPart::all_losses: return "all losses";
    }
    return "";
}

std::span<const LossLimit> loss_limits() {
    return kLossLimits;
}

Judgement judge_loss(const num::Uncertain& loss, const LossLimit& limit, CleanMassPerArea crop) {
    const double most = limit.most.is_known() ? limit.most.si() : limit.most_share * crop.si();
    require(most > 0.0, "a limit is more than nothing");
    return judgement_of(num::chance_at_most(loss, most));
}

}  // namespace beetwright::check
