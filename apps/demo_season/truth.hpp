// What is true in each of the demo season's fields, before anybody looks. Observations are drawn
// from it (observe.hpp), so tests and coverage runs can compare what was concluded with what was
// so. Nothing here is written to the season.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "beet/topping.hpp"
#include "check/sheet.hpp"
#include "demo_season/story.hpp"
#include "demo_season/weather.hpp"

namespace beetwright::demo {

/// How much beet a cut or a break takes away, and how much a pile holds.
struct LossPhysics {
    double tail_loss_at_5cm = 0.0;  ///< share of a whole root
    double tail_exponent = 0.0;     ///< loss ~ diameter ^ exponent
    beet::ScarConstants scars;      ///< what beets topped too deep lose
    double slanted_cut = 0.0;       ///< share of a root
    Density piled;                  ///< clean beet in a pile
};

/// The catalogue's central values.
LossPhysics loss_physics(const Catalogue& catalogue);

/// Where tails break: a share of tails is whole, the others' diameters are gamma-distributed, with
/// a factor common to the beets of a spot.
struct TailBreaks {
    double whole_share = 0.0;
    Length mean;         ///< of the broken ones
    double shape = 3.0;  ///< of the gamma distribution
    double spot_log_sd = 0.0;

    /// Mean of (diameter / 5 cm) ^ exponent over all tails.
    [[nodiscard]] double moment(double exponent) const;
    /// Mean open area of the break over all tails.
    [[nodiscard]] Area open_area() const;
};

/// Topping cuts' diameters: normal about each class's mean; an uncut crown has none.
struct ToppingScars {
    std::array<Length, check::kToppingClasses> mean;
    Length sd;

    /// Mean share of its root that a beet topped too deep loses.
    [[nodiscard]] double loss_of_deep_cut(const beet::ScarConstants& constants) const;
};

struct FieldTruth {
    std::string field;
    CampaignDay lifted;  ///< or planned
    double dryness = 0.0;
    double wetness = 0.0;

    CleanMassPerArea standing;     ///< before harvest, as topped correctly
    CleanMassPerArea whole_roots;  ///< left in or thrown out
    CleanMassPerArea pieces;
    Length crown_height;  ///< over the ground
    Length crown_height_sd;

    std::array<double, check::kToppingClasses> topping{};  ///< shares by class
    double topping_concentration = 0.0;                    ///< of the spots' shares about those
    ToppingScars scars;
    TailBreaks tails;
    Area skin_damage;  ///< mean per beet
    double rotten = 0.0;
    double rot_concentration = 0.0;
    double frosted = 0.0;
    double frost_concentration = 0.0;

    double soil = 0.0;  ///< per clean beet delivered
    double tops = 0.0;
    SugarContent pol;  ///< of the beets delivered
    AmountContent potassium;
    AmountContent sodium;
    AmountContent amino_nitrogen;

    // What follows from the above by the loss physics.
    double over_topped_share = 0.0;  ///< of what went into the machine
    double tail_share = 0.0;

    [[nodiscard]] CleanMassPerArea into_machine() const { return standing - whole_roots - pieces; }
    [[nodiscard]] CleanMassPerArea over_topped() const {
        return over_topped_share * into_machine();
    }
    [[nodiscard]] CleanMassPerArea tails_lost() const { return tail_share * into_machine(); }
    [[nodiscard]] CleanMassPerArea delivered() const {
        return into_machine() - over_topped() - tails_lost();
    }
    /// Tails, over-topping and whole roots, as the Dutch survey adds them up.
    [[nodiscard]] CleanMassPerArea surveyed_loss() const {
        return tails_lost() + over_topped() + whole_roots;
    }
};

/// The truth of one field of the story.
FieldTruth field_truth(const FieldPlan& plan, const Weather& weather, std::uint64_t seed,
                       const LossPhysics& physics);

/// The truth of every field, in the story's order.
std::vector<FieldTruth> season_truth(const Weather& weather, std::uint64_t seed,
                                     const LossPhysics& physics);

}  // namespace beetwright::demo
