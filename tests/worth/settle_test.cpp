#include "worth/settle.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "base/random.hpp"
#include "worth/price.hpp"

namespace beetwright::worth {
namespace {

using std::chrono::days;

Day day(int year, unsigned month, unsigned day_of_month) {
    return Day(std::chrono::year(year) / std::chrono::month(month) /
               std::chrono::day(day_of_month));
}

MoneyPerCleanMass per_tonne(double money) {
    return MoneyPerCleanMass(money / 1000.0);
}

Delivery load(double clean_t, double pol_percent, Day delivered) {
    Delivery delivery;
    delivery.ticket = "A1";
    delivery.delivered = delivered;
    delivery.clean = tonnes<CleanMass>(clean_t);
    delivery.pol = pol_percent * unit::percent_sugar;
    return delivery;
}

Cents total(const Terms& terms, const Delivery& delivery) {
    const auto settled = settle(terms, delivery);
    EXPECT_TRUE(settled.ok());
    return settled->total();
}

// EU slide as remembered [M]: 0.9 % a tenth over 16-18, 0.7 % to 19, 0.5 % to 20; down 0.9 %
// to 15.5, 1.0 % to 14.5. At 19.5: 1 + 0.18 + 0.07 + 0.025; at 15: 1 - 0.045 - 0.05.
TEST(Settle, SlideOfSeveralSteps) {
    Terms terms;
    terms.base_price = per_tonne(100.0);
    const auto step = [](double from, double to, double percent_per_tenth) {
        return SlideStep{from * unit::percent_sugar, to * unit::percent_sugar,
                         10.0 * percent_per_tenth};
    };
    terms.slide = {step(14.5, 15.5, 1.0), step(15.5, 16.0, 0.9), step(16.0, 18.0, 0.9),
                   step(18.0, 19.0, 0.7), step(19.0, 20.0, 0.5)};
    ASSERT_TRUE(check(terms).ok());
    EXPECT_EQ(total(terms, load(1.0, 19.5, {})), 12750);
    EXPECT_EQ(total(terms, load(1.0, 15.0, {})), 9050);
}

// 100/17 and 100/18 t of beet per t of sugar: 5.88 and 5.56 [V].
TEST(RecoverableSugar, BeetPerTonneOfSugar) {
    EXPECT_NEAR(1.0 / (17.0 * unit::percent_sugar).si(), 5.88, 0.005);
    EXPECT_NEAR(1.0 / (18.0 * unit::percent_sugar).si(), 5.56, 0.005);
}

Terms random_terms(RandomStream& random) {
    Terms terms;
    terms.base_price = per_tonne(20.0 + 20.0 * random.uniform());
    terms.slide = {{SugarContent(0.14), SugarContent(0.16), 10.0 * random.uniform()},
                   {SugarContent(0.16), SugarContent(0.19), 9.0 * random.uniform()}};
    terms.supplements = {{Day{}, Day{} + days(30), per_tonne(6.0 * random.uniform()),
                          per_tonne(-0.2 * random.uniform())}};
    terms.premiums = {{Day{} + days(20), Day{} + days(50), random.uniform()}};
    terms.haul_allowance = {
        per_tonne(1.0), {{Length(0.0), Length(50e3), MoneyPerCleanMassLength(1e-7)}}, 1.1};
    terms.haul_allowance_with_soil.fixed = MoneyPerMassWithSoil(1e-3 * random.uniform());
    terms.haul_cost.fixed = MoneyPerMassWithSoil(0.002);
    terms.soil_charge = MoneyPerMass(0.01 * random.uniform());
    terms.tops_charge = MoneyPerMass(0.02 * random.uniform());
    if (random.chance(0.5)) {
        terms.tare_rule = TareRule::fixed;
        terms.fixed_crown_tare = 0.1 * random.uniform();
    }
    if (random.chance(0.5)) {
        terms.base_price = MoneyPerCleanMass::zero();
        terms.slide.clear();
        terms.recoverable =
            RecoverablePayment{MoneyPerSugar(0.3 + 0.2 * random.uniform()),
                               per_tonne(20.0 * random.uniform()), SugarContent(0.006)};
    }
    return terms;
}

TEST(Settle, AgreesWithThePriceOfTheLedgerToRounding) {
    for (std::uint64_t trial = 0; trial < 300; ++trial) {
        RandomStream random(8, "settle", trial);
        const Terms terms = random_terms(random);
        ASSERT_TRUE(check(terms).ok());
        auto one = load(5.0 + 25.0 * random.uniform(), 14.0 + 6.0 * random.uniform(),
                        Day{} + days(random.below(80)));
        one.soil = Mass(3000.0 * random.uniform());
        one.tops = Mass(500.0 * random.uniform());
        one.haul = Length(80e3 * random.uniform());
        one.molasses_loss = SugarContent(0.01 + 0.01 * random.uniform());
        const Price price = price_on(terms, one.delivered, one.haul.si());
        const double pol = one.pol.si();
        const double molasses = one.molasses_loss.si();
        const double paid_kg = one.clean.si() * price.paid_share;
        const double with_soil = one.clean.si() + one.soil.si() + one.tops.si();
        const double money =
            paid_kg * (price.base(pol, molasses) + price.date_terms(pol, molasses)) +
            one.soil.si() * price.per_kg_soil + one.tops.si() * price.per_kg_tops +
            one.clean.si() * price.haul_per_kg_clean + with_soil * price.haul_per_kg_with_soil;
        // Six lines, each at most half a cent off.
        EXPECT_NEAR(static_cast<double>(total(terms, one)), 100.0 * money, 3.0 + 1e-6);
    }
}

TEST(SettleSeason, PaysLessBeyondTheContractAndSplitsTheLoadThatCrossesIt) {
    Terms terms;
    terms.base_price = per_tonne(40.0);
    terms.quota = Quota{tonnes<CleanMass>(50.0), per_tonne(25.0)};
    // Delivered out of order: the earlier day counts first.
    const std::array loads{load(30.0, 16.0, day(2031, 10, 5)), load(30.0, 16.0, day(2031, 10, 1))};
    const auto season = settle_season(terms, loads);
    ASSERT_TRUE(season.ok());
    EXPECT_EQ(season->loads.front().total(), 120000);
    EXPECT_EQ(season->loads.back().total(), 20 * 4000 + 10 * 2500);
    EXPECT_NEAR(in_tonnes(season->beyond_quota), 10.0, 1e-9);
}

// 30 ha grown, 24 contracted: a fifth of every load is beyond.
TEST(SettleSeason, ContractByAreaLeavesTheSameShareOfEveryLoadBeyondIt) {
    Terms terms;
    terms.base_price = per_tonne(40.0);
    terms.quota = Quota{.contracted = CleanMass(),
                        .price_beyond = per_tonne(25.0),
                        .contracted_area = 24.0 * unit::ha};
    ASSERT_TRUE(check(terms).ok());
    const std::array loads{load(30.0, 16.0, day(2031, 10, 1)), load(10.0, 16.0, day(2031, 10, 5))};
    const auto season = settle_season(terms, loads, 30.0 * unit::ha);
    ASSERT_TRUE(season.ok());
    EXPECT_EQ(season->loads.front().total(), 24 * 4000 + 6 * 2500);
    EXPECT_EQ(season->loads.back().total(), 8 * 4000 + 2 * 2500);
    EXPECT_EQ(season->total(Part::beet_beyond), 8 * 2500);

    EXPECT_EQ(settle_season(terms, loads, 20.0 * unit::ha)->beyond_quota.si(), 0.0);
    const auto not_known = settle_season(terms, loads);
    ASSERT_FALSE(not_known.ok());
    EXPECT_EQ(not_known.problems()[0].where.field, "area");
}

// Payment by recoverable sugar has no base price that a lower one could replace: beyond the
// contract the lower price is flat. 10 t x (400 x (0.17 - 0.02) - 20) = 400 within, 5 t x 15
// beyond.
TEST(SettleSeason, BeyondTheContractRecoverableSugarIsPaidFlat) {
    Terms terms;
    terms.recoverable = RecoverablePayment{.price = MoneyPerSugar(0.4), .charge = per_tonne(20.0)};
    terms.quota = Quota{tonnes<CleanMass>(10.0), per_tonne(15.0)};
    auto one = load(15.0, 17.0, day(2031, 10, 1));
    one.molasses_loss = SugarContent(0.02);
    const auto season = settle_season(terms, std::span(&one, 1));
    ASSERT_TRUE(season.ok());
    EXPECT_EQ(season->total(Part::beet), 40000);
    EXPECT_EQ(season->total(Part::beet_beyond), 7500);
}

// 20 t within the contract on a day of +3, 10 t beyond it: the supplement is 60, not 90.
TEST(SettleSeason, SupplementsAreForBeetWithinTheContract) {
    Terms terms;
    terms.base_price = per_tonne(40.0);
    terms.supplements = {{day(2031, 10, 1), day(2031, 10, 9), per_tonne(3.0)}};
    terms.quota = Quota{tonnes<CleanMass>(20.0), per_tonne(25.0)};
    const std::array loads{load(10.0, 16.0, day(2031, 10, 1)), load(20.0, 16.0, day(2031, 10, 2))};
    const auto season = settle_season(terms, loads);
    ASSERT_TRUE(season.ok());
    EXPECT_EQ(season->total(Part::early_or_late), 6000);
    Cents sum = 0;
    for (std::size_t part = 0; part < kParts; ++part) {
        sum += season->total(static_cast<Part>(part));
    }
    EXPECT_EQ(sum, season->total());
}

// 1 per tonne as loaded: 10 t of clean beet with 1.5 t of soil and 0.5 t of tops.
TEST(Settle, HaulAllowanceByTheMassAsLoaded) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    terms.haul_allowance_with_soil.fixed = MoneyPerMassWithSoil(1e-3);
    auto one = load(10.0, 16.0, {});
    one.soil = Mass(1500.0);
    one.tops = Mass(500.0);
    EXPECT_EQ(total(terms, one), 30000 + 1200);
}

TEST(Settle, SaysWhatIsWrongWithALoad) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    auto bad = load(10.0, 180.0, {});
    bad.soil = Mass(-5.0);
    const auto settled = settle(terms, bad);
    ASSERT_FALSE(settled.ok());
    ASSERT_EQ(settled.problems().size(), 2U);
    EXPECT_NE(settled.problems()[0].where.field.find("pol"), std::string::npos);
    EXPECT_NE(settled.problems()[1].where.field.find("tare"), std::string::npos);
}

