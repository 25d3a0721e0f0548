// The invented season as its people wrote it down.
#include "demo_season/invent.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "demo_season/scenes.hpp"
#include "ledger/harvester_of.hpp"

namespace beetwright::demo {
namespace {

Invented season_of(std::uint64_t seed, UnitSystem units = UnitSystem::metric) {
    return invent(seed, units, loss_physics(Catalogue{}));
}

template <class Observation>
std::size_t fields_with(const std::vector<Observation>& observations) {
    std::set<std::string> fields;
    for (const auto& one : observations) {
        fields.insert(one.field);
    }
    return fields.size();
}

TEST(DemoSeason, HoldsTheWholeStory) {
    const auto season = season_of(1).season;
    EXPECT_EQ(season.fields.size(), 24U);
    EXPECT_EQ(season.machines.size(), 2U);
    EXPECT_EQ(season.destinations.size(), 3U);
    EXPECT_EQ(season.soils.size(), 3U);
    EXPECT_EQ(fields_with(season.standing), 24U);
    EXPECT_EQ(season.standing.size(), 72U);
    EXPECT_EQ(fields_with(season.settings), 22U);
    // One at the start of each field that was lifted, one in each scene, and advice turned down.
    EXPECT_EQ(season.settings.size(), 22U + scenes().size() + 1U);
    EXPECT_EQ(season.parts.size(), 2U);
    EXPECT_EQ(std::ranges::count_if(season.fields, [](const auto& f) { return !f.lifted; }), 2);
    EXPECT_EQ(fields_with(season.beet_sheets), 20U);  // two lifted and two standing have none
    EXPECT_GE(fields_with(season.strips), 14U);
    EXPECT_LE(fields_with(season.strips), 17U);
    EXPECT_EQ(fields_with(season.loads), 22U);
    EXPECT_EQ(std::ranges::count_if(season.beet_sheets,
                                    [](const auto& s) { return !s.supersedes.is_nil(); }),
              1);
    EXPECT_EQ(std::ranges::count_if(season.beet_sheets,
                                    [](const auto& s) { return s.seen_at == check::SeenAt::pile; }),
              1);
}

TEST(DemoSeason, NamesOnlyWhatItIntroduces) {
    const auto season = season_of(1).season;
    std::set<std::string> fields;
    for (const auto& field : season.fields) {
        EXPECT_TRUE(fields.insert(field.name).second) << field.name;
        EXPECT_GE(field.area / unit::ha, 4.0);
        EXPECT_LE(field.area / unit::ha, 40.0);
        EXPECT_TRUE(std::ranges::any_of(season.machines,
                                        [&](const auto& m) { return m.name == field.machine; }));
        EXPECT_TRUE(std::ranges::any_of(
            season.destinations, [&](const auto& d) { return d.name == field.destination; }));
        if (field.lifted && field.sliced) {
            EXPECT_LE(*field.lifted, *field.sliced) << field.name;
        }
    }
    for (const auto& sheet : season.beet_sheets) {
        EXPECT_TRUE(fields.contains(sheet.field));
    }
}

TEST(DemoSeason, MakesEveryIdOnceAtTheInstantOfWhatWasSeen) {
    const auto season = season_of(3).season;
    std::set<Uuid> ids;
    const auto check_all = [&](const auto& observations) {
        for (const auto& one : observations) {
            EXPECT_TRUE(ids.insert(one.id).second);
            EXPECT_EQ(one.id.version(), 7);
            std::uint64_t ms = 0;  // RFC 9562 section 5.7: the first 48 bits are the time
            for (std::size_t i = 0; i < 6; ++i) {
                ms = ms << 8U | one.id.bytes()[i];
            }
            EXPECT_EQ(static_cast<std::int64_t>(ms), one.at.time_since_epoch().count());
            const Day last = (kToldOn + 1).on(kFirstDay);
            EXPECT_GE(one.at, Instant(kFirstDay));
            EXPECT_LT(one.at, Instant(last));
        }
    };
    check_all(season.beet_sheets);
    check_all(season.strips);
    check_all(season.tares);
    check_all(season.labs);
    check_all(season.loads);
    check_all(season.settings);
    check_all(season.parts);
    for (const auto& look : season.standing) {
        EXPECT_TRUE(ids.insert(look.id).second);
        EXPECT_LT(look.at, Instant((kToldOn + 1).on(kFirstDay)));
    }
}

// What the weighbridge read is what was delivered, with soil and tops, to within its error of 0.4 %
// (four of them) and the tickets' rounding.
TEST(DemoSeason, WeighsWhatWasDelivered) {
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        const auto invented = season_of(5, units);
        std::map<std::string, double> weighed_kg;
        std::map<std::string, int> tickets;
        for (const auto& load : invented.season.loads) {
            weighed_kg[load.field] += load.gross.si();
            tickets[load.field] += 1;
        }
        for (std::size_t i = 0; i < invented.truth.size(); ++i) {
            const auto& field = invented.season.fields[i];
            const auto& truth = invented.truth[i];
            if (!field.lifted) {
                EXPECT_FALSE(tickets.contains(field.name));
                continue;
            }
            const double delivered =
                (truth.delivered() * field.area).si() * (1.0 + truth.soil + truth.tops);
            EXPECT_NEAR(weighed_kg[field.name] / delivered, 1.0, 4.0 * 0.004 + 0.001);
            EXPECT_GE(tickets[field.name], 3);
            EXPECT_LE(tickets[field.name], 12);
        }
    }
}

TEST(DemoSeason, KeepsWorkWithinEachFieldsLiftingDays) {
    const auto season = season_of(2).season;
    for (const auto& sheet : season.beet_sheets) {
        const auto& field = *std::ranges::find(season.fields, sheet.field, &ledger::Field::name);
        ASSERT_TRUE(field.lifted.has_value());
        EXPECT_GE(sheet.at, Instant(*field.lifted));
        EXPECT_LT(sheet.at, Instant(*field.lifted + std::chrono::days(4)));
    }
}

TEST(DemoSeason, SetsEachMachineAtTheStartOfItsFields) {
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        const auto invented = season_of(4, units);
        const auto& season = invented.season;
        std::set<std::string> begun;
        for (const auto& note : season.settings) {
            if (!begun.insert(note.field).second) {
                continue;  // set otherwise in the middle of the field
            }
            const auto& field = *std::ranges::find(season.fields, note.field, &ledger::Field::name);
            const auto& machine =
                *std::ranges::find(season.machines, note.machine, &ledger::Machine::name);
            EXPECT_EQ(note.machine, field.machine);
            EXPECT_GE(note.at, Instant(*field.lifted));
            EXPECT_LT(note.at, Instant(*field.lifted) + std::chrono::hours(8));
            const auto harvester = ledger::harvester_of(machine).value();
            EXPECT_TRUE(ledger::problems_of(note.controls, harvester).empty()) << note.field;
        }
    }
}

