#include "pile/health.hpp"

#include <algorithm>

#include "num/exponential.hpp"
#include "num/lanes.hpp"
#include "num/sums.hpp"
#include "num/wide.hpp"
#include "pile/conversions.hpp"

namespace beetwright::pile {

/// What the loop over cells needs to know of time and constants.
struct BreathingStretch {
    double days, onset, frozen, growth, sprout_base, basal;
    double oxygen_half, in_fresh_air, heat_end, per_cooking, per_rot_scale;
    double freezing, healing_growth, healing_middle, healing_at_middle;
    double spoil_rate;
};

namespace {

using Stretch = BreathingStretch;

constexpr double kDay_s = 86400.0;
constexpr double kRotScale = 100.0;  ///< [°C·d], as in lump.cpp
constexpr double kHeat_J_kg = 1000.0 * kHeat_J_g;
constexpr double kInvertTurn_C = 14.0;
constexpr double kWarmest_C = 20.0;  ///< beyond which wounds heal no faster

/// healing_rate, for loops.
inline double heals(double celsius, const Stretch& s) {
    const double at_most = celsius < kWarmest_C ? celsius : kWarmest_C;
    const double rate =
        s.healing_at_middle * num::exponential(s.healing_growth * (at_most - s.healing_middle));
    // As a product: a choice the compiler would make a branch of, and not go wide.
    return rate * (celsius > s.freezing ? 1.0 : 0.0);
}

struct Fields {
    const double *celsius, *pace, *thermal_time, *unhealed, *damage, *left, *sprouting,
        *carbon_dioxide;
    const double *steady, *healing, *rot, *thaw, *sprout, *full_W, *per_watt, *local;
    double *mean_unhealed, *stays_unhealed, *mean_rot, *breathes, *factor, *at_5C_W;
};

/// The mean of exp(-theta/theta_w), of (theta - onset)+ and so on as theta grows evenly: the same
/// closed forms as the lump's, without its branches.
BEETWRIGHT_WIDE
void prepare_cells(std::size_t begin, std::size_t end, const Stretch& s, const Fields& f) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double t = f.celsius[i];
        const double above = t > 0.0 ? t : 0.0;
        const double warmth = above * s.days;
        const double x = heals(t, s) * s.days;
        const double small = 1.0 - x * (0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0)));
        const double stays = num::exponential(-x);
        const double is_large = x > 1e-3 ? 1.0 : 0.0;
        const double large = (1.0 - stays) / (x + 1e-12);
        const double mean_unhealed = f.unhealed[i] * (small + is_large * (large - small));
        const double before = f.thermal_time[i] - s.onset;
        const double after = before + warmth;
        const double risen = after > 0.0 ? after : 0.0;
        const double part = 0.5 * risen * risen / (warmth > 0.0 ? warmth : 1.0);
        const double mean_excess = before >= 0.0 ? 0.5 * (before + after) : part;
        const double warm = t - s.sprout_base;
        const double sprouts = f.sprouting[i] + 0.5 * (warm > 0.0 ? warm : 0.0) * s.days;
        const double rot = mean_excess * s.per_rot_scale;
        const double thawed = t > 0.0 ? 1.0 : 0.0;
        const double factor = f.steady[i] + f.healing[i] * mean_unhealed + f.rot[i] * rot +
                              thawed * f.thaw[i] * f.damage[i] +
                              f.sprout[i] * sprouts * s.per_rot_scale;
        const double oxygen = oxygen_at(f.carbon_dioxide[i]);
        const double aired = s.in_fresh_air * oxygen / (oxygen + s.oxygen_half);
        const double cooked = (s.heat_end - t) * s.per_cooking;
        const double alive = cooked > 1.0 ? 1.0 : (cooked > 0.0 ? cooked : 0.0);
        const double breathes = (t > s.frozen ? 1.0 : 0.0) * aired * alive * f.local[i];
        // The rate is in proportion to the sugar that is left in the middle of the stretch.
        const double full_W = breathes * f.full_W[i] * factor;
        const double half_lost = 0.5 * full_W * f.pace[i] * f.per_watt[i] * s.days * kDay_s;
        f.mean_unhealed[i] = mean_unhealed;
        f.stays_unhealed[i] = stays;
        f.mean_rot[i] = rot;
        f.breathes[i] = breathes;
        f.factor[i] = factor;
        f.at_5C_W[i] = full_W * f.left[i] * (1.0 - half_lost);
    }
}

