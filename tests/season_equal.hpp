// Whether two seasons are the same, with what differs.
#pragma once

#include <gtest/gtest.h>

#include <bit>
#include <cmath>

#include "ledger/season.hpp"

namespace beetwright {

/// Equal, where NaN equals NaN. Amounts that went through people's units may differ in the last
/// bits: `ulps` says how many.
inline void expect_same(double a, double b, const char* what, double relative = 1e-15) {
    const bool same =
        (std::isnan(a) && std::isnan(b)) || a == b || std::abs(a - b) <= relative * std::abs(a);
    EXPECT_TRUE(same) << what << ": " << a << " and " << b;
}

/// The same hours, by the last bits but one.
inline void expect_equal_series(const weather::Series& a, const weather::Series& b) {
    EXPECT_EQ(a.name, b.name);
    EXPECT_EQ(a.clock, b.clock);
    EXPECT_EQ(a.begin, b.begin);
    EXPECT_EQ(a.filled, b.filled);
    expect_same(a.place.latitude_rad, b.place.latitude_rad, "latitude");
    expect_same(a.place.longitude_rad, b.place.longitude_rad, "longitude");
    expect_same(a.place.elevation_m, b.place.elevation_m, "elevation");
    ASSERT_EQ(a.hours.size(), b.hours.size());
    for (std::size_t k = 0; k < a.hours.size(); ++k) {
        for (std::size_t e = 0; e < weather::kElements; ++e) {
            expect_same(a.hours[k][e], b.hours[k][e], "an hour's value");
        }
    }
}
inline void expect_equal_weather(const weather::KnownWeather& a, const weather::KnownWeather& b) {
    ASSERT_EQ(a.observed.has_value(), b.observed.has_value());
    ASSERT_EQ(a.climate.has_value(), b.climate.has_value());
    ASSERT_EQ(a.forecast.size(), b.forecast.size());
    if (a.observed) {
        expect_equal_series(*a.observed, *b.observed);
    }
    if (a.climate) {
        expect_equal_series(*a.climate, *b.climate);
    }
    for (std::size_t run = 0; run < a.forecast.size(); ++run) {
        expect_equal_series(a.forecast[run], b.forecast[run]);
    }
}

inline void expect_equal_controls(const ledger::Machine& a, const ledger::Machine& b) {
    EXPECT_EQ(a.build, b.build);
    expect_same(a.hour_cost.si(), b.hour_cost.si(), "cost of an hour");
    ASSERT_EQ(a.controls.size(), b.controls.size());
    for (std::size_t i = 0; i < a.controls.size(); ++i) {
        const auto& x = a.controls[i];
        const auto& y = b.controls[i];
        EXPECT_EQ(x.control, y.control);
        EXPECT_EQ(x.fitted, y.fitted);
        EXPECT_EQ(x.hands_off, y.hands_off);
        expect_same(x.least, y.least, "least");
        expect_same(x.most, y.most, "most");
        expect_same(x.step, y.step, "step");
        expect_same(x.usual, y.usual, "usual");
        expect_same(x.display_step, y.display_step, "display step");
        ASSERT_EQ(x.dial.size(), y.dial.size());
        for (std::size_t k = 0; k < x.dial.size(); ++k) {
            expect_same(x.dial[k].shown, y.dial[k].shown, "shown");
            expect_same(x.dial[k].actual, y.dial[k].actual, "actual");
            EXPECT_EQ(x.dial[k].measured, y.dial[k].measured);
        }
    }
}

inline void expect_equal_machine_logs(const ledger::Season& a, const ledger::Season& b) {
    ASSERT_EQ(a.settings.size(), b.settings.size());
    for (std::size_t i = 0; i < a.settings.size(); ++i) {
        const auto& x = a.settings[i];
        const auto& y = b.settings[i];
        EXPECT_EQ(x.id, y.id);
        EXPECT_EQ(x.supersedes, y.supersedes);
        EXPECT_EQ(x.machine, y.machine);
        EXPECT_EQ(x.field, y.field);
        EXPECT_EQ(x.at, y.at);
        EXPECT_EQ(x.answer, y.answer);
        ASSERT_EQ(x.controls.size(), y.controls.size());
        for (std::size_t k = 0; k < x.controls.size(); ++k) {
            EXPECT_EQ(x.controls[k].control, y.controls[k].control);
            expect_same(x.controls[k].value, y.controls[k].value, "what was set");
        }
    }
    ASSERT_EQ(a.parts.size(), b.parts.size());
    for (std::size_t i = 0; i < a.parts.size(); ++i) {
        EXPECT_EQ(a.parts[i].id, b.parts[i].id);
        EXPECT_EQ(a.parts[i].supersedes, b.parts[i].supersedes);
        EXPECT_EQ(a.parts[i].machine, b.parts[i].machine);
        EXPECT_EQ(a.parts[i].at, b.parts[i].at);
        EXPECT_EQ(a.parts[i].stage, b.parts[i].stage);
        EXPECT_EQ(a.parts[i].what, b.parts[i].what);
    }
}

inline void expect_same(const check::Stretch& a, const check::Stretch& b) {
    expect_same(a.from.si(), b.from.si(), "from");
    expect_same(a.to.si(), b.to.si(), "to");
}
inline void expect_same(const std::optional<Temperature>& a, const std::optional<Temperature>& b) {
    ASSERT_EQ(a.has_value(), b.has_value());
    if (a) {
        expect_same(a->in_kelvin(), b->in_kelvin(), "a fan's air");
    }
}

inline void expect_equal_piles(const ledger::Season& a, const ledger::Season& b) {
    ASSERT_EQ(a.piles.size(), b.piles.size());
    for (std::size_t i = 0; i < a.piles.size(); ++i) {
        const auto& x = a.piles[i];
        const auto& y = b.piles[i];
        EXPECT_EQ(x.name, y.name);
        expect_same(x.base_width.si(), y.base_width.si(), "base width");
        expect_same(x.top_width.si(), y.top_width.si(), "top width");
        expect_same(x.height.si(), y.height.si(), "height of a pile");
        expect_same(x.length.si(), y.length.si(), "length of a pile");
        expect_same(x.orientation_rad, y.orientation_rad, "orientation");
        EXPECT_EQ(x.ground, y.ground);
        EXPECT_EQ(x.built, y.built);
        ASSERT_EQ(x.fans.size(), y.fans.size());
        for (std::size_t k = 0; k < x.fans.size(); ++k) {
            const auto& fan = x.fans[k];
            const auto& other = y.fans[k];
            expect_same(fan.stretch, other.stretch);
            expect_same(fan.flow.si(), other.flow.si(), "flow");
            expect_same(fan.pressure.si(), other.pressure.si(), "a fan's pressure");
            expect_same(fan.power.si(), other.power.si(), "power");
            EXPECT_EQ(fan.rule, other.rule);
            expect_same(fan.difference.si(), other.difference.si(), "difference");
            expect_same(fan.not_below, other.not_below);
            expect_same(fan.only_below, other.only_below);
        }
    }
}

/// What every observation of a pile has.
template <class Observation>
void expect_same_seen(const Observation& a, const Observation& b) {
    EXPECT_EQ(a.id, b.id);
    EXPECT_EQ(a.supersedes, b.supersedes);
    EXPECT_EQ(a.pile, b.pile);
    EXPECT_EQ(a.at, b.at);
}

inline void expect_equal_pile_logs(const ledger::Season& a, const ledger::Season& b) {
    ASSERT_EQ(a.covers.size(), b.covers.size());
    for (std::size_t i = 0; i < a.covers.size(); ++i) {
        expect_same_seen(a.covers[i], b.covers[i]);
        expect_same(a.covers[i].stretch, b.covers[i].stretch);
        EXPECT_EQ(a.covers[i].cover, b.covers[i].cover);
    }
    ASSERT_EQ(a.probes.size(), b.probes.size());
    for (std::size_t i = 0; i < a.probes.size(); ++i) {
        const auto& x = a.probes[i];
        const auto& y = b.probes[i];
        expect_same_seen(x, y);
        EXPECT_EQ(x.probe, y.probe);
        EXPECT_EQ(x.kind, y.kind);
        expect_same(x.along.si(), y.along.si(), "along");
        expect_same(x.across.si(), y.across.si(), "across");
        expect_same(x.height.si(), y.height.si(), "height of a probe");
        expect_same(x.temperature.in_kelvin(), y.temperature.in_kelvin(), "what a probe read");
    }
    ASSERT_EQ(a.places.size(), b.places.size());
    for (std::size_t i = 0; i < a.places.size(); ++i) {
        const auto& x = a.places[i];
        const auto& y = b.places[i];
        EXPECT_EQ(x.id, y.id);
        EXPECT_EQ(x.supersedes, y.supersedes);
        EXPECT_EQ(x.field, y.field);
        EXPECT_EQ(x.at, y.at);
        EXPECT_EQ(x.of, y.of);
        EXPECT_EQ(x.spot, y.spot);
        expect_same(x.latitude_rad, y.latitude_rad, "latitude of a place");
        expect_same(x.longitude_rad, y.longitude_rad, "longitude of a place");
        expect_same(x.accuracy.si(), y.accuracy.si(), "accuracy of a place");
    }
    ASSERT_EQ(a.removals.size(), b.removals.size());
    for (std::size_t i = 0; i < a.removals.size(); ++i) {
        expect_same_seen(a.removals[i], b.removals[i]);
        expect_same(a.removals[i].stretch, b.removals[i].stretch);
        expect_same(a.removals[i].gross.si(), b.removals[i].gross.si(), "what was taken away");
    }
}

inline void expect_equal_seasons(const ledger::Season& a, const ledger::Season& b) {
    EXPECT_EQ(a.name, b.name);
    EXPECT_EQ(a.currency, b.currency);
    EXPECT_EQ(a.units, b.units);
    EXPECT_EQ(a.first_day, b.first_day);
    EXPECT_EQ(a.seed, b.seed);
    ASSERT_EQ(a.fields.size(), b.fields.size());
    for (std::size_t i = 0; i < a.fields.size(); ++i) {
        const auto& x = a.fields[i];
        const auto& y = b.fields[i];
        EXPECT_EQ(x.name, y.name);
        EXPECT_EQ(x.grower, y.grower);
        EXPECT_EQ(x.soil, y.soil);
        EXPECT_EQ(x.variety, y.variety);
        EXPECT_EQ(x.machine, y.machine);
        EXPECT_EQ(x.operator_name, y.operator_name);
        EXPECT_EQ(x.destination, y.destination);
        EXPECT_EQ(x.lifted, y.lifted);
        EXPECT_EQ(x.sliced, y.sliced);
        expect_same(x.area.si(), y.area.si(), "area");
        expect_same(x.haul.si(), y.haul.si(), "haul");
        ASSERT_EQ(x.expected_yield.has_value(), y.expected_yield.has_value());
        if (x.expected_yield) {
            expect_same(x.expected_yield->value.si(), y.expected_yield->value.si(), "yield");
            expect_same(x.expected_yield->low.si(), y.expected_yield->low.si(), "yield low");
            expect_same(x.expected_yield->high.si(), y.expected_yield->high.si(), "yield high");
        }
    }
    ASSERT_EQ(a.machines.size(), b.machines.size());
    for (std::size_t i = 0; i < a.machines.size(); ++i) {
        EXPECT_EQ(a.machines[i].name, b.machines[i].name);
        EXPECT_EQ(a.machines[i].kind, b.machines[i].kind);
        EXPECT_EQ(a.machines[i].rows, b.machines[i].rows);
        expect_same(a.machines[i].row_spacing.si(), b.machines[i].row_spacing.si(), "row spacing");
        const auto& wheel = a.machines[i].heaviest_wheel;
        const auto& other = b.machines[i].heaviest_wheel;
        expect_same(wheel.load.si(), other.load.si(), "wheel load");
        expect_same(wheel.pressure.si(), other.pressure.si(), "tyre pressure");
        expect_same(wheel.width.si(), other.width.si(), "tyre width");
        expect_same(wheel.diameter.si(), other.diameter.si(), "tyre diameter");
        expect_equal_controls(a.machines[i], b.machines[i]);
    }
    ASSERT_EQ(a.soils.size(), b.soils.size());
    for (std::size_t i = 0; i < a.soils.size(); ++i) {
        EXPECT_EQ(a.soils[i].name, b.soils[i].name);
        EXPECT_EQ(a.soils[i].soil_class, b.soils[i].soil_class);
        expect_same(a.soils[i].holds.si(), b.soils[i].holds.si(), "what a soil holds");
        expect_same(a.soils[i].stop_filling, b.soils[i].stop_filling, "stop filling");
        expect_same(a.soils[i].drains_to, b.soils[i].drains_to, "drains to");
        expect_same(a.soils[i].drain_lag.si(), b.soils[i].drain_lag.si(), "drain lag");
        expect_same(a.soils[i].rain_stop.si(), b.soils[i].rain_stop.si(), "rain stop");
    }
    ASSERT_EQ(a.destinations.size(), b.destinations.size());
    for (std::size_t i = 0; i < a.destinations.size(); ++i) {
        EXPECT_EQ(a.destinations[i].name, b.destinations[i].name);
        EXPECT_EQ(a.destinations[i].kind, b.destinations[i].kind);
        ASSERT_EQ(a.destinations[i].temperatures.size(), b.destinations[i].temperatures.size());
        for (std::size_t d = 0; d < a.destinations[i].temperatures.size(); ++d) {
            EXPECT_EQ(a.destinations[i].temperatures[d].day, b.destinations[i].temperatures[d].day);
            expect_same(a.destinations[i].temperatures[d].mean.in_kelvin(),
                        b.destinations[i].temperatures[d].mean.in_kelvin(), "temperature");
        }
    }
    ASSERT_EQ(a.loads.size(), b.loads.size());
    for (std::size_t i = 0; i < a.loads.size(); ++i) {
        EXPECT_EQ(a.loads[i].id, b.loads[i].id);
        EXPECT_EQ(a.loads[i].supersedes, b.loads[i].supersedes);
        EXPECT_EQ(a.loads[i].field, b.loads[i].field);
        EXPECT_EQ(a.loads[i].at, b.loads[i].at);
        EXPECT_EQ(a.loads[i].destination, b.loads[i].destination);
        EXPECT_EQ(a.loads[i].ticket, b.loads[i].ticket);
        expect_same(a.loads[i].gross.si(), b.loads[i].gross.si(), "gross");
        expect_same(a.loads[i].stretch, b.loads[i].stretch);
    }
    ASSERT_EQ(a.beet_sheets.size(), b.beet_sheets.size());
    for (std::size_t i = 0; i < a.beet_sheets.size(); ++i) {
        const auto& x = a.beet_sheets[i];
        const auto& y = b.beet_sheets[i];
        EXPECT_EQ(x.id, y.id);
        EXPECT_EQ(x.supersedes, y.supersedes);
        EXPECT_EQ(x.field, y.field);
        EXPECT_EQ(x.machine, y.machine);
        EXPECT_EQ(x.operator_name, y.operator_name);
        EXPECT_EQ(x.at, y.at);
        EXPECT_EQ(x.seen_at, y.seen_at);
        ASSERT_EQ(x.beets.size(), y.beets.size());
        for (std::size_t k = 0; k < x.beets.size(); ++k) {
            EXPECT_EQ(x.beets[k].spot, y.beets[k].spot);
            EXPECT_EQ(x.beets[k].topping, y.beets[k].topping);
            EXPECT_EQ(x.beets[k].rot, y.beets[k].rot);
            EXPECT_EQ(x.beets[k].frost, y.beets[k].frost);
            expect_same(x.beets[k].scar.si(), y.beets[k].scar.si(), "scar");
            expect_same(x.beets[k].tip.from.si(), y.beets[k].tip.from.si(), "tip from");
            expect_same(x.beets[k].tip.to.si(), y.beets[k].tip.to.si(), "tip to");
            expect_same(x.beets[k].skin_damage.si(), y.beets[k].skin_damage.si(), "skin");
        }
    }
    ASSERT_EQ(a.strips.size(), b.strips.size());
    for (std::size_t i = 0; i < a.strips.size(); ++i) {
        EXPECT_EQ(a.strips[i].id, b.strips[i].id);
        EXPECT_EQ(a.strips[i].supersedes, b.strips[i].supersedes);
        EXPECT_EQ(a.strips[i].field, b.strips[i].field);
        expect_same(a.strips[i].area.si(), b.strips[i].area.si(), "strip area");
        expect_same(a.strips[i].whole_roots.si(), b.strips[i].whole_roots.si(), "whole roots");
        expect_same(a.strips[i].pieces.si(), b.strips[i].pieces.si(), "pieces");
        expect_same(a.strips[i].tails.si(), b.strips[i].tails.si(), "tails");
    }
    ASSERT_EQ(a.tares.size(), b.tares.size());
    for (std::size_t i = 0; i < a.tares.size(); ++i) {
        EXPECT_EQ(a.tares[i].id, b.tares[i].id);
        EXPECT_EQ(a.tares[i].supersedes, b.tares[i].supersedes);
        expect_same(a.tares[i].gross.si(), b.tares[i].gross.si(), "tare gross");
        expect_same(a.tares[i].soil.si(), b.tares[i].soil.si(), "soil");
        expect_same(a.tares[i].tops.si(), b.tares[i].tops.si(), "tops");
    }
    ASSERT_EQ(a.labs.size(), b.labs.size());
    for (std::size_t i = 0; i < a.labs.size(); ++i) {
        EXPECT_EQ(a.labs[i].id, b.labs[i].id);
        EXPECT_EQ(a.labs[i].supersedes, b.labs[i].supersedes);
        expect_same(a.labs[i].pol.si(), b.labs[i].pol.si(), "pol");
        expect_same(a.labs[i].potassium.si(), b.labs[i].potassium.si(), "potassium");
        expect_same(a.labs[i].sodium.si(), b.labs[i].sodium.si(), "sodium");
        expect_same(a.labs[i].amino_nitrogen.si(), b.labs[i].amino_nitrogen.si(), "amino nitrogen");
    }
    ASSERT_EQ(a.standing.size(), b.standing.size());
    for (std::size_t i = 0; i < a.standing.size(); ++i) {
        const auto& x = a.standing[i];
        const auto& y = b.standing[i];
        EXPECT_EQ(x.id, y.id);
        EXPECT_EQ(x.supersedes, y.supersedes);
        EXPECT_EQ(x.field, y.field);
        EXPECT_EQ(x.at, y.at);
        EXPECT_EQ(x.spots, y.spots);
        EXPECT_EQ(x.leaf_frozen, y.leaf_frozen);
        expect_same(x.area.si(), y.area.si(), "area dug");
        expect_same(x.roots.si(), y.roots.si(), "roots dug");
        expect_same(x.pol.si(), y.pol.si(), "pol of the crop");
        expect_same(x.potassium.si(), y.potassium.si(), "potassium of the crop");
        expect_same(x.sodium.si(), y.sodium.si(), "sodium of the crop");
        expect_same(x.amino_nitrogen.si(), y.amino_nitrogen.si(), "amino nitrogen of the crop");
        expect_same(x.leaf_sick, y.leaf_sick, "sick leaf");
        EXPECT_EQ(x.soil_in_hand, y.soil_in_hand);
        expect_same(x.crown_height.si(), y.crown_height.si(), "crown height");
        EXPECT_EQ(x.evenness, y.evenness);
        expect_same(x.plants.si(), y.plants.si(), "plants");
        expect_same(x.root_mass.si(), y.root_mass.si(), "root mass");
        ASSERT_EQ(x.crowns.size(), y.crowns.size());
        for (std::size_t k = 0; k < x.crowns.size(); ++k) {
            expect_same(x.crowns[k].si(), y.crowns[k].si(), "crown");
        }
    }
    expect_equal_machine_logs(a, b);
    expect_equal_piles(a, b);
    expect_equal_pile_logs(a, b);
    ASSERT_EQ(a.replacements.size(), b.replacements.size());
    EXPECT_EQ(a.terms.name, b.terms.name);
    expect_same(a.terms.base_price.si(), b.terms.base_price.si(), "base price");
    EXPECT_EQ(a.terms.slide.size(), b.terms.slide.size());
    EXPECT_EQ(a.terms.supplements.size(), b.terms.supplements.size());
}

}  // namespace beetwright
