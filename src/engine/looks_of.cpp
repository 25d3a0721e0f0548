#include "engine/looks_of.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <utility>

namespace beetwright::engine {
namespace {

using check::Topping;
using harvester::CrownSeen;
using harvester::Look;
using harvester::SeenOnTheWay;

SeenOnTheWay way_of(check::SeenAt seen_at) {
    switch (seen_at) {
        case check::SeenAt::row: return SeenOnTheWay::in_the_row;
        case check::SeenAt::before_cleaning: return SeenOnTheWay::before_cleaning;
        case check::SeenAt::tank:
        case check::SeenAt::pile:
        case check::SeenAt::delivery: return SeenOnTheWay::after_cleaning;
    }
    return SeenOnTheWay::after_cleaning;
}

std::optional<CrownSeen> crown_of(Topping topping) {
    switch (topping) {
        case Topping::petioles_long: return CrownSeen::long_stalks;
        case Topping::petioles_short:
        case Topping::crown_untouched: return CrownSeen::short_stalks;
        case Topping::correct: return CrownSeen::right;
        case Topping::too_deep: return CrownSeen::too_deep;
        case Topping::slanted: return CrownSeen::slanted;
        case Topping::not_judged: return std::nullopt;
    }
    return std::nullopt;
}

}  // namespace

Look look_of(const check::BeetSheet& sheet, const Catalogue& catalogue) {
    Look look;
    look.where = way_of(sheet.seen_at);
    std::set<std::int32_t> spots;
    for (const check::CountedBeet& beet : sheet.beets) {
        spots.insert(beet.spot);
    }
    const double to_a_spot =
        static_cast<double>(sheet.beets.size()) / static_cast<double>(spots.size());
    const double alike = catalogue.value(ConstantId::check_alikeness);
    const double one = 1.0 / (1.0 + alike * (to_a_spot - 1.0));

    std::map<std::pair<double, double>, double> breaks;
    double skins = 0.0;
    double skin_m2 = 0.0;
    for (const check::CountedBeet& beet : sheet.beets) {
        if (const auto crown = crown_of(beet.topping)) {
            look.crowns[static_cast<std::size_t>(*crown)] += one;
        }
        if (beet.tip.is_judged()) {
            // A measured diameter is known to a few millimetres.
            constexpr double kRuler_m = 0.0025;
            const bool is_measured = beet.tip.from == beet.tip.to && beet.tip.to.si() > 0.0;
            const double off = is_measured ? kRuler_m : 0.0;
            breaks[{std::max(beet.tip.from.si() - off, 0.0), beet.tip.to.si() + off}] += one;
        }
        // Skin is torn by all that the way brings: before its end there is no saying how much.
        if (beet.skin_damage.is_known() && look.where == SeenOnTheWay::after_cleaning) {
            skins += 1.0;
            skin_m2 += beet.skin_damage.si();
        }
    }
    for (const auto& [diameters, count] : breaks) {
        look.breaks.push_back({Length(diameters.first), Length(diameters.second), count});
    }
    if (skins > 0.0) {
        look.skin_beets = skins * one;
        look.skin_mean = Area(skin_m2 / skins);
    }
    return look;
}

Look look_of(const check::DugStrip& strip) {
    Look look;
    look.strip = strip.area;
    look.strip_whole_roots = strip.whole_roots;
    look.strip_tails = strip.tails;
    return look;
}

Look look_of(const check::TareSample& tare) {
    Look look;
    const double tops = tare.tops.is_known() ? tare.tops.si() : 0.0;
    const double clean = tare.gross.si() - tare.soil.si() - tops;
    if (tare.soil.si() > 0.0 && clean > 0.0) {
        look.tares = 1.0;
        look.tare_log_mean = std::log(tare.soil.si() / clean);
    }
    return look;
}

double beets_of(const Look& look) {
    double crowns = std::accumulate(look.crowns.begin(), look.crowns.end(), 0.0);
    double tails = 0.0;
    for (const harvester::BreaksSeen& seen : look.breaks) {
        tails += seen.beets;
    }
    return std::max(crowns, tails);
}

}  // namespace beetwright::engine