// As is common practice: turbines and rolls turn slower in dry soil, and shares go deeper.
TEST(DemoSeason, SetsMachinesOtherwiseInDrySoilThanInWet) {
    const auto invented = season_of(1);
    const auto mean_of = [&](const char* control, bool in_dry) {
        double sum = 0.0;
        int notes = 0;
        for (const auto& note : invented.season.settings) {
            const auto& truth = *std::ranges::find(invented.truth, note.field, &FieldTruth::field);
            const auto set = std::ranges::find(note.controls, control, &check::SetControl::control);
            const bool counts = in_dry ? truth.dryness > 0.5 : truth.wetness > 0.5;
            if (counts && set != note.controls.end()) {
                sum += set->value;
                ++notes;
            }
        }
        EXPECT_GE(notes, 3) << control;
        return sum / notes;
    };
    for (const char* turning : {"turbine_1.speed", "turbine_3.speed", "roller_bed.speed"}) {
        EXPECT_LT(mean_of(turning, true), 0.85 * mean_of(turning, false)) << turning;
    }
    EXPECT_GT(mean_of("share.depth", true), 1.1 * mean_of("share.depth", false));
    EXPECT_LT(mean_of("turbine_2.guard", true), mean_of("turbine_2.guard", false));
}

TEST(DemoSeason, BindsItsDisplaysAndOneRunsBackwards) {
    const auto season = season_of(1).season;
    int backwards = 0;
    for (const auto& machine : season.machines) {
        EXPECT_TRUE(machine.hour_cost.is_known());
        const auto harvester = ledger::harvester_of(machine).value();
        ASSERT_EQ(machine.controls.size(), 5U);
        for (const auto& own : machine.controls) {
            const auto dial = ledger::dial_of(*harvester.find(own.control), own);
            ASSERT_TRUE(dial.ok()) << own.control;
            backwards += dial->runs_backwards() ? 1 : 0;
        }
    }
    EXPECT_EQ(backwards, 1);
}

// The corrected sheet differs from the wrong one in its topping classes alone.
TEST(DemoSeason, CorrectsOneSheetByANewOne) {
    const auto season = season_of(1).season;
    const auto right = std::ranges::find_if(
        season.beet_sheets, [](const auto& sheet) { return !sheet.supersedes.is_nil(); });
    ASSERT_NE(right, season.beet_sheets.end());
    const auto wrong =
        std::ranges::find(season.beet_sheets, right->supersedes, &check::BeetSheet::id);
    ASSERT_NE(wrong, season.beet_sheets.end());
    EXPECT_EQ(right->field, kCorrectedField);
    EXPECT_EQ(wrong->field, right->field);
    EXPECT_LT(wrong->at, right->at);
    ASSERT_EQ(wrong->beets.size(), right->beets.size());
    int changed = 0;
    for (std::size_t i = 0; i < right->beets.size(); ++i) {
        EXPECT_EQ(wrong->beets[i].tip.to, right->beets[i].tip.to);
        changed += wrong->beets[i].topping != right->beets[i].topping ? 1 : 0;
    }
    EXPECT_GT(changed, 0);
}

}  // namespace
}  // namespace beetwright::demo
