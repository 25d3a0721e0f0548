// The scenes of settings at fault, as their people saw them.
#include "demo_season/scenes.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>

#include "demo_season/invent.hpp"

namespace beetwright::demo {
namespace {

Invented season_of(std::uint64_t seed, UnitSystem units = UnitSystem::metric) {
    return invent(seed, units, loss_physics(Catalogue{}));
}

const check::SettingsNote& last_note(const ledger::Season& season, std::string_view field) {
    const auto found = std::ranges::find_if(
        season.settings.rbegin(), season.settings.rend(), [&](const check::SettingsNote& note) {
            return note.field == field && note.answer != check::Answer::declined;
        });
    EXPECT_NE(found, season.settings.rend());
    return *found;
}
double set_to(const check::SettingsNote& note, std::string_view control) {
    const auto found = std::ranges::find(note.controls, control, &check::SetControl::control);
    EXPECT_NE(found, note.controls.end()) << control;
    return found->value;
}

/// Sheets of a field after an instant, by where they were counted.
struct Seen {
    int beets = 0;
    int wide = 0;  ///< tails broken at over 2 cm
    double skin_cm2 = 0.0;
    int skins = 0;

    [[nodiscard]] double wide_share() const { return static_cast<double>(wide) / beets; }
    [[nodiscard]] double mean_skin_cm2() const { return skin_cm2 / skins; }
};
Seen seen_after(const ledger::Season& season, std::string_view field, Instant from,
                check::SeenAt seen_at) {
    Seen seen;
    for (const auto& sheet : season.beet_sheets) {
        if (sheet.field != field || sheet.at < from || sheet.seen_at != seen_at) {
            continue;
        }
        for (const auto& beet : sheet.beets) {
            seen.beets += 1;
            // Of a class of breaks its upper limit.
            seen.wide += beet.tip.to > 2.0 * unit::cm ? 1 : 0;
            if (beet.skin_damage.is_known()) {
                seen.skins += 1;
                seen.skin_cm2 += beet.skin_damage / unit::cm2;
            }
        }
    }
    return seen;
}

TEST(DemoScenes, ComeAfterTheirNoteAndBeforeTheMachineGoesOn) {
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        const auto season = season_of(1, units).season;
        for (const Scene& scene : scenes()) {
            const auto& note = last_note(season, scene.field);
            const auto& field =
                *std::ranges::find(season.fields, scene.field, &ledger::Field::name);
            EXPECT_EQ(note.answer, scene.answer);
            EXPECT_EQ(std::chrono::floor<std::chrono::days>(note.at),
                      *field.lifted + std::chrono::days(scene.day));
            int later = 0;
            for (const auto& sheet : season.beet_sheets) {
                later += sheet.field == scene.field && sheet.at > note.at ? 1 : 0;
            }
            EXPECT_EQ(later, scene.spots_before > 0 ? 2 : 1) << scene.field;
            for (const auto& other : season.settings) {
                if (other.machine == note.machine && other.field != scene.field &&
                    other.at > note.at) {
                    EXPECT_GT(other.at, note.at + std::chrono::hours(6)) << scene.field;
                }
            }
        }
    }
}

// Lifting breaks the tails: the tank holds hardly more of them than the roller bed.
TEST(DemoScenes, ShallowSharesBreakTailsBeforeTheCleaning) {
    const auto season = season_of(1).season;
    const auto& note = last_note(season, "Chalk Ridge");
    EXPECT_LT(set_to(note, "share.depth"), 0.060);
    const auto early = seen_after(season, "Chalk Ridge", note.at, check::SeenAt::before_cleaning);
    const auto tank = seen_after(season, "Chalk Ridge", note.at, check::SeenAt::tank);
    EXPECT_EQ(early.beets, 60);
    EXPECT_EQ(tank.beets, 60);
    EXPECT_GT(early.wide_share(), 0.6);
    // Two shares of 60 about 0.75 differ by 0.08 (one sigma).
    EXPECT_NEAR(tank.wide_share(), early.wide_share(), 0.2);
    const auto strips = std::ranges::count_if(season.strips, [&](const check::DugStrip& strip) {
        return strip.field == "Chalk Ridge" && strip.at > note.at &&
               strip.tails / strip.area > 1.5 * unit::t_clean_per_ha;
    });
    EXPECT_EQ(strips, 2);
}

// Turbines break them: on the roller bed most are whole still.
TEST(DemoScenes, ThinTurbinesBreakTailsAndTearSkinAfterIt) {
    const auto season = season_of(1).season;
    const auto& note = last_note(season, "Warren Top");
    for (const char* turbine : {"turbine_1.speed", "turbine_2.speed", "turbine_3.speed"}) {
        EXPECT_NEAR(60.0 * set_to(note, turbine), 70.0, 2.0) << turbine;
    }
    const auto early = seen_after(season, "Warren Top", note.at, check::SeenAt::before_cleaning);
    const auto tank = seen_after(season, "Warren Top", note.at, check::SeenAt::tank);
    EXPECT_LT(early.wide_share(), 0.2);
    EXPECT_GT(tank.wide_share(), 0.6);
    EXPECT_EQ(early.skins, 0);
    EXPECT_GT(tank.mean_skin_cm2(), 40.0);
}

TEST(DemoScenes, TwoBrokenTailsOfTwentyAreNoise) {
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        const auto season = season_of(1, units).season;
        const auto& note = last_note(season, "Tollgate");
        const auto sheet = std::ranges::find_if(season.beet_sheets, [&](const auto& one) {
            return one.field == "Tollgate" && one.at > note.at;
        });
        ASSERT_NE(sheet, season.beet_sheets.end());
        EXPECT_EQ(sheet->beets.size(), 20U);
        const auto broken = std::ranges::count_if(
            sheet->beets, [](const auto& beet) { return beet.tip.to > Length::zero(); });
        EXPECT_GE(broken, 2);
        EXPECT_LE(broken, 3);
        // Faster driving was advised as well, and turned down.
        const auto declined = std::ranges::find(season.settings, check::Answer::declined,
                                                &check::SettingsNote::answer);
        ASSERT_NE(declined, season.settings.end());
        EXPECT_EQ(declined->field, "Tollgate");
        EXPECT_GT(set_to(*declined, "driving.speed"), set_to(note, "driving.speed"));
    }
}

