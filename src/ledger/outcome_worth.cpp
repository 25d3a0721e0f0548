#include "ledger/outcome_worth.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "beet/tip.hpp"
#include "beet/wound.hpp"

namespace beetwright::ledger {
namespace {

using harvester::kBreakClasses;
using harvester::kBreakLimits;

/// A class's diameter that stands for all of it.
double middle_m(std::size_t break_class) {
    const Length from = break_class == 0 ? Length::zero() : kBreakLimits[break_class - 1];
    const Length to = break_class + 1 == kBreakClasses
                          ? Length(std::numeric_limits<double>::infinity())
                          : kBreakLimits[break_class];
    return beet::representative_diameter(from, to).si();
}

/// Scar of a level cut this far below the top of a crown that is half an ellipsoid.
double scar_area_m2(double depth_m, double widest_m, double height_m) {
    const double above = 1.0 - std::clamp(depth_m / height_m, 0.0, 1.0);
    return 0.25 * std::numbers::pi * widest_m * widest_m * (1.0 - above * above);
}

}  // namespace

harvester::LossOfBreaks loss_of_breaks(const Catalogue& catalogue) {
    const auto tip = beet::tip_constants([&](ConstantId id) { return catalogue.value(id); });
    harvester::LossOfBreaks losses{};
    for (std::size_t i = 0; i < losses.size(); ++i) {
        losses[i] = beet::tip_loss((static_cast<double>(i) + 0.5) * harvester::kBreakStep, tip);
    }
    return losses;
}

std::vector<CleanMassPerArea> standing_crops(std::span<const FieldAmounts> fields) {
    constexpr double kTonne_ha = 0.1;  // [kg/m2]
    std::vector<CleanMassPerArea> crops;
    for (const FieldAmounts& field : fields) {
        const auto of = [&](Amount amount) { return field.of(amount).number.mean; };
        double crop = of(Amount::beet_mass);
        if (field.mass_basis == MassBasis::weighed) {
            // Of what crossed the weighbridge the clean part, and what never came so far. Tails and
            // crowns that were lost are a few hundredths of it.
            crop = crop / (1.0 + of(Amount::soil) + of(Amount::tops)) + of(Amount::whole_roots) +
                   of(Amount::pieces);
        }
        crops.emplace_back(std::max(std::round(crop / kTonne_ha), 1.0) * kTonne_ha);
    }
    return crops;
}

OutcomeWorth::OutcomeWorth(const Model& model, const FieldQuestion& question, double hour_cost)
    : model_(&model),
      exposures_(&model.exposures(stay_of(question))),
      pays_(model.season().terms.pay()) {
    const Field& field = *question.field;
    const Catalogue& catalogue = model.catalogue();
    const double haul_m = field.haul.is_known() ? field.haul.si() : 0.0;
    price_ = worth::price_on(model.season().terms, question.sliced, haul_m);
    long_stalks_mass_ = catalogue.value(ConstantId::profile_long_stalks);
    short_stalks_mass_ = catalogue.value(ConstantId::profile_short_stalks);
    widest_m_ = catalogue.value(ConstantId::topping_widest);
    crown_height_m_ = 0.5 * widest_m_ * catalogue.value(ConstantId::topping_crown_height);
    leaf_limit_ = catalogue.value(ConstantId::harvester_leaf_limit);
    leaf_free_m_ = catalogue.value(ConstantId::harvester_leaf_free_depth);
    right_m_ = catalogue.value(ConstantId::harvester_right_depth);

    const std::size_t count = model.draws().count();
    const std::uint64_t entity = stable_hash(field.name);
    std::vector<AmountDraw> amounts(count);
    for (std::size_t a = 0; a < kAmountCount; ++a) {
        const auto scores = model.draws().field_scores(entity, static_cast<unsigned>(a));
        const num::UncertainQuantile quantile(question.amounts->amounts[a].number);
        for (std::size_t i = 0; i < count; ++i) {
            amounts[i][a] = quantile.at(scores[i]);
        }
    }
    const auto& depth_losses = model.draws().of(ConstantId::topping_loss_per_depth);
    const double exponent = catalogue.value(ConstantId::tip_exponent);
    RandomStream random(model.season().seed, "costs of work");
    for (std::size_t i = 0; i < count; ++i) {
        const DrawConstants& constants = model.constants()[i];
        Base base;
        base.standing = standing_of(amounts[i], constants, *question.amounts, exponent);
        const Standing& s = base.standing;
        base.crop = s.harvested + s.whole_roots + s.pieces;
        base.molasses = s.molasses + s.molasses_of_leaf;
        base.loss_per_depth = depth_losses[i];
        for (std::size_t c = 0; c < kBreakClasses; ++c) {
            base.tail_losses[c] = beet::tip_loss(middle_m(c), constants.tip);
        }
        const double hour_score = random.normal();
        base.hour_cost = std::isnan(hour_cost)
                             ? catalogue.at_score(ConstantId::harvester_hour_cost, hour_score)
                             : hour_cost;
        base.fuel_price = catalogue.at_score(ConstantId::harvester_fuel_price, random.normal());
        base.leaf_risk =
            std::max(catalogue.at_score(ConstantId::harvester_leaf_risk, random.normal()), 0.0);
        bases_.push_back(base);
    }
}

Standing OutcomeWorth::with(const harvester::Outcome& outcome, std::size_t draw) const {
    const Base& base = bases_[draw];
    const DrawConstants& constants = model_->constants()[draw];
    Standing s = base.standing;
    const auto& shares = outcome.topping.shares;
    const double level = 1.0 - outcome.topping.slanted;
    const double cut = 1.0 - shares.untouched;
    s.over_topped_share =
        std::min(shares.too_deep * level * base.loss_per_depth * outcome.topping.over_topped.si() +
                     cut * outcome.topping.slanted * constants.loss_of_slanted_cut,
                 0.5 * kLargestLossShare);
    double lost = 0.0;
    double open_m2 = 0.0;
    for (const auto& place : outcome.tails.share) {
        for (std::size_t c = 0; c < kBreakClasses; ++c) {
            lost += place[c] * base.tail_losses[c];
            open_m2 += place[c] * beet::disc(Length(middle_m(c))).si();
        }
    }
    s.tail_share = std::min(lost, 0.5 * kLargestLossShare);
    // The machine's share of what stands; the amounts' own crop may be heavier or lighter.
    const double whole_share = std::min(outcome.whole_roots.mass.si() / outcome.standing.si(), 0.9);
    s.whole_roots = base.crop * whole_share;
    s.harvested = std::max(base.crop - s.whole_roots - s.pieces, kLeastHarvestedShare * base.crop);
    const double with_leaf = shares.untouched + shares.leaf_left * level;
    const double long_stalks = outcome.topping.stalks_over_2cm;
    s.soil = (outcome.cleaning.soil_on_beets + outcome.cleaning.loose_soil).si();
    s.tops = long_stalks * long_stalks_mass_ +
             std::max(with_leaf - long_stalks, 0.0) * short_stalks_mass_;
    s.molasses_of_leaf =
        std::min(long_stalks * constants.profile.molasses_of_long_petioles, base.molasses);
    s.molasses = base.molasses - s.molasses_of_leaf;
    const double surface = constants.root_surface_m2;
    s.condition.tail_wound = open_m2 / surface;
    const double excess = outcome.topping.over_topped.si();
    const auto scar = [&](double depth) { return scar_area_m2(depth, widest_m_, crown_height_m_); };
    s.condition.crown_wound = (shares.leaf_left * scar(0.5 * leaf_free_m_) +
                               shares.right * scar(leaf_free_m_ + 0.5 * right_m_) +
                               shares.too_deep * scar(leaf_free_m_ + right_m_ + excess)) /
                              surface;
    s.condition.skin_wound = outcome.cleaning.torn_skin.si() / surface;
    s.condition.leaf = s.tops;
    s.condition.soil = s.soil;
    return s;
}

harvester::Earned OutcomeWorth::operator()(const harvester::Outcome& outcome,
                                           std::size_t draw) const {
    const Base& base = bases_[draw];
    harvester::Earned earned;
    if (pays_) {
        earned.paid =
            pay(deliver(with(outcome, draw), (*exposures_)[draw], model_->constants()[draw].lump),
                price_)
                .total();
    }
    const double over = std::max(outcome.topping.stalks_over_2cm - leaf_limit_, 0.0);
    earned.risk = earned.paid * std::min(base.leaf_risk * over, 1.0);
    earned.fuel = outcome.work.fuel.si() * base.fuel_price;
    earned.time = base.hour_cost / (outcome.work.area_rate.si() * outcome.work.field_efficiency);
    return earned;
}

}  // namespace beetwright::ledger
