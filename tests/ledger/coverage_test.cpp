// Do the ledger's 90 % intervals hold the truth nine times in ten?
//
// 2,000 simulated fields, each in a world of its own: the published constants are drawn from their
// catalogue spreads, the field's truth from a wide range of conditions, and the counts from that
// truth with spots whose beets are alike. Binomial standard error of a coverage of 90 % over 2,000
// fields: 0.67 %, so 88-92 % is three of them. Seed 20.
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <string>

#include "ledger/account.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"
#include "ledger/simulated_field.hpp"
#include "ledger/standing.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {
namespace {

constexpr int kFields = 2000;
constexpr std::uint64_t kSeed = 20;

constexpr std::array kJudged{Line::standing_crop,
                             Line::over_topping,
                             Line::tails,
                             Line::whole_roots,
                             Line::pieces,
                             Line::storage_breathing,
                             Line::storage_tail_wounds,
                             Line::storage_crown_wounds,
                             Line::storage_skin_wounds,
                             Line::storage_leaf_and_soil,
                             Line::storage_rot_and_frost,
                             Line::molasses,
                             Line::crown_and_leaf,
                             Line::factory_loss,
                             Line::recovered};

Season empty_season() {
    Season season;
    season.name = "simulated";
    season.currency = "EUR";
    season.first_day = Day(std::chrono::days(22000));
    season.seed = kSeed;
    Destination pile;
    pile.name = "the pile";
    pile.kind = DestinationKind::pile;
    for (int day = 0; day < 150; ++day) {
        pile.temperatures.push_back(
            {season.first_day + std::chrono::days(day), Temperature::celsius(9.0 - 0.04 * day)});
    }
    season.destinations.push_back(pile);
    season.terms.base_price = MoneyPerCleanMass(0.040);
    season.terms.slide = {{SugarContent(0.12), SugarContent(0.20), 9.0}};
    season.terms.soil_charge = MoneyPerMass(0.010);
    return season;
}

/// The true amounts of a field, in the order of Amount, with the constants of its own world.
AmountDraw true_amounts(const simulated::FieldTruth& truth, const DrawConstants& world) {
    AmountDraw all{};
    const auto set = [&](Amount amount, double value) {
        all[static_cast<std::size_t>(amount)] = value;
    };
    set(Amount::soil, truth.soil);
    set(Amount::tops, truth.tops);
    set(Amount::deep_share, truth.deep_share);
    set(Amount::slanted_share, truth.slanted_share);
    set(Amount::long_petioles, truth.long_petioles);
    set(Amount::tail_moment, truth.tail_moment(world.tip.exponent));
    set(Amount::tail_break_area, truth.tail_break_area_m2());
    set(Amount::scar_area, truth.scar_area_m2());
    set(Amount::skin_damage, truth.skin_damage_m2);
    set(Amount::rotten, truth.rotten);
    set(Amount::frosted, truth.frosted);
    set(Amount::whole_roots, truth.whole_roots_kg_m2);
    set(Amount::pieces, truth.pieces_kg_m2);
    set(Amount::pol, truth.pol);
    set(Amount::potassium, truth.potassium);
    set(Amount::sodium, truth.sodium);
    set(Amount::amino_nitrogen, truth.amino_nitrogen);
    set(Amount::deep_scars, truth.deep_scars(world.scars.widest_m));
    return all;
}

Stay stay_of(const Field& field) {
    return {field.destination, *field.lifted, *field.sliced};
}

struct TrueLedger {
    Flow flow;
    double delivered_kg_m2 = 0.0;
};

/// The ledger of the truth, in world `draw` of the model.
TrueLedger true_ledger(const Model& world, std::size_t draw, const simulated::FieldTruth& truth,
                       const Field& field) {
    const DrawConstants& constants = world.constants()[draw];
    FieldAmounts amounts;
    amounts.mass_basis = MassBasis::standing;
    amounts.deep_cut_basis = DeepCutBasis::scars;  // already at this world's width
    amounts.scar_shape = {};
    AmountDraw all = true_amounts(truth, constants);
    all[static_cast<std::size_t>(Amount::beet_mass)] =
        truth.standing_kg_m2 + truth.whole_roots_kg_m2 + truth.pieces_kg_m2;
    const Standing standing = standing_of(all, constants, amounts, constants.tip.exponent);
    const auto price = worth::price_on(world.season().terms, *field.sliced, field.haul.si());
    const auto& exposure = world.exposures(stay_of(field))[draw];
    return {flow_of(standing, exposure, constants.lump, price),
            deliver(standing, exposure, constants.lump).lifted};
}

TEST(LedgerCoverage, HoldsTheTruthNineTimesInTen) {
    const Catalogue catalogue;
    Season worlds_season = empty_season();
    worlds_season.seed = kSeed + 1;
    Model worlds(worlds_season, catalogue, kFields);  // one draw of the constants a field

    Season season = empty_season();
    std::vector<TrueLedger> truths;
    for (int f = 0; f < kFields; ++f) {
        RandomStream random(kSeed, "coverage", static_cast<std::uint64_t>(f));
        const auto truth =
            simulated::draw_truth(random, catalogue.value(ConstantId::check_alikeness));
        Field field;
        field.destination = season.destinations.front().name;
        field.haul = 20.0 * unit::km;
        field.lifted = season.first_day + std::chrono::days(20);
        field.sliced = *field.lifted + std::chrono::days(80);
        worlds.prepare(std::array{stay_of(field)});
        truths.push_back(true_ledger(worlds, static_cast<std::size_t>(f), truth, field));
        simulated::observe(season, "field " + std::to_string(f), truth,
                           truths.back().delivered_kg_m2, {}, random, catalogue);
    }

    const auto amounts = season_amounts(season, catalogue);
    Model model(season, catalogue, 1000);
    LineDraws draws(1000, Detail::lines);
    std::array<int, kLineCount> sugar_inside{};
    int paid_inside = 0;
    for (std::size_t f = 0; f < season.fields.size(); ++f) {
        const Field& field = season.fields[f];
        const FieldQuestion question{&field, &amounts[f], *field.lifted, *field.sliced};
        model.prepare(std::array{stay_of(field)});
        draw_field(model, question, Detail::lines, draws);
        const auto account = summarise(model, field.name, draws, question, Detail::lines);
        for (const Line line : kJudged) {
            const auto& sugar = account.entry(line).sugar;
            const double sign = is_balance(line) ? 1.0 : -1.0;
            const double truth = sign * truths[f].flow.sugar_of(line);
            sugar_inside[static_cast<std::size_t>(line)] +=
                sugar.low.si() <= truth && truth <= sugar.high.si() ? 1 : 0;
        }
        const auto& paid = account.entry(Line::paid).money;
        const double truth = truths[f].flow.money_of(Line::paid);
        paid_inside += paid.low.si() <= truth && truth <= paid.high.si() ? 1 : 0;
    }
    const auto expect_nine_in_ten = [](std::string_view what, int inside) {
        const double coverage = static_cast<double>(inside) / kFields;
        std::printf("    %-36s %.1f %%\n", std::string(what).c_str(), 100.0 * coverage);
        EXPECT_GE(coverage, 0.88) << what;
        EXPECT_LE(coverage, 0.92) << what;
    };
    for (const Line line : kJudged) {
        expect_nine_in_ten(words(line), sugar_inside[static_cast<std::size_t>(line)]);
    }
    expect_nine_in_ten(words(Line::paid), paid_inside);
}

}  // namespace
}  // namespace beetwright::ledger
