#include "check/scheme.hpp"

#include <algorithm>
#include <array>

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
    Judgement judgement;
    judgement.chance_met = num::beta_cdf(most_share, hits + kPrior, beets - hits + kPrior);
    if (judgement.chance_met >= 1.0 - kMiss) {
        judgement.verdict = Verdict::met;
    } else if (judgement.chance_met <= kFalseAlarm) {
        judgement.verdict = Verdict::missed;
    }
    return judgement;
}

}  // namespace beetwright::check
