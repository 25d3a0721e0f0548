#include "engine/zone_worth.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

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

namespace {

/// What settings earn on each lot of conditions in each draw, one after the other.
struct OnLots {
    std::vector<double> earned;  ///< [money/m2]
    double hour_cost = 0.0;      ///< [money/s]

    [[nodiscard]] double mean() const {
        return std::accumulate(earned.begin(), earned.end(), 0.0) /
               static_cast<double>(earned.size());
    }
};

class Trial {
 public:
    Trial(ground::Lie lie, const HarvesterBasis& basis)
        : basis_(basis),
          lots_(conditions_on(lie, basis.conditions(), basis.catalogue)),
          worth_([&basis](const harvester::Outcome& outcome, std::size_t draw) {
              return (*basis.worth)(outcome, draw);
          }) {}

    [[nodiscard]] harvester::Ground on(const Conditions& conditions) const {
        return {basis_.state->machine, conditions, basis_.catalogue, basis_.draws, worth_};
    }
    [[nodiscard]] Result<OnLots> of(const harvester::Settings& settings) const {
        OnLots on_lots;
        double cost = 0.0;
        for (const auto& lot : lots_) {
            const auto ground = on(lot);
            const auto prospect = harvester::prospect(settings, ground);
            if (!prospect) {
                return prospect.problems();
            }
            const auto figures = harvester::figures(settings, ground, *prospect);
            const double rate =
                figures[static_cast<std::size_t>(harvester::Figure::area_rate)].value;
            for (const auto& earned : prospect->earned) {
                on_lots.earned.push_back(earned.total());
                cost += earned.time * rate;
            }
        }
        on_lots.hour_cost = cost / static_cast<double>(on_lots.earned.size());
        return on_lots;
    }

 private:
    const HarvesterBasis& basis_;
    std::vector<Conditions> lots_;
    harvester::Worth worth_;
};

}  // namespace

Result<LieWorth> worth_on(ground::Lie lie, const HarvesterBasis& basis,
                          const harvester::Settings& everywhere) {
    const Trial trial(lie, basis);
    const Conditions expected = at_scores(lie, basis.conditions(), basis.catalogue, 0.0, 0.0, 0.5);
    const auto entry = harvester::entry_settings(trial.on(expected), basis.state->kept_off);
    if (!entry) {
        return entry.problems();
    }
    LieWorth found{.lie = lie, .settings = entry->settings, .gains = {}};
    for (const auto& control : basis.state->machine.controls) {
        if (!harvester::is_set_from_the_seat(control.kind)) {
            found.settings.values.find(control.id())->second = *everywhere.find(control.id());
        }
    }
    const auto field = trial.of(everywhere);
    auto own = trial.of(found.settings);
    if (!field || !own) {
        return field ? own.problems() : field.problems();
    }
    // What earns most on what is expected need not on all that may be: each kind of control goes
    // back to the field's value where nothing is lost by it, so that few are left to switch.
    for (const auto& group : harvester::set_together(basis.state->machine)) {
        harvester::Settings back = found.settings;
        for (const auto* control : group) {
            back.values.find(control->id())->second = *everywhere.find(control->id());
        }
        if (back.values == found.settings.values) {
            continue;
        }
        auto tried = trial.of(back);
        if (tried && tried->mean() >= own->mean() - harvester::kAsGood) {
            found.settings = std::move(back);
            own = std::move(tried);
        }
    }
    for (std::size_t i = 0; i < own->earned.size(); ++i) {
        found.gains.push_back(own->earned[i] - field->earned[i]);
    }
    found.hour_cost = field->hour_cost;
    return found;
}

}  // namespace beetwright::engine
