#include "engine/pile_deeds.hpp"

#include <cmath>

namespace beetwright::engine {

using check::PileCover;

std::array<NamedDeed, 8> named_deeds(Day today) {
    const auto cover = [&](PileCover kind) { return PileDeed{.cover = kind, .cover_on = today}; };
    const auto fan = [](ledger::FanRule rule, double colder_K) {
        return PileDeed{.fan = DeedFan{.rule = rule, .colder = TemperatureDifference(colder_K)}};
    };
    return {{
        {"bare", "whatever lies on it taken off now", cover(PileCover::none)},
        {"fleece", "fleece put on now", cover(PileCover::fleece)},
        {"frost",
         "fleece put on when frost is to come, and taken off after it",
         {.cover = PileCover::fleece, .cover_on = today, .only_in_frost = true}},
        {"straw", "15 cm of straw put on now", cover(PileCover::straw)},
        {"plastic", "a plastic sheet put on now", cover(PileCover::plastic)},
        {"strips", "plastic sheets with gaps between put on now", cover(PileCover::strips)},
        {"fan", "air blown through it whenever the air outside is 2 K colder, but not in frost",
         fan(ledger::FanRule::difference, 2.0)},
        {"freeze", "air blown through it in hard frost, to freeze it and keep it frozen",
         fan(ledger::FanRule::freeze, 0.0)},
    }};
}

double cover_cost_per_metre(PileCover cover, const ledger::PileSite& site,
                            const Catalogue& catalogue) {
    const double flank =
        std::hypot(0.5 * (site.base_width - site.top_width).si(), site.height.si());
    const double surface = 2.0 * flank + site.top_width.si();  // [m2/m]
    constexpr double kOfStrips = 0.8;
    using enum ConstantId;
    switch (cover) {
        case PileCover::none: return 0.0;
        case PileCover::fleece: return surface * catalogue.value(pile_fleece_cost);
        case PileCover::straw: return surface * catalogue.value(pile_straw_cost);
        case PileCover::plastic: return surface * catalogue.value(pile_plastic_cost);
        case PileCover::strips: return kOfStrips * surface * catalogue.value(pile_plastic_cost);
    }
    return 0.0;
}

}  // namespace beetwright::engine
