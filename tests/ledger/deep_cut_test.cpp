// What scars measured on beets topped too deep change in the ledger.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "ledger/account.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "ledger/standing.hpp"

namespace beetwright::ledger {
namespace {

const Catalogue kCatalogue;

/// Ten spots of ten beets; the first of each spot is topped too deep, with this scar (NaN: not
/// measured).
Season counted(const std::vector<Length>& deep_scars) {
    Season season;
    season.first_day = Day(std::chrono::days(22000));
    season.currency = "EUR";
    for (std::size_t f = 0; f < deep_scars.size(); ++f) {
        Field field;
        field.name = "field " + std::to_string(f);
        field.machine = "machine";
        field.area = 10.0 * unit::ha;
        season.fields.push_back(field);
        check::BeetSheet sheet;
        sheet.id = Uuid::version7(Instant{}, f, 1);
        sheet.field = field.name;
        for (int b = 0; b < 100; ++b) {
            check::CountedBeet beet;
            beet.spot = 1 + b / 10;
            const bool deep = b % 10 == 0;
            beet.topping = deep ? check::Topping::too_deep : check::Topping::correct;
            beet.scar = deep ? deep_scars[f] : Length(std::nan(""));
            sheet.beets.push_back(beet);
        }
        season.beet_sheets.push_back(std::move(sheet));
    }
    return season;
}

const Length kNotMeasured(std::nan(""));

/// [kg/m2], losses positive.
Estimate<double> over_topped(const Season& season, std::size_t f) {
    Model model(season, kCatalogue, 1000);
    const auto amounts = season_amounts(season, kCatalogue);
    const FieldQuestion question{&season.fields[f], &amounts[f], season.first_day,
                                 season.first_day};
    model.prepare(std::array{stay_of(question)});
    LineDraws draws(1000, Detail::lines);
    draw_field(model, question, Detail::lines, draws);
    const auto account = summarise(model, "", draws, question, Detail::lines);
    const auto& mass = account.entry(Line::over_topping).mass;
    return {-mass.value.si(), -mass.high.si(), -mass.low.si()};
}

TEST(DeepCut, WiderScarsCostMore) {
    const auto season = counted({6.0 * unit::cm, 8.0 * unit::cm, 9.5 * unit::cm});
    EXPECT_GT(over_topped(season, 1).value, 2.0 * over_topped(season, 0).value);
    EXPECT_GT(over_topped(season, 2).value, 2.0 * over_topped(season, 1).value);
}

TEST(DeepCut, WithoutScarsTheUsualDepthStandsIn) {
    const auto season = counted({kNotMeasured});
    const auto amounts = season_amounts(season, kCatalogue);
    EXPECT_EQ(amounts[0].deep_cut_basis, DeepCutBasis::usual_depth);
    // 10.1 % of beets (Jeffreys' half on either side of 10 of 100) lose 7.1 % per cm x 1.0 cm of
    // about 80 t/ha.
    EXPECT_NEAR(over_topped(season, 0).value, 8.0 * 0.104 * 0.071, 0.1 * 8.0 * 0.104 * 0.071);
}

TEST(DeepCut, NarrowScarsNarrowTheInterval) {
    const auto season = counted({kNotMeasured, 6.0 * unit::cm});
    const auto judged = over_topped(season, 0);
    const auto measured = over_topped(season, 1);
    EXPECT_LT(measured.high - measured.low, 0.5 * (judged.high - judged.low));
}

TEST(DeepCut, IsLearnedFromTheMachinesOtherFields) {
    const auto season = counted({7.0 * unit::cm, 7.4 * unit::cm, 7.2 * unit::cm, kNotMeasured});
    const auto amounts = season_amounts(season, kCatalogue);
    EXPECT_EQ(amounts[3].deep_cut_basis, DeepCutBasis::scars);
    EXPECT_EQ(amounts[3].of(Amount::deep_scars).rests_on, RestsOn::learned);
    const auto like = over_topped(season, 2);
    EXPECT_NEAR(over_topped(season, 3).value, like.value, 0.25 * like.value);
}

TEST(DeepCut, OfAnUnnamedMachineIsNotLearned) {
    auto season = counted({7.0 * unit::cm, 7.4 * unit::cm, 7.2 * unit::cm, kNotMeasured});
    for (auto& field : season.fields) {
        field.machine.clear();
    }
    const auto amounts = season_amounts(season, kCatalogue);
    EXPECT_EQ(amounts[3].deep_cut_basis, DeepCutBasis::usual_depth);
    EXPECT_EQ(amounts[3].of(Amount::deep_scars).rests_on, RestsOn::published);
}

// The parabola through three widths against each width worked out for itself.
TEST(DeepCut, FollowsTheWidthOfTheRoots) {
    for (const double scar_cm : {6.0, 8.0}) {
        const auto season = counted({scar_cm * unit::cm});
        const auto amounts = season_amounts(season, kCatalogue);
        const auto& shape = amounts[0].scar_shape;
        const double usual_cm = 100.0 * kCatalogue.value(ConstantId::topping_widest);
        for (const double widest_cm : {9.2, 9.8, 10.3, 11.0, 11.4}) {
            const double exact = beet::crown_above_scar(scar_cm / widest_cm) /
                                 beet::crown_above_scar(scar_cm / usual_cm);
            const double steps = std::log(usual_cm / widest_cm) / std::log(kWidestStep);
            EXPECT_NEAR(along_parabola(steps, shape.wider_ratio, shape.narrower_ratio), exact,
                        0.06 * exact)
                << scar_cm << " cm on " << widest_cm << " cm";
        }
    }
}

}  // namespace
}  // namespace beetwright::ledger