TEST(Settle, RefusesWhatIsNotKnown) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    auto bad = load(10.0, 17.0, {});
    bad.haul = Length(-1.0);
    bad.molasses_loss = SugarContent();
    const auto settled = settle(terms, bad);
    ASSERT_FALSE(settled.ok());
    ASSERT_EQ(settled.problems().size(), 2U);
    EXPECT_EQ(settled.problems()[0].where.field, "A1 molasses_loss");
    EXPECT_EQ(settled.problems()[1].where.field, "A1 haul");
    EXPECT_FALSE(settle(terms, load(2e5, 17.0, {})).ok());
}

// 10 t of clean beet, 2 EUR/t of allowance for any distance and 0.1 EUR/t/km of cost: what needs no
// distance is paid, what needs one is left out, and neither is taken for a haul of 0 km.
TEST(Settle, LeavesOutWhatNeedsAHaulThatIsNotKnown) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    auto one = load(10.0, 16.0, {});
    one.haul = Length();
    EXPECT_FALSE(look_at_haul(terms));
    EXPECT_EQ(total(terms, one), 30000);
    terms.haul_allowance.fixed = per_tonne(2.0);
    EXPECT_FALSE(look_at_haul(terms));
    EXPECT_EQ(total(terms, one), 32000);
    terms.haul_allowance.bands = {{Length(0.0), Length(50e3), per_tonne(0.1) / Length(1e3)}};
    EXPECT_TRUE(look_at_haul(terms));
    EXPECT_EQ(total(terms, one), 30000) << "half an allowance is none";
    terms.haul_cost.per_length = MoneyPerMassWithSoil(1e-4) / Length(1e3);
    EXPECT_EQ(total(terms, one), 30000);
    one.haul = Length(10e3);  // 2 + 1 - 1 EUR/t
    EXPECT_EQ(total(terms, one), 32000);
}

