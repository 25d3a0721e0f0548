#include "crop/wait.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "base/contract.hpp"

namespace beetwright::crop {
namespace {

constexpr std::size_t kSize = FieldForecast::kSize;
using Square = std::array<std::array<double, kSize>, kSize>;

/// Cholesky's factor. On the day itself now and later are the same numbers, so a pivot may be
/// nothing but rounding.
Square root_of(const Square& covariance) {
    constexpr double kRounding = 1e-13;
    Square root{};
    for (std::size_t j = 0; j < kSize; ++j) {
        double pivot = covariance[j][j];
        for (std::size_t k = 0; k < j; ++k) {
            pivot -= root[j][k] * root[j][k];
        }
        if (pivot <= kRounding * covariance[j][j]) {
            continue;
        }
        root[j][j] = std::sqrt(pivot);
        for (std::size_t i = j + 1; i < kSize; ++i) {
            double sum = covariance[i][j];
            for (std::size_t k = 0; k < j; ++k) {
                sum -= root[i][k] * root[j][k];
            }
            root[i][j] = sum / root[j][j];
        }
    }
    return root;
}

/// The traits of one draw.
std::array<double, kSize> drawn(const FieldForecast& forecast, const Square& root,
                                RandomStream& random) {
    std::array<double, kSize> scores{};
    for (double& score : scores) {
        score = random.normal();
    }
    auto values = forecast.mean;
    for (std::size_t i = 0; i < kSize; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            values[i] += root[i][j] * scores[j];
        }
    }
    return values;
}

/// Mean, and the 5 % and 95 % points.
Estimate<double> summary(std::span<double> draws) {
    std::ranges::sort(draws);
    double sum = 0.0;
    for (const double draw : draws) {
        sum += draw;
    }
    const auto at = [&](double share) {
        return draws[static_cast<std::size_t>(share * static_cast<double>(draws.size()))];
    };
    const double tail = 0.5 * (1.0 - kIntervalLevel);
    return {sum / static_cast<double>(draws.size()), at(tail), at(1.0 - tail)};
}
template <class Q>
Estimate<Q> as(const Estimate<double>& e, double factor = 1.0) {
    return {Q(factor * e.value), Q(factor * e.low), Q(factor * e.high)};
}

/// Every number of the question that cannot be.
Problems problems_of(const WaitQuestion& question) {
    Problems problems;
    const auto share = [&](double value, const char* name) {
        if (!(value >= 0.0 && value <= 1.0)) {
            problems.push_back({ProblemKind::input,
                                {.file = "", .line = 0, .field = name},
                                "it does not lie between 0 and 1",
                                "give 0 for never or none, 1 for certain or all"});
        }
    };
    const auto& mishaps = question.mishaps;
    share(mishaps.too_wet, "chance that it is too wet");
    share(mishaps.leaf_frost, "chance that leaf freezes");
    share(mishaps.frozen_roots, "chance that roots freeze");
    share(question.leaf.now, "diseased leaf now");
    share(question.leaf.later, "diseased leaf later");
    if (problems.empty() && mishaps.frozen_roots > mishaps.leaf_frost) {
        problems.push_back({ProblemKind::input,
                            {.file = "", .line = 0, .field = "chance that roots freeze"},
                            "it is over the chance that leaf freezes, and leaf freezes first",
                            "give a chance no higher than the leaf's"});
    }
    return problems;
}

}  // namespace

Result<WaitWorth> worth_of_waiting(const FieldForecast& forecast, const WaitQuestion& question,
                                   const Catalogue& catalogue, RandomStream random) {
    const auto& mishaps = question.mishaps;
    if (auto problems = problems_of(question); !problems.empty()) {
        return problems;
    }
    constexpr std::size_t kNow = FieldForecast::kNow, kLater = FieldForecast::kLater;
    const double factory_loss = catalogue.value(ConstantId::molasses_factory_loss);
    const auto recoverable = [&](double root, double pol, double molasses) {
        return std::max(0.0, root) * std::max(0.0, pol - molasses - factory_loss);
    };
    const Square root = root_of(forecast.covariance);

    require(question.draws >= 100, "a wait takes at least 100 draws");
    const auto count = static_cast<std::size_t>(question.draws);
    const bool is_paid = question.paid_now && question.paid_later;
    std::vector<double> now(count), well(count), change(count), money(is_paid ? count : 0);
    double losses = 0.0, poorer = 0.0, cost = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        const auto traits = drawn(forecast, root, random);
        const auto constants =
            leaf_constants([&](ConstantId id) { return catalogue.at_score(id, random.normal()); });
        const double stuck_loss =
            std::min(1.0, catalogue.at_score(ConstantId::crop_stuck_loss, random.normal()));
        const double delivered = std::clamp(traits[FieldForecast::kDelivered], 0.0, 1.0);
        const double frost = random.uniform();
        const bool wet = random.uniform() < mishaps.too_wet;

        const double grown = traits[kLater] - traits[kNow];
        const double pol_then = traits[kLater + 1] - pol_lost(question.leaf, constants);
        const auto roots_then = [&](double share_of_growth) {
            return traits[kNow] + std::min(grown, grown * share_of_growth);  // loss is not mended
        };
        const auto later = [&](double share_of_growth) {
            return recoverable(roots_then(share_of_growth), pol_then, traits[kLater + 2]);
        };
        const double healthy = growth_left(question.leaf, constants);
        const double growth =
            frost < mishaps.leaf_frost ? healthy * constants.frost_growth : healthy;
        const double kept = (frost < mishaps.frozen_roots ? 1.0 - constants.frozen_loss : 1.0) *
                            (wet ? 1.0 - stuck_loss : 1.0);
        const double without = later(healthy);
        const double with = kept * later(growth);

        const double stands = recoverable(traits[kNow], traits[kNow + 1], traits[kNow + 2]);
        now[i] = delivered * stands;
        well[i] = delivered * (without - stands);
        change[i] = delivered * (with - stands);
        losses += change[i] < 0.0 ? 1.0 : 0.0;
        cost += delivered * (without - with);
        if (is_paid) {
            const auto amount = [&](double roots, double share) {
                return delivered * share * std::max(0.0, roots);
            };
            money[i] =
                question.paid_later(amount(roots_then(growth), kept), pol_then,
                                    traits[kLater + 2]) -
                question.paid_now(amount(traits[kNow], 1.0), traits[kNow + 1], traits[kNow + 2]);
            poorer += money[i] < 0.0 ? 1.0 : 0.0;
        }
    }

    WaitWorth worth;
    worth.now = as<SugarPerArea>(summary(now));
    worth.change_if_all_goes_well = as<SugarPerArea>(summary(well));
    const auto changed = summary(change);
    worth.change = as<SugarPerArea>(changed);
    if (is_paid) {
        worth.money = as<MoneyPerArea>(summary(money));
        worth.chance_of_less_money = poorer / question.draws;
    }
    worth.chance_of_loss = losses / question.draws;
    worth.mishaps_cost = SugarPerArea(cost / question.draws);
    return worth;
}

}  // namespace beetwright::crop
