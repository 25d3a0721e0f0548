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
Conditions at_scores(ground::Lie lie, Conditions conditions, const LieBeliefs& beliefs,
                     double crowns, double mass, double share) {
    switch (lie) {
        case ground::Lie::level: break;
        case ground::Lie::knoll:
            conditions.crowns.mean =
                conditions.crowns.mean + Length(beliefs.crowns_higher_m.at_score(crowns));
            conditions.roots.mean_mass =
                std::max(0.1, beliefs.beet_share.at_score(mass)) * conditions.roots.mean_mass;
            break;
        case ground::Lie::hollow:
            if (share < beliefs.wetter_chance.at_score(0.0)) {
                conditions.soil.feel = one_wetter(conditions.soil.feel);
            }
            break;
    }
    return conditions;
}

}  // namespace

std::vector<Conditions> conditions_on(ground::Lie lie, const Conditions& field,
                                      const LieBeliefs& beliefs) {
    std::vector<Conditions> lots;
    for (std::size_t i = 0; i < kLieLots; ++i) {
        // Strata of both, in orders that go together no more than chance would have it.
        const double n = static_cast<double>(kLieLots);
        const double first = (static_cast<double>(i) + 0.5) / n;
        const double second = (static_cast<double>((5 * i + 2) % kLieLots) + 0.5) / n;
        lots.push_back(
            at_scores(lie, field, beliefs, normal_quantile(first), normal_quantile(second), first));
    }
    return lots;
}

namespace {

/// Settings tried on each lot of conditions that a lie may have.
class Trial {
 public:
    using Prospects = std::vector<harvester::Prospect>;

    Trial(ground::Lie lie, const HarvesterBasis& basis, const LieBeliefs& beliefs)
        : basis_(basis),
          lots_(conditions_on(lie, basis.conditions(), beliefs)),
          worth_(basis.what_is_earned()) {}

    [[nodiscard]] harvester::Ground on(const Conditions& conditions) const {
        return {basis_.state->machine, conditions, basis_.catalogue, basis_.draws, worth_};
    }
    [[nodiscard]] Result<Prospects> of(const harvester::Settings& settings) const {
        Prospects prospects;
        for (const auto& lot : lots_) {
            auto prospect = harvester::prospect(settings, on(lot));
            if (!prospect) {
                return prospect.problems();
            }
            prospects.push_back(std::move(*prospect));
        }
        return prospects;
    }
    /// [money/s], of settings whose prospects these are.
    [[nodiscard]] double hour_cost(const harvester::Settings& settings,
                                   const Prospects& prospects) const {
        double cost = 0.0;
        double draws = 0.0;
        for (std::size_t i = 0; i < lots_.size(); ++i) {
            const auto figures = harvester::figures(settings, on(lots_[i]), prospects[i]);
            const double rate =
                figures[static_cast<std::size_t>(harvester::Figure::area_rate)].value;
            for (const auto& earned : prospects[i].earned) {
                cost += earned.time * rate;
                draws += 1.0;
            }
        }
        return cost / draws;
    }

 private:
    const HarvesterBasis& basis_;
    std::vector<Conditions> lots_;
    harvester::Worth worth_;
};

/// [money/m2] on each lot in each draw, one after the other.
std::vector<double> earned_in(const Trial::Prospects& prospects) {
    std::vector<double> all;
    for (const auto& prospect : prospects) {
        for (const auto& earned : prospect.earned) {
            all.push_back(earned.total());
        }
    }
    return all;
}

double mean_of(const std::vector<double>& list) {
    return std::accumulate(list.begin(), list.end(), 0.0) / static_cast<double>(list.size());
}

}  // namespace

Result<LieWorth> worth_on(ground::Lie lie, const HarvesterBasis& basis,
                          const harvester::Settings& everywhere, const LieBeliefs& beliefs) {
    const Trial trial(lie, basis, beliefs);
    const Conditions expected = at_scores(lie, basis.conditions(), beliefs, 0.0, 0.0, 0.5);
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
    const auto in_field = trial.of(everywhere);
    const auto own = trial.of(found.settings);
    if (!in_field || !own) {
        return in_field ? own.problems() : in_field.problems();
    }
    auto earned = earned_in(*own);
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
        const auto tried = trial.of(back);
        if (!tried) {
            continue;
        }
        auto with_it = earned_in(*tried);
        if (mean_of(with_it) >= mean_of(earned) - harvester::kAsGood) {
            found.settings = std::move(back);
            earned = std::move(with_it);
        }
    }
    const auto field = earned_in(*in_field);
    for (std::size_t i = 0; i < earned.size(); ++i) {
        found.gains.push_back(earned[i] - field[i]);
    }
    found.hour_cost = trial.hour_cost(everywhere, *in_field);
    return found;
}

}  // namespace beetwright::engine
