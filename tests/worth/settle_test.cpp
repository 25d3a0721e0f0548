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

// Germany 2018, agrarheute.com 547619 [VC]: price 26.50 EUR/t and a supplement by delivery day;
// yield growing 0.5 t/ha a day; revenue per hectare to the cent.
TEST(Settle, FiveEarlyDeliveryRowsToTheCent) {
    struct Row {
        unsigned month, day_of_month;
        double supplement, yield_t;
        Cents revenue;
    };
    constexpr std::array rows{Row{9, 14, 6.21, 52.0, 170092}, Row{9, 21, 4.16, 55.5, 170163},
                              Row{9, 28, 2.46, 59.0, 170864}, Row{10, 5, 1.08, 62.5, 172375},
                              Row{10, 10, 0.18, 65.0, 173420}};
    Terms terms;
    terms.name = "Germany 2018";
    terms.base_price = per_tonne(26.50);
    for (const Row& row : rows) {
        const Day delivered = day(2018, row.month, row.day_of_month);
        terms.supplements.push_back({delivered, delivered, per_tonne(row.supplement)});
    }
    ASSERT_TRUE(check(terms).ok());
    for (const Row& row : rows) {
        EXPECT_EQ(total(terms, load(row.yield_t, 16.0, day(2018, row.month, row.day_of_month))),
                  row.revenue);
    }
}

// NFU Sugar 2019 [VC]: a fixed crown tare of 6.61 % turned 20.42, 22.00 and 22.50 GBP per adjusted
// tonne into 19.07, 20.55 and 21.01.
TEST(Settle, AdjustedTonnesUnderAFixedCrownTare) {
    constexpr std::array<std::array<double, 2>, 3> rows{
        {{20.42, 19.07}, {22.00, 20.55}, {22.50, 21.01}}};
    for (const auto& [price, paid] : rows) {
        Terms terms;
        terms.base_price = per_tonne(price);
        terms.tare_rule = TareRule::fixed;
        terms.fixed_crown_tare = 0.0661;
        EXPECT_EQ(total(terms, load(1.0, 16.0, {})), static_cast<Cents>(std::llround(paid * 100)));
    }
}