// What is delivered and what the season's truth says is that of the whole field: of as large a part
// as was counted there the scene's.
TEST(DemoScenes, AreAPartOfTheirFieldsTruth) {
    const auto physics = loss_physics(Catalogue{});
    const auto invented = season_of(1);
    const auto usual = season_truth(Weather(1), 1, physics);
    for (std::size_t i = 0; i < usual.size(); ++i) {
        const auto& whole = invented.truth[i];
        const bool has_scene = std::ranges::any_of(
            scenes(), [&](const Scene& scene) { return scene.field == whole.field; });
        EXPECT_EQ(whole.tail_share != usual[i].tail_share, has_scene) << whole.field;
        EXPECT_EQ(whole.standing.si(), usual[i].standing.si()) << whole.field;
    }
    const auto of = [](const std::vector<FieldTruth>& all, std::string_view field) {
        return *std::ranges::find(all, field, &FieldTruth::field);
    };
    // 60 of 160 counted beets lose as tails of 4.0 cm do, nine in ten of them broken.
    const auto& chalk = of(usual, "Chalk Ridge");
    TailBreaks broken = chalk.tails;
    broken.whole_share = 0.10;
    broken.mean = 4.0 * unit::cm;
    const double lost = physics.tail_loss_at_5cm * broken.moment(physics.tail_exponent);
    EXPECT_NEAR(of(invented.truth, "Chalk Ridge").tail_share,
                0.625 * chalk.tail_share + 0.375 * lost, 1e-12);
}

}  // namespace
}  // namespace beetwright::demo