struct Passed {
    const double *celsius, *pace, *mean_unhealed, *stays_unhealed, *mean_rot, *breathes, *factor,
        *at_5C_W, *per_watt, *damage;
    double *thermal_time, *unhealed, *left, *breathing, *healing, *rotting, *thawed, *sprouting,
        *invert;
};

BEETWRIGHT_WIDE
void pass_cells(std::size_t begin, std::size_t end, const Stretch& s, double invert_per_breath,
                const Passed& p) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double t = p.celsius[i];
        const double warmth = (t > 0.0 ? t : 0.0) * s.days;
        const double breathed = s.basal * p.pace[i] * s.days * p.breathes[i];
        const double warm = t - s.sprout_base;
        p.breathing[i] += breathed;
        p.healing[i] += breathed * p.mean_unhealed[i];
        p.rotting[i] += breathed * p.mean_rot[i];
        p.thawed[i] += (t > 0.0 ? 1.0 : 0.0) * breathed * p.damage[i];
        p.invert[i] += invert_per_breath * breathed * p.factor[i];
        p.sprouting[i] += (warm > 0.0 ? warm : 0.0) * s.days;
        p.thermal_time[i] += warmth;
        p.unhealed[i] *= p.stays_unhealed[i];
        p.left[i] -= p.at_5C_W[i] * p.pace[i] * p.per_watt[i] * s.days * kDay_s;
    }
}

/// Above 14 °C invert grows faster with warmth than breathing does.
BEETWRIGHT_WIDE
void add_invert(std::size_t begin, std::size_t end, double steeper, double rate,
                const double* celsius, const double* pace, const double* breathes,
                const double* factor, double* invert) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double above = celsius[i] - kInvertTurn_C;
        const double more = num::exponential(steeper * (above > 0.0 ? above : 0.0)) - 1.0;
        invert[i] += rate * more * pace[i] * breathes[i] * factor[i];
    }
}

struct Spoiling {
    const double *celsius, *pace, *damage, *sugar;
    double *left, *spoilt, *spoils;
};

/// Dead cells spoil where they touch each other: the square of their share.
BEETWRIGHT_WIDE
void spoil_cells(std::size_t begin, std::size_t end, const Stretch& s, const Spoiling& p) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double dead = p.damage[i] * p.damage[i] - p.spoilt[i];
        const double goes = p.celsius[i] > 0.0 && dead > 0.0 ? dead : 0.0;
        const double some = s.spoil_rate * p.pace[i] * s.days;
        const double gone = goes * some / (1.0 + some);
        const double of_left = gone / (1.0 - p.spoilt[i] + 1e-300);
        p.spoils[i] = p.left[i] * of_left * p.sugar[i];
        p.spoilt[i] += gone;
        p.left[i] -= p.left[i] * of_left;
    }
}

struct Extremes {
    double coldest = 100.0, warmest = -100.0;
    double damage = 0.0;  ///< the greatest
};
/// Of the cells that hold beet.
BEETWRIGHT_WIDE
Extremes extremes(std::size_t begin, std::size_t end, const double* celsius, const double* beet,
                  const double* damage) {
    double coldest[num::kLanes];
    double warmest[num::kLanes];
    double worst[num::kLanes] = {};
    for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
        coldest[lane] = 100.0;
        warmest[lane] = -100.0;
    }
    std::size_t i = begin;
    for (; i + num::kLanes <= end; i += num::kLanes) {
        for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
            const double t = celsius[i + lane];
            const double low = beet[i + lane] > 0.0 ? t : 100.0;
            const double high = beet[i + lane] > 0.0 ? t : -100.0;
            coldest[lane] = low < coldest[lane] ? low : coldest[lane];
            warmest[lane] = high > warmest[lane] ? high : warmest[lane];
            worst[lane] = damage[i + lane] > worst[lane] ? damage[i + lane] : worst[lane];
        }
    }
    Extremes met;
    met.damage = num::greatest_of_lanes(worst);
    for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
        met.coldest = coldest[lane] < met.coldest ? coldest[lane] : met.coldest;
        met.warmest = warmest[lane] > met.warmest ? warmest[lane] : met.warmest;
    }
    for (; i < end; ++i) {
        met.coldest = beet[i] > 0.0 && celsius[i] < met.coldest ? celsius[i] : met.coldest;
        met.warmest = beet[i] > 0.0 && celsius[i] > met.warmest ? celsius[i] : met.warmest;
        met.damage = damage[i] > met.damage ? damage[i] : met.damage;
    }
    return met;
}