TEST(Terms, ContradictionsAreAllNamed) {
    Terms terms;  // pays nothing
    terms.slide = {{SugarContent(0.16), SugarContent(0.18), 9.0},
                   {SugarContent(0.17), SugarContent(0.19), 9.0}};
    terms.fixed_crown_tare = 6.61;  // per cent where a share belongs
    const auto checked = check(terms);
    ASSERT_FALSE(checked.ok());
    ASSERT_EQ(checked.problems().size(), 3U);
    EXPECT_EQ(checked.problems()[0].where.field, "base_price");
    EXPECT_EQ(checked.problems()[1].where.field, "slide[1]");
    EXPECT_EQ(checked.problems()[2].where.field, "fixed_crown_tare");
}

// The row that overlaps is named by its place in the file, in whatever order the rows stand.
TEST(Terms, RowsAreNamedWhereTheyStand) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    terms.supplements = {{day(2031, 10, 10), day(2031, 10, 20), per_tonne(1.0)},
                         {day(2031, 9, 15), day(2031, 10, 10), per_tonne(5.0)}};
    const auto checked = check(terms);
    ASSERT_FALSE(checked.ok());
    EXPECT_EQ(checked.problems()[0].where.field, "supplements[0]");
}

TEST(Terms, EndsThatAreNotKnownAreNamedAndNeverSorted) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    terms.haul_allowance.bands.resize(40);  // every member NaN
    const auto checked = check(terms);
    ASSERT_FALSE(checked.ok());
    EXPECT_EQ(checked.problems()[0].where.field, "haul_allowance.bands[0]");
}

TEST(Terms, OneWayOfPayingOnly) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    terms.recoverable = RecoverablePayment{.price = MoneyPerSugar(0.4)};
    const auto checked = check(terms);
    ASSERT_FALSE(checked.ok());
    EXPECT_EQ(checked.problems()[0].where.field, "recoverable");
}

TEST(Cents, RoundHalvesAwayFromZero) {
    EXPECT_EQ(to_cents(Money(0.005)), 1);
    EXPECT_EQ(to_cents(Money(-0.005)), -1);
    EXPECT_EQ(to_cents(Money(1.005)), 101);  // stored a hair below; the nudge knows
    EXPECT_EQ(to_cents(Money(0.0049)), 0);
}

}  // namespace
}  // namespace beetwright::worth
