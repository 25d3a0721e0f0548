// One draw of one field's ledger, per square metre: what stands, what each stage takes, what is
// paid.
//
// Everything is a plain double in SI per m2 of field, because this runs fields x draws times. The
// balances at the end are worked out from the final state, not by subtracting the lines, so that
// the closure of the ledger is a check and not a tautology. See docs/methods/ledger.md.
#pragma once

#include <array>
#include <cstddef>

#include "ledger/ledger.hpp"
#include "pile/conversions.hpp"
#include "pile/lump.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {

/// One draw of a field's state. Masses in kg/m2 of field, contents in kg/kg clean beet.
struct Standing {
    double harvested = 0.0;    ///< roots that went into the machine, as topped correctly
    double whole_roots = 0.0;  ///< left or thrown out
    double pieces = 0.0;
    double over_topped_share = 0.0;        ///< of harvested
    double tail_share = 0.0;               ///< of harvested
    double pol = 0.0;                      ///< of delivered beet
    double crown_slice_sugar_ratio = 1.0;  ///< sugar content of what was cut too deep / pol
    double tail_sugar_ratio = 1.0;
    double soil = 0.0;  ///< per clean beet delivered
    double tops = 0.0;
    double molasses = 0.0;          ///< sugar held back per clean beet, without the next
    double molasses_of_leaf = 0.0;  ///< more of it from crown and leaf
    double factory_loss = 0.0;
    pile::LumpCondition condition;
};

/// The lines of one draw: losses positive here; signs are given when they are entered.
struct Flow {
    std::array<double, kLineCount> mass{};
    std::array<double, kLineCount> sugar{};
    std::array<double, kLineCount> money{};

    double& mass_of(Line line) { return mass[static_cast<std::size_t>(line)]; }
    double& sugar_of(Line line) { return sugar[static_cast<std::size_t>(line)]; }
    double& money_of(Line line) { return money[static_cast<std::size_t>(line)]; }
};

/// Beet mass lost with each kg of sugar breathed: the carbon leaves, the water made stays.
inline constexpr double kMassLostPerSugar = 1.0 - pile::kWaterMadePerSugar;

/// The beet on its way: mass and sugar per m2, and what the terms would pay for it as it is.
class Passing {
 public:
    Passing(double mass, double sugar, const worth::Price& price)
        : mass_(mass), sugar_(sugar), price_(price), worth_(value()) {}

    [[nodiscard]] double mass() const { return mass_; }
    [[nodiscard]] double sugar() const { return sugar_; }
    [[nodiscard]] double worth() const { return worth_; }

    /// Takes this much from the beet and enters it in the line, in beet, sugar and money.
    void lose(Flow& flow, Line line, double mass, double sugar) {
        enter(flow, line, mass, sugar, take(mass, sugar));
    }
    /// Takes whole beet, of the content that the rest has: the price of the rest stays as it is.
    void lose_whole(Flow& flow, Line line, double mass) {
        const double share = mass / mass_;
        const double sugar = share * sugar_;
        const double money = share * worth_;
        mass_ -= mass;
        sugar_ -= sugar;
        worth_ -= money;
        enter(flow, line, mass, sugar, money);
    }
    /// Takes beet and sugar away without entering them; gives the money that goes with them.
    double take(double mass, double sugar) {
        mass_ -= mass;
        sugar_ -= sugar;
        return revalue();
    }
    /// Enters sugar that stays in the beet but will not come out of the factory.
    void hold_back(Flow& flow, Line line, double sugar) {
        held_ += sugar;
        enter(flow, line, 0.0, sugar, revalue());
    }

    static void enter(Flow& flow, Line line, double mass, double sugar, double money) {
        flow.mass_of(line) = mass;
        flow.sugar_of(line) = sugar;
        flow.money_of(line) = money;
    }

 private:
    [[nodiscard]] double value() const {
        return price_.paid_share * price_.base_of(mass_, sugar_, held_);
    }
    double revalue() {
        const double before = worth_;
        worth_ = value();
        return before - worth_;
    }

    double mass_;
    double sugar_;
    double held_ = 0.0;
    const worth::Price& price_;
    double worth_;
};

/// What is delivered and what becomes of it, the end of the ledger without its steps.
struct Delivered {
    double mass = 0.0;      ///< kg/m2 of clean beet at the factory gate
    double sugar = 0.0;     ///< in it
    double molasses = 0.0;  ///< kg/m2 held back by plain beet
    double molasses_of_leaf = 0.0;
    double factory_loss = 0.0;
    double soil = 0.0;  ///< kg/m2
    double tops = 0.0;
    pile::LumpLoss storage;  ///< kg sugar per kg clean beet as lifted
    double lifted = 0.0;     ///< kg/m2 of clean beet as lifted

