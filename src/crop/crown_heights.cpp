#include "crop/crown_heights.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "num/distributions.hpp"

namespace beetwright::crop {
namespace {

constexpr std::size_t kFewest = 5;
constexpr Length kHighest = 0.5 * unit::m;

Problem problem(std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = "crown heights"},
            std::move(what),
            std::move(fix)};
}

Problems problems_of(std::span<const Length> heights) {
    Problems problems;
    if (heights.size() < kFewest) {
        problems.push_back(problem(std::to_string(heights.size()) + " beets say too little",
                                   "measure about 20 beets in a row, at least 5"));
    }
    for (std::size_t i = 0; i < heights.size(); ++i) {
        if (!(std::abs(heights[i].si()) <= kHighest.si())) {
            problems.push_back(problem(
                "beet " + std::to_string(i + 1) + " is not within half a metre of the ground",
                "look at its unit, or measure it again"));
        }
    }
    if (problems.empty() && std::ranges::max(heights) == std::ranges::min(heights)) {
        problems.push_back(problem("all beets are of one height",
                                   "measure each beet, to the nearest half centimetre"));
    }
    return problems;
}

}  // namespace

std::string_view words(Evenness evenness) {
    switch (evenness) {
        case Evenness::even: return "even";
        case Evenness::fair: return "fair";
        case Evenness::uneven: return "uneven";
    }
    return "";
}

Result<CrownHeights> crown_heights(std::span<const Length> heights, const Catalogue& catalogue) {
    if (auto problems = problems_of(heights); !problems.empty()) {
        return problems;
    }
    const auto n = static_cast<double>(heights.size());
    double mean = 0.0, squares = 0.0;
    for (const Length height : heights) {
        mean += height.si() / n;
    }
    for (const Length height : heights) {
        squares += (height.si() - mean) * (height.si() - mean);
    }
    const double freedom = n - 1.0;
    const double sd = std::sqrt(squares / freedom);
    const double upper = 0.5 + 0.5 * kIntervalLevel;
    const double reach = num::student_quantile(upper, freedom) * sd / std::sqrt(n);
    // squares / variance is chi-squared: twice a gamma amount of half its freedom.
    const auto sd_at = [&](double chance) {
        return std::sqrt(0.5 * squares / num::gamma_quantile(1.0 - chance, 0.5 * freedom));
    };
    const auto chance_below = [&](double limit) {
        return 1.0 - num::gamma_cdf(0.5 * squares / (limit * limit), 0.5 * freedom);
    };
    CrownHeights crowns;
    crowns.beets = static_cast<int>(heights.size());
    crowns.mean = {Length(mean), Length(mean - reach), Length(mean + reach)};
    crowns.sd = {Length(sd), Length(sd_at(1.0 - upper)), Length(sd_at(upper))};
    crowns.even = chance_below(catalogue.value(ConstantId::crop_heights_even));
    crowns.uneven = 1.0 - chance_below(catalogue.value(ConstantId::crop_heights_uneven));
    crowns.fair = 1.0 - crowns.even - crowns.uneven;
    const double most = std::max({crowns.even, crowns.fair, crowns.uneven});
    crowns.likeliest = most == crowns.even     ? Evenness::even
                       : most == crowns.uneven ? Evenness::uneven
                                               : Evenness::fair;
    return crowns;
}

KnifeShares knife_shares(const CrownHeights& crowns, Length knife, Length thickest) {
    const double n = crowns.beets;
    const double sd = crowns.sd.value.si() * std::sqrt(1.0 + 1.0 / n);
    const auto below = [&](Length height) {
        return num::student_cdf((height - crowns.mean.value).si() / sd, n - 1.0);
    };
    KnifeShares shares;
    shares.untouched = below(knife);
    shares.too_deep = 1.0 - below(knife + thickest);
    shares.good = 1.0 - shares.untouched - shares.too_deep;
    return shares;
}

}  // namespace beetwright::crop