/// frost_damage, of the hardest frost so far.
BEETWRIGHT_WIDE
void freeze_cells(std::size_t begin, std::size_t end, const LumpConstants& c, const double* celsius,
                  const double* beet, double* damage) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double killed =
            1.0 / (1.0 + num::exponential(c.frost_steepness * (celsius[i] - c.frost_middle_C)));
        const bool counts = beet[i] > 0.0 && celsius[i] < c.freezing_C && killed > damage[i];
        damage[i] = counts ? killed : damage[i];
    }
}

}  // namespace

Health::Health(const num::Box& box)
    : thermal_time(box.field()),
      unhealed(box.field(1.0)),
      damage(box.field()),
      left(box.field(1.0)),
      breathing(box.field()),
      healing(box.field()),
      rotting(box.field()),
      thawed(box.field()),
      sprouting(box.field()),
      invert(box.field()),
      spoilt(box.field()) {}

Breathing::Breathing(const num::Box& box) {
    for (auto* field :
         {&steady_, &healing_, &rot_, &thaw_, &sprout_, &per_watt_, &at_5C_W_, &full_W_,
          &mean_unhealed_, &stays_unhealed_, &mean_rot_, &breathes_, &factor_, &sugar_, &spoils_}) {
        *field = box.field();
    }
}

void Breathing::lay(const Bed& bed, std::span<const Lot> lots, const PileConstants& constants) {
    bed_ = &bed;
    lump_ = constants.lump;
    growth_ = 0.1 * std::log(lump_.q10);
    invert_per_breath_ = constants.invert_rate / lump_.basal_at_5C;
    invert_steeper_ = growth_ * (constants.invert_steeper - 1.0);
    sprout_base_ = constants.sprout_base_C;
    oxygen_half_ = constants.oxygen_half;
    heat_full_ = constants.heat_full_C;
    heat_end_ = constants.heat_end_C;
    healing_growth_ = 0.1 * std::log(constants.healing_q10);
    healing_middle_ = constants.healing_middle_C;
    healing_at_middle_ = constants.healing_middle_C / lump_.healing_time;
    spoil_rate_ = constants.spoil_rate;
    for (std::size_t i = bed.box.begin(); i < bed.box.end(); ++i) {
        if (!bed.has_beet(i)) {
            steady_[i] = healing_[i] = rot_[i] = thaw_[i] = sprout_[i] = 0.0;
            per_watt_[i] = full_W_[i] = sugar_[i] = 0.0;
            continue;
        }
        const auto& lot = lots[bed.lot[i]];
        const auto& b = lot.beet;
        const double wounds = b.tail_wound + b.crown_wound + b.skin_wound;
        steady_[i] = 1.0 + lump_.leaf_extra * b.leaf + lump_.soil_extra * b.soil +
                     lump_.rotten_extra * b.rotten_share + lump_.frosted_extra * b.frosted_share;
        healing_[i] = lump_.healing_extra * wounds;
        rot_[i] = lump_.rot_sound + lump_.rot_tail * b.tail_wound +
                  lump_.rot_crown * b.crown_wound + lump_.rot_skin * b.skin_wound;
        thaw_[i] = lump_.frosted_extra;
        sprout_[i] = constants.sprout_rate * b.leaf;
        full_W_[i] = bed.beet[i] * lump_.basal_at_5C / kDay_s * kHeat_J_kg;
        per_watt_[i] = 1.0 / (bed.beet[i] * lot.sugar * kHeat_J_kg);
        sugar_[i] = bed.beet[i] * lot.sugar;
    }
}

