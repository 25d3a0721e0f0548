#include "worth/price.hpp"

#include "base/contract.hpp"

namespace beetwright::worth {
namespace {

void set_slide(const Terms& terms, Price& price) {
    require(terms.slide.size() <= kMostSlideSteps, "a slide has at most 16 steps");
    const double reference = terms.reference_pol.si();
    price.at_reference = terms.base_price.si();
    for (const SlideStep& step : terms.slide) {
        auto& flat = price.steps[price.step_count++];
        flat.from = step.from.si();
        flat.to = step.to.si();
        flat.slope = step.change_per_content * terms.base_price.si();
        price.at_reference -= flat.slope * std::clamp(reference, flat.from, flat.to);
    }
}

void set_date(const Terms& terms, Day delivered, Price& price) {
    for (const auto& supplement : terms.supplements) {
        if (supplement.from <= delivered && delivered <= supplement.to) {
            const auto days = static_cast<double>((delivered - supplement.from).count());
            price.date_amount += (supplement.at_from + days * supplement.per_day).si();
        }
    }
    for (const auto& premium : terms.premiums) {
        if (premium.from <= delivered && delivered <= premium.to) {
            price.date_share += premium.share;
        }
    }
}

}  // namespace

MoneyPerMassWithSoil haul_cost(const HaulCost& cost, Length haul) {
    return cost.fixed + cost.per_length * haul;
}

Price price_on(const Terms& terms, Day delivered, double haul_m) {
    Price price;
    if (terms.recoverable) {
        const auto& by_sugar = *terms.recoverable;
        price.per_sugar = by_sugar.price.si();
        price.at_reference = -by_sugar.charge.si() - (by_sugar.price * by_sugar.fixed_loss).si();
    } else {
        set_slide(terms, price);
    }
    set_date(terms, delivered, price);
    if (terms.tare_rule == TareRule::fixed) {
        price.paid_share = 1.0 - terms.fixed_crown_tare;
    }
    price.per_kg_soil = -terms.soil_charge.si();
    price.per_kg_tops = -terms.tops_charge.si();
    const Length haul(haul_m);
    price.haul_per_kg_clean = haul_allowance(terms.haul_allowance, haul).si();
    const auto with_soil =
        haul_allowance(terms.haul_allowance_with_soil, haul) - haul_cost(terms.haul_cost, haul);
    price.haul_per_kg_with_soil = with_soil.si();
    return price;
}

}  // namespace beetwright::worth
