#include "harvester/prospect.hpp"

#include <array>

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

Result<Prospect> prospect(const Settings& settings, const Ground& ground, const Prospect* like) {
    const auto found = situation(ground.machine, settings, ground.conditions, ground.catalogue);
    if (!found) {
        return found.problems();
    }
    const auto work = work_constants([&](ConstantId id) { return ground.catalogue.value(id); });
    Prospect result;
    const std::size_t count = ground.count();
    result.earned.reserve(count);
    result.topped.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        const auto of = predictors(*found, ground.draws.subspan(i * kParameters, kParameters));
        result.topped.push_back(like == nullptr ? topped(of, *found) : like->topped[i]);
        const Outcome out = outcome(of, *found, work, result.topped.back());
        result.earned.push_back(ground.worth(out, i));
        for (std::size_t f = 0; f < kFigures; ++f) {
            result.figures[f] += figure(out, static_cast<Figure>(f)) / static_cast<double>(count);
        }
    }
    return result;
}

}  // namespace beetwright::harvester
