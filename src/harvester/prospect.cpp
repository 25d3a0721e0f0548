#include "harvester/prospect.hpp"

#include <algorithm>
#include <array>
#include <numeric>

#include "base/contract.hpp"

namespace beetwright::harvester {
namespace {

constexpr std::array<FigureTraits, kFigures> kFigureTraits{{
    {"long_stalks", "beets with stalks over 2 cm", UnitKind::fraction},
    {"too_deep", "beets topped too deep", UnitKind::fraction},
    {"tails_broken", "tails broken at over 2 cm", UnitKind::fraction},
    {"whole_roots", "whole roots lost", UnitKind::mass_per_area},
    {"torn_skin", "torn skin of a beet", UnitKind::area},
    {"soil", "soil per clean beet", UnitKind::fraction},
    {"area_rate", "area lifted in an hour", UnitKind::area_per_time},
    {"fuel", "fuel", UnitKind::volume_per_area},
}};

}  // namespace

const FigureTraits& traits(Figure figure) {
    return kFigureTraits[static_cast<std::size_t>(figure)];
}

double figure(const Outcome& outcome, Figure figure) {
    switch (figure) {
        case Figure::long_stalks: return outcome.topping.stalks_over_2cm;
        case Figure::too_deep: return outcome.topping.shares.too_deep;
        case Figure::tails_broken: return outcome.tails.broken_from(1);
        case Figure::whole_roots: return outcome.whole_roots.mass.si();
        case Figure::torn_skin: return outcome.cleaning.torn_skin.si();
        case Figure::soil:
            return (outcome.cleaning.soil_on_beets + outcome.cleaning.loose_soil).si();
        case Figure::area_rate: return outcome.work.area_rate.si() * outcome.work.field_efficiency;
        case Figure::fuel: return outcome.work.fuel.si();
    }
    return kNotKnown;
}

bool tops_alike(const Settings& one, const Settings& other, const Machine& machine) {
    for (const Control& control : machine.controls) {
        switch (control.kind) {
            case ControlKind::forward_speed:
            case ControlKind::leaf_remover_height:
            case ControlKind::scalper_thickness:
                if (one.find(control.id()) != other.find(control.id())) {
                    return false;
                }
                break;
            default: break;
        }
    }
    return true;
}

namespace {

/// Outcomes of settings, draw by draw: each is given to `take`, with its number.
template <class Take>
void go_through(const Situation& situation, const Ground& ground, const std::vector<Topped>& topped,
                Take&& take) {
    const auto work = work_constants([&](ConstantId id) { return ground.catalogue.value(id); });
    for (std::size_t i = 0; i < ground.count(); ++i) {
        const auto of = predictors(situation, ground.draws.subspan(i * kParameters, kParameters));
        take(outcome(of, situation, work, topped[i]), i);
    }
}

}  // namespace

Result<Prospect> prospect(const Settings& settings, const Ground& ground, const Prospect* like) {
    const auto found = situation(ground.machine, settings, ground.conditions, ground.catalogue);
    if (!found) {
        return found.problems();
    }
    Prospect result;
    if (like != nullptr) {
        result.topped = like->topped;
    } else {
        result.topped.reserve(ground.count());
        for (std::size_t i = 0; i < ground.count(); ++i) {
            const auto draw = ground.draws.subspan(i * kParameters, kParameters);
            result.topped.push_back(topped(predictors(*found, draw), *found));
        }
    }
    result.earned.reserve(ground.count());
    go_through(*found, ground, result.topped, [&](const Outcome& out, std::size_t i) {
        result.earned.push_back(ground.worth(out, i));
    });
    return result;
}

Figures figures(const Settings& settings, const Ground& ground, const Prospect& prospect) {
    const auto found = situation(ground.machine, settings, ground.conditions, ground.catalogue);
    require(found.ok(), "settings that have a prospect are in order");
    std::array<std::vector<double>, kFigures> drawn;
    go_through(*found, ground, prospect.topped, [&](const Outcome& out, std::size_t) {
        for (std::size_t f = 0; f < kFigures; ++f) {
            drawn[f].push_back(figure(out, static_cast<Figure>(f)));
        }
    });
    Figures told;
    for (std::size_t f = 0; f < kFigures; ++f) {
        told[f] = summary(std::move(drawn[f]));
    }
    return told;
}

Estimate<double> summary(std::vector<double> draws) {
    double mean =
        std::accumulate(draws.begin(), draws.end(), 0.0) / static_cast<double>(draws.size());
    // What is the same in all draws is its own mean, to the last digit.
    const auto [least, most] = std::ranges::minmax(draws);
    mean = std::clamp(mean, least, most);
    const auto point = [&](double share) {
        const auto place = static_cast<std::ptrdiff_t>(share * static_cast<double>(draws.size()));
        std::nth_element(draws.begin(), draws.begin() + place, draws.end());
        return draws[static_cast<std::size_t>(place)];
    };
    return {.value = mean, .low = std::min(point(0.05), mean), .high = std::max(point(0.95), mean)};
}

}  // namespace beetwright::harvester
