// Published payment terms, read from tests/data/terms and settled: what was printed must come out.
#include <gtest/gtest.h>

#include <array>
#include <fstream>
#include <span>
#include <sstream>
#include <string>

#include "io/terms_json.hpp"
#include "worth/price.hpp"
#include "worth/settle.hpp"

namespace beetwright::io {
namespace {

using worth::Cents;
using worth::Terms;

std::string file_text(const std::string& path) {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/" + path);
    EXPECT_TRUE(in.good()) << path;
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

Terms terms_of(const std::string& path) {
    auto terms = read_terms(file_text(path), path);
    EXPECT_TRUE(terms.ok()) << path;
    return terms.ok() ? *terms : Terms{};
}

Terms published(const std::string& name) {
    return terms_of("tests/data/terms/" + name + ".json");
}

worth::Delivery load(CleanMass clean, double pol_percent, const char* delivered) {
    worth::Delivery delivery;
    delivery.ticket = "A1";
    delivery.delivered = *parse_day(delivered);
    delivery.clean = clean;
    delivery.pol = pol_percent * unit::percent_sugar;
    return delivery;
}

worth::Delivery tonne(double pol_percent, const char* delivered) {
    return load(tonnes<CleanMass>(1.0), pol_percent, delivered);
}

Cents paid(const Terms& terms, const worth::Delivery& delivery) {
    const auto settled = worth::settle(terms, delivery);
    EXPECT_TRUE(settled.ok());
    return settled.ok() ? settled->total() : 0;
}

// agrarheute.com 547619 [VC]: yield in t/ha, growing 0.5 a day, and revenue in EUR/ha.
TEST(PublishedTerms, GermanyFiveEarlyDeliveryRowsToTheCent) {
    const Terms terms = published("germany_2018");
    struct Row {
        const char* day;
        double yield_t;
        Cents revenue;
    };
    for (const Row& row : {Row{"2018-09-14", 52.0, 170092}, Row{"2018-09-21", 55.5, 170163},
                           Row{"2018-09-28", 59.0, 170864}, Row{"2018-10-05", 62.5, 172375},
                           Row{"2018-10-10", 65.0, 173420}}) {
        EXPECT_EQ(paid(terms, load(tonnes<CleanMass>(row.yield_t), 16.0, row.day)), row.revenue)
            << row.day;
    }
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-10-11")), 2650);
}

// NFU Sugar 2019, questions and answers: 20.42 GBP becomes 19.07 [VC]; 22.00 and 22.50 become
// 20.55 and 21.01 [C].
TEST(PublishedTerms, UkAdjustedTonnesUnderAFixedCrownTare) {
    Terms terms = published("uk_2018");
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-11-01")), 1907);
    terms.base_price = MoneyPerCleanMass(22.00e-3);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-11-01")), 2055);
    terms.base_price = MoneyPerCleanMass(22.50e-3);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-11-01")), 2101);
}

// fwi.co.uk, beet payments agreed 1998/99 [V]; GBP per clean tonne at six distances [C], given to
// four decimals.
TEST(PublishedTerms, UkHaulAllowanceAtSixDistances) {
    const Terms terms = published("uk_1998");
    for (const auto& [miles, pounds] : std::array<std::array<double, 2>, 6>{{{10, 2.0838},
                                                                             {30, 3.6064},
                                                                             {45, 4.6052},
                                                                             {60, 5.6039},
                                                                             {100, 7.8901},
                                                                             {120, 8.8423}}}) {
        const auto rate = worth::haul_allowance(terms.haul_allowance, miles * unit::mile);
        EXPECT_NEAR(1000.0 * rate.si(), pounds, 6e-5) << miles;
        auto one = load(tonnes<CleanMass>(100.0), 16.0, "1998-11-01");
        one.haul = miles * unit::mile;
        const Cents without_haul = 250000;
        // Printed to 0.0001 per tonne, a cent on 100 t; half of that and half a cent of rounding.
        EXPECT_NEAR(static_cast<double>(paid(terms, one) - without_haul), 10000.0 * pounds, 1.0);
    }
}

// Grower note 443 [V]: per cent added to the base payment, by days before stockpiling. Three days
// (3, 10, 17) could not be read and are left out.
TEST(PublishedTerms, UsPremiumTableByDaysBeforeStockpiling) {
    const Terms terms = published("us_premium");
    const auto short_ton = [](const char* day) {
        return load(pounds<CleanMass>(2000.0), 17.5, day);
    };
    EXPECT_EQ(terms.premiums.size(), 29U);
    EXPECT_EQ(paid(terms, short_ton("2031-10-01")), 4000);
    EXPECT_EQ(paid(terms, short_ton("2031-09-30")), 4228);  // 1 day: 5.7 % of 40
    EXPECT_EQ(paid(terms, short_ton("2031-09-16")), 5840);  // 15 days: 46.0 %
    EXPECT_EQ(paid(terms, short_ton("2031-09-04")), 8520);  // 27 days: 113.0 %
    EXPECT_EQ(paid(terms, short_ton("2031-08-30")), 9940);  // 32 days: 148.5 %
    EXPECT_EQ(paid(terms, short_ton("2031-08-29")), 4000);
}

// danskesukkerroedyrkere.dk, campaign start 2018 [V]: 40.00 DKK/t on 15 September, 37.50 on the
// 16th, falling 2.50 a day. At that step it is used up by 1 October, though the page says "until 10
// October": the last days are not in the file.
TEST(PublishedTerms, DenmarkSupplementFallsByTheDay) {
    const Terms terms = published("denmark_2018");
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-09-15")), 15807 + 4000);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-09-16")), 15807 + 3750);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-09-30")), 15807 + 250);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-09-14")), 15807);
}

