#include "check/change.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "num/distributions.hpp"

namespace beetwright::check {
namespace {

/// As many beets as the check is worth, picked one by one.
struct Worth {
    int hits;
    int beets;
    double exact_hits;  ///< not rounded to whole beets
    double exact_beets;
};

Worth worth_of(const ShareCount& count) {
    require(count.beets >= 1 && count.hits >= 0 && count.hits <= count.beets,
            "hits are among the beets judged");
    require(count.design_effect >= 1.0, "spots prove no more than single beets");
    const double exact_beets = count.beets / count.design_effect;
    const int beets = std::max(1, static_cast<int>(std::lround(exact_beets)));
    const double share = static_cast<double>(count.hits) / count.beets;
    return {std::clamp(static_cast<int>(std::lround(share * beets)), 0, beets), beets,
            share * exact_beets, exact_beets};
}

/// Of two counts that both come from spots, each design effect is a poor estimate, and of the same
/// thing if nothing has changed: both take their mean.
std::pair<ShareCount, ShareCount> with_one_design_effect(ShareCount earlier, ShareCount later) {
    if (earlier.design_effect > 1.0 && later.design_effect > 1.0) {
        const double beets = static_cast<double>(earlier.beets) + later.beets;
        const double effect =
            (earlier.beets * earlier.design_effect + later.beets * later.design_effect) / beets;
        earlier.design_effect = effect;
        later.design_effect = effect;
    }
    return {earlier, later};
}

/// Two-sided: all tables no likelier than this one, itself and its equals by half.
double fisher_mid_p(const Worth& earlier, const Worth& later) {
    const int all = earlier.beets + later.beets;
    const int marked = earlier.hits + later.hits;
    const double here = num::hypergeometric_pmf(later.hits, marked, later.beets, all);
    double p = 0.0;
    for (int hits = std::max(0, later.beets + marked - all); hits <= std::min(marked, later.beets);
         ++hits) {
        const double chance = num::hypergeometric_pmf(hits, marked, later.beets, all);
        if (chance < here * (1.0 - 1e-9)) {
            p += chance;
        } else if (chance <= here * (1.0 + 1e-9)) {
            p += 0.5 * chance;
        }
    }
    return std::min(1.0, p);
}

/// P(later share > earlier share), both beta after Jeffreys' prior, as in share_of_spots.
double chance_of_rise(const Worth& earlier, const Worth& later) {
    constexpr double kPrior = 0.5;
    constexpr int kSlices = 200;
    double sum = 0.0;
    for (int i = 0; i < kSlices; ++i) {
        const double share = num::beta_quantile((i + 0.5) / kSlices, later.exact_hits + kPrior,
                                                later.exact_beets - later.exact_hits + kPrior);
        sum += num::beta_cdf(share, earlier.exact_hits + kPrior,
                             earlier.exact_beets - earlier.exact_hits + kPrior);
    }
    return sum / kSlices;
}

/// Power of the normal test of two shares.
double power(double p1, double n1, double p2, double n2) {
    const double pooled = (p1 * n1 + p2 * n2) / (n1 + n2);
    const double se_if_same = std::sqrt(pooled * (1.0 - pooled) * (1.0 / n1 + 1.0 / n2));
    const double se = std::sqrt(p1 * (1.0 - p1) / n1 + p2 * (1.0 - p2) / n2);
    if (se <= 0.0) {
        return p1 == p2 ? kFalseAlarm : 1.0;
    }
    const double z = -normal_quantile(0.5 * kFalseAlarm);
    return normal_cdf((std::abs(p2 - p1) - z * se_if_same) / se);
}

/// The least n in [1, most] whose power reaches 1 - kMiss; 0 if none does. power_at grows with n.
template <class PowerAt>
int least_beets(PowerAt&& power_at, int most) {
    if (power_at(most) < 1.0 - kMiss) {
        return 0;
    }
    int low = 0;
    int high = most;
    while (high - low > 1) {
        const int middle = low + (high - low) / 2;
        (power_at(middle) >= 1.0 - kMiss ? high : low) = middle;
    }
    return high;
}

constexpr int kMostBeets = 1'000'000;

int round_up(double beets) {
    return static_cast<int>(std::ceil(beets - 1e-9));
}

std::string percent(double share) {
    return std::to_string(std::lround(100.0 * share)) + " %";
}

std::string of_beets(const ShareCount& count) {
    return std::to_string(count.hits) + " of " + std::to_string(count.beets);
}

}  // namespace

ChangeAnswer compare(const ShareCount& first, const ShareCount& second) {
    const auto [earlier, later] = with_one_design_effect(first, second);
    const Worth before = worth_of(earlier);
    const Worth now = worth_of(later);
    ChangeAnswer answer;
    answer.earlier_share = static_cast<double>(earlier.hits) / earlier.beets;
    answer.later_share = static_cast<double>(later.hits) / later.beets;
    answer.chance_if_unchanged = fisher_mid_p(before, now);
    answer.chance_of_rise = chance_of_rise(before, now);
    const double p1 = answer.earlier_share;
    const double p2 = answer.later_share;
    if (answer.chance_if_unchanged < kFalseAlarm) {
        answer.verdict = p2 > p1 ? Change::rise : Change::fall;
    }
    if (p1 == p2) {
        return answer;
    }
    answer.chance_of_missing = 1.0 - power(p1, before.beets, p2, now.beets);
    const int each = least_beets([&](int n) { return power(p1, n, p2, n); }, kMostBeets);
    const double effect = std::max(earlier.design_effect, later.design_effect);
    answer.beets_each_to_tell = round_up(each * effect);
    const int now_alone =
        least_beets([&](int n) { return power(p1, before.beets, p2, n); }, kMostBeets);
    if (now_alone > 0) {
        answer.more_beets_now =
            std::max(0, round_up(now_alone * later.design_effect) - later.beets);
    }
    return answer;
}

std::string words(const ChangeAnswer& answer, const ShareCount& earlier, const ShareCount& later) {
    std::string text = of_beets(later) + " now against " + of_beets(earlier) + " before: ";
    const std::string fooled = percent(answer.chance_if_unchanged);
    switch (answer.verdict) {
        case Change::none_shown:
            text +=
                "no evidence of change. If nothing has changed, a difference this large still "
                "comes "
                "up in " +
                fooled + " of such checks.";
            break;
        case Change::rise:
        case Change::fall:
            text += answer.verdict == Change::rise ? "it has risen" : "it has fallen";
            text +=
                ", as far as these counts go. If nothing had changed, a difference this large "
                "would come up in " +
                fooled + " of such checks.";
            break;
    }
    text += " The chance that it truly is higher now: " + percent(answer.chance_of_rise) + ".";
    if (answer.beets_each_to_tell == 0) {
        return text;
    }
    if (answer.verdict == Change::none_shown) {
        text += " If the shares really are " + percent(answer.earlier_share) + " and " +
                percent(answer.later_share) + ", counts of this size miss it in " +
                percent(answer.chance_of_missing) +
                " of cases. To tell a difference of this size: " +
                std::to_string(answer.beets_each_to_tell) + " beets in each check";
        const int more = answer.beets_each_to_tell - later.beets;
        if (more > 0) {
            text += ", " + std::to_string(more) + " more than now";
        }
        const bool by_spots = earlier.design_effect > 1.0 || later.design_effect > 1.0;
        text += by_spots ? ", in about " + std::to_string((answer.beets_each_to_tell + 9) / 10) +
                               " spots of ten"
                         : ", picked one by one";
        text += " (wrong one time in ten either way).";
    }
    return text;
}

}  // namespace beetwright::check
