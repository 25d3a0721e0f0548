// Payment terms flattened for one delivery day and one distance, as a Monte Carlo loop needs them:
// plain doubles in SI, no branches.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

#include "base/time.hpp"
#include "worth/terms.hpp"

namespace beetwright::worth {

struct Price {
    /// One step of the slide: clamp(pol, from, to) times the slope adds to the price.
    struct Step {
        double from = 0.0;
        double to = 0.0;
        double slope = 0.0;  ///< [money/kg clean per kg/kg]
    };

    /// [money/kg clean], with the steps' values at the reference taken off
    double at_reference = 0.0;
    std::array<Step, kMostSlideSteps> steps{};
    std::size_t step_count = 0;
    double per_sugar = 0.0;    ///< [money/kg recoverable sugar]
    double date_share = 0.0;   ///< of the base payment, added for the day
    double date_amount = 0.0;  ///< [money/kg clean], added for the day
    double paid_share = 1.0;   ///< of the clean mass
    double per_kg_soil = 0.0;  ///< [money/kg]; a charge is negative, likewise below
    double per_kg_tops = 0.0;
    double haul_per_kg_clean = 0.0;
    double haul_per_kg_with_soil = 0.0;  ///< the allowance by this basis, less the cost

    /// [money/kg of paid clean beet] before anything that depends on the date.
    [[nodiscard]] double base(double pol, double molasses) const {
        double price = at_reference + per_sugar * (pol - molasses);
        for (std::size_t i = 0; i < step_count; ++i) {
            price += steps[i].slope * std::clamp(pol, steps[i].from, steps[i].to);
        }
        return price;
    }
    /// [money] for paid clean beet of this mass, before anything that depends on the date: base()
    /// of its contents times its mass, without dividing by it. All in kg, mass not negative.
    [[nodiscard]] double base_of(double mass, double sugar, double held_back) const {
        double money = at_reference * mass + per_sugar * (sugar - held_back);
        for (std::size_t i = 0; i < step_count; ++i) {
            money += steps[i].slope * std::clamp(sugar, steps[i].from * mass, steps[i].to * mass);
        }
        return money;
    }
    /// [money/kg of paid clean beet] that the day adds.
    [[nodiscard]] double date_terms(double pol, double molasses) const {
        return date_share * base(pol, molasses) + date_amount;
    }
};

/// The price on a day of delivery, for beet hauled this far [m].
Price price_on(const Terms& terms, Day delivered, double haul_m);

/// What a tariff pays per mass at a distance.
template <class PerMass>
PerMass haul_allowance(const HaulTariff<PerMass>& tariff, Length haul) {
    PerMass sum = tariff.fixed;
    for (const auto& band : tariff.bands) {
        const Length inside = std::clamp(haul, band.from, band.to) - band.from;
        sum += inside * band.rate;
    }
    return tariff.factor * sum;
}

/// What the haul costs the grower per mass with soil.
MoneyPerMassWithSoil haul_cost(const HaulCost& cost, Length haul);

}  // namespace beetwright::worth