    [[nodiscard]] double held() const { return molasses + molasses_of_leaf; }
    [[nodiscard]] double recovered() const { return sugar - held() - factory_loss; }
};

inline Delivered deliver(const Standing& s, const pile::Exposure& exposure,
                         const pile::LumpConstants& constants) {
    Delivered d;
    d.lifted = s.harvested * (1.0 - s.over_topped_share - s.tail_share);
    d.storage = pile::lump_loss(exposure, s.condition, constants, s.pol);
    const double lost = d.storage.total();
    d.mass = d.lifted * (1.0 - kMassLostPerSugar * lost);
    d.sugar = d.lifted * (s.pol - lost);
    d.molasses = d.lifted * s.molasses;
    d.molasses_of_leaf = d.lifted * s.molasses_of_leaf;
    d.factory_loss = d.lifted * s.factory_loss;
    d.soil = d.lifted * s.soil;
    d.tops = d.lifted * s.tops;
    return d;
}

struct MoneyParts {
    double beet = 0.0;
    double soil_and_tops = 0.0;
    double haul = 0.0;
    double date_terms = 0.0;
    [[nodiscard]] double total() const { return beet + soil_and_tops + haul + date_terms; }
};

inline MoneyParts pay(const Delivered& d, const worth::Price& price) {
    const double beet = price.paid_share * price.base_of(d.mass, d.sugar, d.held());
    return {.beet = beet,
            .soil_and_tops = d.soil * price.per_kg_soil + d.tops * price.per_kg_tops,
            .haul = d.mass * price.haul_per_kg_clean +
                    (d.mass + d.soil + d.tops) * price.haul_per_kg_with_soil,
            .date_terms = price.date_share * beet + price.date_amount * price.paid_share * d.mass};
}

/// The whole ledger of one draw.
inline Flow flow_of(const Standing& s, const pile::Exposure& exposure,
                    const pile::LumpConstants& constants, const worth::Price& price) {
    Flow flow;
    const Delivered d = deliver(s, exposure, constants);

    const double crown = s.harvested * s.over_topped_share;
    const double tails = s.harvested * s.tail_share;
    const double crown_sugar = crown * s.pol * s.crown_slice_sugar_ratio;
    const double tail_sugar = tails * s.pol * s.tail_sugar_ratio;
    // A root left whole holds what a harvested root held before the cut and the break.
    const double whole_content = (d.lifted * s.pol + crown_sugar + tail_sugar) / s.harvested;
    const double standing_mass = s.harvested + s.whole_roots + s.pieces;
    const double standing_sugar = standing_mass * whole_content;

    Passing beet(standing_mass, standing_sugar, price);
    Passing::enter(flow, Line::standing_crop, standing_mass, standing_sugar, beet.worth());
    beet.lose_whole(flow, Line::whole_roots, s.whole_roots);
    beet.lose_whole(flow, Line::pieces, s.pieces);
    beet.lose(flow, Line::over_topping, crown, crown_sugar);
    beet.lose(flow, Line::tails, tails, tail_sugar);

    // The causes of storage loss act together; each bears the money by its share of the sugar.
    const double lost_content = d.storage.total();
    const double lost_sugar = d.lifted * lost_content;
    const double lost_money = beet.take(kMassLostPerSugar * lost_sugar, lost_sugar);
    const double money_per_content = lost_content > 0.0 ? lost_money / lost_content : 0.0;
    const auto store = [&](Line line, double content) {
        const double sugar = d.lifted * content;
        Passing::enter(flow, line, kMassLostPerSugar * sugar, sugar, money_per_content * content);
    };
    store(Line::storage_breathing, d.storage.breathing);
    store(Line::storage_tail_wounds, d.storage.tail_wounds);
    store(Line::storage_crown_wounds, d.storage.crown_wounds);
    store(Line::storage_skin_wounds, d.storage.skin_wounds);
    store(Line::storage_leaf_and_soil, d.storage.leaf_and_soil);
    store(Line::storage_rot_and_frost, d.storage.rot_and_frost);

    beet.hold_back(flow, Line::molasses, d.molasses);
    beet.hold_back(flow, Line::crown_and_leaf, d.molasses_of_leaf);
    flow.sugar_of(Line::factory_loss) = d.factory_loss;

    const MoneyParts money = pay(d, price);
    flow.money_of(Line::soil_and_tops) = -money.soil_and_tops;
    flow.money_of(Line::haul) = -money.haul;
    flow.money_of(Line::date_terms) = -money.date_terms;
    Passing::enter(flow, Line::recovered, d.mass, d.recovered(), money.beet);
    flow.money_of(Line::paid) = money.total();
    return flow;
}

}  // namespace beetwright::ledger