// Finnish contract wording [V]: +0.9 % of the base price for every 0.1 % pol over 16.0; 17.2 %
// on 30.00 is 33.24 [C].
TEST(Settle, SlideOfNineTenthsOfAPercent) {
    Terms terms;
    terms.base_price = per_tonne(30.0);
    terms.slide = {{SugarContent(0.16), SugarContent(0.20), 9.0}};
    EXPECT_EQ(total(terms, load(1.0, 17.2, {})), 3324);
    EXPECT_EQ(total(terms, load(1.0, 16.0, {})), 3000);
    EXPECT_EQ(total(terms, load(1.0, 15.0, {})), 3000);
    EXPECT_EQ(total(terms, load(1.0, 25.0, {})), total(terms, load(1.0, 20.0, {})));
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

// ISIP [V]: yield on a 16 % base is (pol - 2.2)/13.8 of the mass; 75 t at 18 % count as 85.87 t
// [D].
TEST(Settle, YieldOnASixteenPercentBase) {
    Terms terms;
    terms.base_price = per_tonne(1.0);
    terms.slide = {{SugarContent(0.05), SugarContent(0.25), 1.0 / 0.138}};
    EXPECT_EQ(total(terms, load(75.0, 18.0, {})), 8587);
}

// UK haul allowance 1998/99, fwi.co.uk beet-payments-agreed [V], at six distances [C].
TEST(HaulAllowance, PiecewiseByMileAtSixDistances) {
    const auto per_tonne_mile = [](double money) {
        return MoneyPerCleanMassLength(money / 1000.0 / unit::mile.si());
    };
    HaulAllowance allowance;
    allowance.fixed = per_tonne(1.1500);
    allowance.factor = 1.15;
    const auto band = [&](double from, double to, double rate) {
        return HaulBand{from * unit::mile, to * unit::mile, per_tonne_mile(rate)};
    };
    allowance.bands = {band(0, 30, 0.0662), band(30, 60, 0.0579), band(60, 100, 0.0497),
                       band(100, 1000, 0.0414)};
    constexpr std::array<std::array<double, 2>, 6> rows{
        {{10, 2.0838}, {30, 3.6064}, {45, 4.6052}, {60, 5.6039}, {100, 7.8901}, {120, 8.8423}}};
    for (const auto& [miles, paid] : rows) {
        EXPECT_NEAR(haul_allowance(allowance, miles * unit::mile).si() * 1000.0, paid, 6e-5);
    }
}

// US pre-pile premium, grower note 443 [V]: per cent added to the base payment by days early.
TEST(Settle, PremiumTableByDaysBeforeStockpiling) {
    constexpr std::array<std::array<double, 2>, 7> rows{
        {{1, 5.7}, {2, 8.1}, {15, 46.0}, {16, 49.6}, {20, 65.1}, {27, 113.0}, {32, 148.5}}};
    const Day stockpile = day(2031, 10, 1);
    Terms terms;
    terms.base_price = per_tonne(40.0);
    for (const auto& [early, percent] : rows) {
        const Day delivered = stockpile - days(static_cast<int>(early));
        terms.premiums.push_back({delivered, delivered, percent / 100.0});
    }
    ASSERT_TRUE(check(terms).ok());
    for (const auto& [early, percent] : rows) {
        const Day delivered = stockpile - days(static_cast<int>(early));
        EXPECT_EQ(total(terms, load(1.0, 16.0, delivered)),
                  4000 + static_cast<Cents>(std::llround(40.0 * percent)));
    }
    EXPECT_EQ(total(terms, load(1.0, 16.0, stockpile)), 4000);
}

// Denmark 2018, danskesukkerroedyrkere.dk [V]: 40.00 DKK/t on 15 September, 2.50 less each day,
// until 10 Oct.
TEST(Settle, SupplementThatFallsByTheDay) {
    Terms terms;
    terms.base_price = per_tonne(158.07);
    terms.supplements = {{day(2018, 9, 15), day(2018, 9, 30), per_tonne(40.0), per_tonne(-2.5)}};
    EXPECT_EQ(total(terms, load(1.0, 16.0, day(2018, 9, 15))), 15807 + 4000);
    EXPECT_EQ(total(terms, load(1.0, 16.0, day(2018, 9, 16))), 15807 + 3750);
    EXPECT_EQ(total(terms, load(1.0, 16.0, day(2018, 10, 11))), 15807);
}

// Zidon 1987, grower note 408 [VC]: 36.35 $ at 17.59/1.63 and 31.20 $ at 16.49/1.70 per short ton
// lie on price x recoverable pounds - charge, with 0.2201 $/lb and 33.87 $.
TEST(Settle, PaymentLinearInRecoverableSugar) {
    constexpr double kShortTon = 907.18474;
    const double slope = (36.35 - 31.20) / (319.2 - 295.8);  // $/lb = $ per lb of sugar
    EXPECT_NEAR(slope, 0.2201, 1e-4);
    Terms terms;
    RecoverablePayment payment;
    payment.price = MoneyPerSugar(slope / 0.45359237);
    payment.charge = MoneyPerCleanMass((slope * 319.2 - 36.35) / kShortTon);
    terms.recoverable = payment;
    ASSERT_TRUE(check(terms).ok());
    auto one = load(kShortTon / 1000.0, 17.59, {});
    one.molasses_loss = 1.63 * unit::percent_sugar;
    EXPECT_EQ(total(terms, one), 3635);
    one.pol = 16.49 * unit::percent_sugar;
    one.molasses_loss = 1.70 * unit::percent_sugar;
    EXPECT_EQ(total(terms, one), 3120);
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
    terms.haul_cost.fixed = Quantity<Dim{.with_soil = -1, .money = 1}>(0.002);
    terms.soil_charge = MoneyPerMass(0.01 * random.uniform());
    terms.tops_charge = MoneyPerMass(0.02 * random.uniform());
    if (random.chance(0.5)) {
        terms.tare_rule = TareRule::fixed;
        terms.fixed_crown_tare = 0.1 * random.uniform();
    }
    return terms;
}

TEST(Settle, AgreesWithThePriceOfTheLedgerToRounding) {
    for (std::uint64_t trial = 0; trial < 300; ++trial) {
        RandomStream random(8, "settle", trial);
        const Terms terms = random_terms(random);
        auto one = load(5.0 + 25.0 * random.uniform(), 14.0 + 6.0 * random.uniform(),
                        Day{} + days(random.below(80)));
        one.soil = Mass(3000.0 * random.uniform());
        one.tops = Mass(500.0 * random.uniform());
        one.haul = Length(80e3 * random.uniform());
        const Price price = price_on(terms, one.delivered, one.haul.si());
        const double pol = one.pol.si();
        const double paid_kg = one.clean.si() * price.paid_share;
        const double with_soil = one.clean.si() + one.soil.si() + one.tops.si();
        const double money = paid_kg * (price.base(pol, 0.0) + price.date_terms(pol, 0.0)) +
                             one.soil.si() * price.per_kg_soil + one.tops.si() * price.per_kg_tops +
                             one.clean.si() * price.haul_per_kg_clean +
                             with_soil * price.haul_per_kg_with_soil;
        // Six lines, each rounded to half a cent.
        EXPECT_NEAR(static_cast<double>(total(terms, one)), 100.0 * money, 3.0);
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

TEST(Terms, ContradictionsAreAllNamed) {
    Terms terms;  // pays nothing
    terms.slide = {{SugarContent(0.16), SugarContent(0.18), 9.0},
                   {SugarContent(0.17), SugarContent(0.19), 9.0}};
    terms.fixed_crown_tare = 6.61;  // per cent where a share belongs
    const auto checked = check(terms);
    ASSERT_FALSE(checked.ok());
    EXPECT_EQ(checked.problems().size(), 3U);
}

TEST(Cents, RoundHalvesAwayFromZero) {
    EXPECT_EQ(to_cents(Money(0.005)), 1);
    EXPECT_EQ(to_cents(Money(-0.005)), -1);
    EXPECT_EQ(to_cents(Money(1.005)), 101);  // stored a hair below; the nudge knows
    EXPECT_EQ(to_cents(Money(0.0049)), 0);
}

}  // namespace
}  // namespace beetwright::worth