void Breathing::put(Health& health, std::size_t cell, const Lot& lot,
                    const PileConstants& constants) {
    health.thermal_time[cell] = lot.degree_days;
    health.unhealed[cell] = std::exp(-lot.degree_days / constants.lump.healing_time);
    health.damage[cell] = 0.0;
    health.left[cell] = 1.0;
    for (auto* field : {&health.breathing, &health.healing, &health.rotting, &health.thawed,
                        &health.sprouting, &health.invert, &health.spoilt}) {
        (*field)[cell] = 0.0;
    }
}

BreathingStretch Breathing::stretch(double days) const {
    return {.days = days,
            .onset = lump_.rot_onset,
            .frozen = lump_.frozen_C,
            .growth = growth_,
            .sprout_base = sprout_base_,
            .basal = lump_.basal_at_5C,
            .oxygen_half = oxygen_half_,
            .in_fresh_air = (kOutsideOxygen + oxygen_half_) / kOutsideOxygen,
            .heat_end = heat_end_,
            .per_cooking = 1.0 / (heat_end_ - heat_full_),
            .per_rot_scale = 1.0 / kRotScale,
            .freezing = lump_.freezing_C,
            .healing_growth = healing_growth_,
            .healing_middle = healing_middle_,
            .healing_at_middle = healing_at_middle_,
            .spoil_rate = spoil_rate_};
}

void Breathing::prepare(const Health& health, std::span<const double> celsius,
                        std::span<const double> pace, std::span<const double> carbon_dioxide,
                        double days) {
    prepare_cells(bed_->box.begin(), bed_->box.end(), stretch(days),
                  {celsius.data(),          pace.data(),           health.thermal_time.data(),
                   health.unhealed.data(),  health.damage.data(),  health.left.data(),
                   health.sprouting.data(), carbon_dioxide.data(), steady_.data(),
                   healing_.data(),         rot_.data(),           thaw_.data(),
                   sprout_.data(),          full_W_.data(),        per_watt_.data(),
                   bed_->breathes.data(),   mean_unhealed_.data(), stays_unhealed_.data(),
                   mean_rot_.data(),        breathes_.data(),      factor_.data(),
                   at_5C_W_.data()});
}

double Breathing::pass(Health& health, std::span<const double> celsius,
                       std::span<const double> pace, double days) {
    const auto& box = bed_->box;
    const auto met =
        extremes(box.begin(), box.end(), celsius.data(), bed_->beet.data(), health.damage.data());
    if (met.coldest < lump_.freezing_C) {
        freeze_cells(box.begin(), box.end(), lump_, celsius.data(), bed_->beet.data(),
                     health.damage.data());
    }
    if (met.warmest > kInvertTurn_C) {
        add_invert(box.begin(), box.end(), invert_steeper_,
                   invert_per_breath_ * lump_.basal_at_5C * days, celsius.data(), pace.data(),
                   breathes_.data(), factor_.data(), health.invert.data());
    }
    pass_cells(
        box.begin(), box.end(), stretch(days), invert_per_breath_,
        {celsius.data(), pace.data(), mean_unhealed_.data(), stays_unhealed_.data(),
         mean_rot_.data(), breathes_.data(), factor_.data(), at_5C_W_.data(), per_watt_.data(),
         health.damage.data(), health.thermal_time.data(), health.unhealed.data(),
         health.left.data(), health.breathing.data(), health.healing.data(), health.rotting.data(),
         health.thawed.data(), health.sprouting.data(), health.invert.data()});
    // What this frost killed was frozen until now: nothing of it has spoilt.
    if (met.damage == 0.0) {
        return 0.0;
    }
    spoil_cells(box.begin(), box.end(), stretch(days),
                {celsius.data(), pace.data(), health.damage.data(), sugar_.data(),
                 health.left.data(), health.spoilt.data(), spoils_.data()});
    return num::sum(box, spoils_);
}

}  // namespace beetwright::pile
