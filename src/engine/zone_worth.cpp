#include "engine/zone_worth.hpp"

#include <algorithm>

#include "base/random.hpp"
#include "harvester/entry.hpp"
#include "harvester/prospect.hpp"

namespace beetwright::engine {
namespace {

using harvester::Conditions;
using harvester::SoilFeel;

SoilFeel one_wetter(SoilFeel feel) {
    switch (feel) {
        case SoilFeel::hard: return SoilFeel::crumbly;
        case SoilFeel::crumbly: return SoilFeel::plastic;
        case SoilFeel::plastic:
        case SoilFeel::sticky: return SoilFeel::sticky;
    }
    return feel;
}

/// Conditions of a lie at scores of what is not known of it; `share`: which of all lots it is, 0
/// to 1.
Conditions at_scores(ground::Lie lie, Conditions conditions, const Catalogue& catalogue,
                     double crowns, double mass, double share) {
    switch (lie) {
        case ground::Lie::level: break;
        case ground::Lie::knoll:
            conditions.crowns.mean =
                conditions.crowns.mean +
                Length(catalogue.at_score(ConstantId::ground_knoll_crowns, crowns));
            conditions.roots.mean_mass =
                std::max(0.1, catalogue.at_score(ConstantId::ground_knoll_mass, mass)) *
                conditions.roots.mean_mass;
            break;
        case ground::Lie::hollow:
            if (share < catalogue.value(ConstantId::ground_hollow_wetter)) {
                conditions.soil.feel = one_wetter(conditions.soil.feel);
            }
            break;
    }
    return conditions;
}

}  // namespace

std::vector<Conditions> conditions_on(ground::Lie lie, const Conditions& field,
                                      const Catalogue& catalogue) {
    std::vector<Conditions> lots;
    for (std::size_t i = 0; i < kLieLots; ++i) {
        // Strata of both, in orders that go together no more than chance would have it.
        const double n = static_cast<double>(kLieLots);
        const double first = (static_cast<double>(i) + 0.5) / n;
        const double second = (static_cast<double>((5 * i + 2) % kLieLots) + 0.5) / n;
        lots.push_back(at_scores(lie, field, catalogue, normal_quantile(first),
                                 normal_quantile(second), first));
    }
    return lots;
}

Result<LieWorth> worth_on(ground::Lie lie, const HarvesterBasis& basis,
                          const harvester::Settings& everywhere) {
    const harvester::Worth worth = [&](const harvester::Outcome& outcome, std::size_t draw) {
        return (*basis.worth)(outcome, draw);
    };
    const auto on = [&](const Conditions& conditions) {
        return harvester::Ground{basis.state->machine, conditions, basis.catalogue, basis.draws,
                                 worth};
    };
    const Conditions expected = at_scores(lie, basis.conditions(), basis.catalogue, 0.0, 0.0, 0.5);
    const auto entry = harvester::entry_settings(on(expected), basis.state->kept_off);
    if (!entry) {
        return entry.problems();
    }
    LieWorth found{.lie = lie, .settings = entry->settings, .gains = {}};
    double cost = 0.0;
    for (const auto& conditions : conditions_on(lie, basis.conditions(), basis.catalogue)) {
        const auto ground = on(conditions);
        const auto own = harvester::prospect(found.settings, ground);
        const auto one = harvester::prospect(everywhere, ground);
        if (!own || !one) {
            return own ? one.problems() : own.problems();
        }
        const double rate =
            harvester::figures(everywhere, ground,
                               *one)[static_cast<std::size_t>(harvester::Figure::area_rate)]
                .value;
        for (std::size_t i = 0; i < own->earned.size(); ++i) {
            found.gains.push_back(own->earned[i].total() - one->earned[i].total());
            cost += one->earned[i].time * rate;
        }
    }
    found.hour_cost = cost / static_cast<double>(found.gains.size());
    return found;
}

}  // namespace beetwright::engine