// Finnish contract wording [V]: +0.9 % of the base price for every 0.1 % of sugar over 16.0;
// 17.2 % on 30.00 is 33.24 [C].
TEST(PublishedTerms, FinlandSlideOfNineTenthsOfAPercent) {
    const Terms terms = published("finland");
    EXPECT_EQ(paid(terms, tonne(17.2, "2018-10-01")), 3324);
    EXPECT_EQ(paid(terms, tonne(16.0, "2018-10-01")), 3000);
    EXPECT_EQ(paid(terms, tonne(25.0, "2018-10-01")), paid(terms, tonne(20.0, "2018-10-01")));
}

// ISIP [V]: (pol - 2.2) / 13.8 of the mass; 75 t at 18 % count as 85.87 t [D].
TEST(PublishedTerms, MassOnASixteenPercentBase) {
    const Terms terms = published("sixteen_percent_base");
    EXPECT_EQ(paid(terms, load(tonnes<CleanMass>(75.0), 18.0, "2018-10-01")), 8587);
    EXPECT_EQ(paid(terms, load(tonnes<CleanMass>(75.0), 16.0, "2018-10-01")), 7500);
}

worth::Delivery short_ton(double pol_percent, double molasses_percent) {
    auto one = load(pounds<CleanMass>(2000.0), pol_percent, "1999-10-10");
    one.molasses_loss = molasses_percent * unit::percent_sugar;
    return one;
}

// Zidon 1987, grower note 408 [VC]: 36.35 and 31.20 USD per short ton at 319.2 and 295.8 lb of
// recoverable sugar. The line through them, 0.220085 USD/lb less 33.9013 USD, is in the file.
TEST(PublishedTerms, UsPaymentIsLinearInRecoverableSugar) {
    const Terms terms = published("us_1987");
    EXPECT_EQ(paid(terms, short_ton(17.59, 1.63)), 3635);
    EXPECT_EQ(paid(terms, short_ton(16.49, 1.70)), 3120);
}

// Smith 1999, grower note 376 [V]: net sugar 15.73, 15.60, 15.00 %; 34.35, 33.76, 31.10 USD. The
// file's line goes through the first and last; the middle row is a check of its own. It is printed
// at 311.9 lb of a net sugar that gives 312.0: 0.1 lb is 0.022 USD.
TEST(PublishedTerms, UsRowBetweenTwoOthersLiesOnTheirLine) {
    const Terms terms = published("us_1999");
    EXPECT_EQ(paid(terms, short_ton(15.73, 0.0)), 3435);
    EXPECT_EQ(paid(terms, short_ton(15.00, 0.0)), 3110);
    EXPECT_NEAR(static_cast<double>(paid(terms, short_ton(15.60, 0.0))), 3376.0, 2.3);
}

// What is offered to start from must read, and every part of it must pay or charge something.
TEST(ExampleTerms, ReadAndPayInEveryPart) {
    const Terms terms = terms_of("data/terms/example.json");
    auto early = load(tonnes<CleanMass>(4100.0), 17.2, "2031-09-20");
    early.soil = Mass(200e3);
    early.tops = Mass(90e3);
    early.haul = 42.0 * unit::km;
    const auto season = worth::settle_season(terms, std::span(&early, 1));
    ASSERT_TRUE(season.ok());
    for (std::size_t part = 0; part < worth::kParts; ++part) {
        EXPECT_NE(season->total(static_cast<worth::Part>(part)), 0) << part;
    }
    // 4000 t x 32.50 x (1 + 0.09 x 1.2); 5 days into the supplement 6 - 5 x 0.24 = 4.80.
    EXPECT_EQ(season->total(worth::Part::beet), 14404000);
    EXPECT_EQ(season->total(worth::Part::early_or_late), 1920000);
    // 4100 t x (1.10 + 30 x 0.10 + 12 x 0.07)
    EXPECT_EQ(season->total(worth::Part::haul_allowance), 2025400);
}

}  // namespace
}  // namespace beetwright::io
