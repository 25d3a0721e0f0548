#include "base/catalogue.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <set>
#include <string>

#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "base/unit.hpp"

namespace beetwright {
namespace {

TEST(Catalogue, EveryRowIsWholeAndInOrder) {
    std::set<std::string_view> ids;
    for (const auto& row : catalogue_rows()) {
        EXPECT_TRUE(ids.insert(row.id).second) << row.id;
        EXPECT_TRUE(find_unit(row.unit).has_value()) << row.id << ' ' << row.unit;
        EXPECT_LE(row.low, row.value) << row.id;
        EXPECT_LE(row.value, row.high) << row.id;
        EXPECT_FALSE(row.words.empty()) << row.id;
        EXPECT_FALSE(row.source.empty()) << row.id;
        EXPECT_EQ(row.spread == Spread::fixed, row.low == row.high) << row.id;
        if (row.spread == Spread::lognormal) {
            EXPECT_GT(row.low, 0.0) << row.id;
        }
    }
}

TEST(Catalogue, SaysWhatIsFromMemoryAndWhatWasSeen) {
    for (const auto& row : catalogue_rows()) {
        const bool tagged = row.source.find("[V]") != std::string_view::npos ||
                            row.source.find("[V ") != std::string_view::npos ||
                            row.source.find("[C]") != std::string_view::npos ||
                            row.source.find("[D]") != std::string_view::npos ||
                            row.source.find("[M]") != std::string_view::npos;
        switch (row.how) {
            case HowKnown::measured:
            case HowKnown::derived: EXPECT_TRUE(tagged) << row.id << ": " << row.source; break;
            case HowKnown::from_memory:
                EXPECT_NE(row.source.find("[M]"), std::string_view::npos) << row.id;
                break;
            case HowKnown::common_practice:
                EXPECT_NE(row.source.find("no source"), std::string_view::npos) << row.id;
                break;
            case HowKnown::assumed:
                EXPECT_TRUE(row.source.find("assumed") != std::string_view::npos ||
                            row.source.find("our rule") != std::string_view::npos)
                    << row.id << ": " << row.source;
                break;
        }
    }
}

TEST(Catalogue, ReachesItsEndsAtTheirScores) {
    const Catalogue catalogue;
    for (std::size_t c = 0; c < catalogue_rows().size(); ++c) {
        const auto id = static_cast<ConstantId>(c);
        const auto& row = catalogue_rows()[c];
        const Unit unit = *find_unit(row.unit);
        const double scale =
            1e-9 * (std::abs(unit.to_si(row.high)) + std::abs(unit.to_si(row.low)));
        EXPECT_NEAR(catalogue.at_score(id, kIntervalZ), unit.to_si(row.high), scale) << row.id;
        EXPECT_NEAR(catalogue.at_score(id, -kIntervalZ), unit.to_si(row.low), scale) << row.id;
        if (row.spread != Spread::uniform) {
            EXPECT_NEAR(catalogue.value(id), unit.to_si(row.value), scale) << row.id;
        }
    }
}

TEST(Catalogue, TakesAUsersOwnNumber) {
    Catalogue catalogue;
    ASSERT_TRUE(catalogue.replace("tip.loss_at_5cm", 8.0, 7.0, 9.0).ok());
    EXPECT_NEAR(catalogue.value(ConstantId::tip_loss_at_5cm), 0.08, 1e-15);
    EXPECT_TRUE(catalogue.is_replaced(ConstantId::tip_loss_at_5cm));
    EXPECT_FALSE(catalogue.is_replaced(ConstantId::tip_exponent));
}

TEST(Catalogue, RefusesNumbersThatCannotBe) {
    Catalogue catalogue;
    EXPECT_FALSE(catalogue.replace("no.such", 1.0, 0.0, 2.0).ok());
    EXPECT_FALSE(catalogue.replace("tip.loss_at_5cm", 8.0, 9.0, 10.0).ok());
    EXPECT_FALSE(catalogue.replace("tip.loss_at_5cm", 8.0, -1.0, 10.0).ok());  // lognormal
    EXPECT_FALSE(catalogue.replace("tip.loss_at_5cm", 8.0, 7.0, std::nan("")).ok());
    EXPECT_NEAR(catalogue.value(ConstantId::tip_loss_at_5cm), 0.0936, 1e-12);
}

// International yard and pound 1959: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg, exactly; short ton
// 2,000 lb; acre 43,560 square feet; mile 5,280 ft.
TEST(Units, AreTheInternationalOnes) {
    const auto si = [](const char* symbol, double number) {
        return find_unit(symbol)->to_si(number);
    };
    EXPECT_EQ(si("ft", 1.0), 0.3048);
    EXPECT_EQ(si("lb", 1.0), 0.45359237);
    EXPECT_NEAR(si("short ton", 1.0), 907.18474, 1e-10);
    EXPECT_NEAR(si("acre", 1.0), 43560.0 * 0.3048 * 0.3048, 1e-9);
    EXPECT_NEAR(si("mi", 1.0), 5280.0 * 0.3048, 1e-9);
    EXPECT_NEAR(si("mph", 1.0), 0.44704, 1e-12);
    // NIST Special Publication 811, appendix B.9: 1 psi = 6.894757 kPa.
    EXPECT_NEAR(si("psi", 1.0), 6894.757, 5e-4);
    EXPECT_NEAR(si("bar", 1.0), si("kPa", 100.0), 1e-9);
    // Appendix B.9 again: 249.0889 Pa, 4.719474e-4 m3/s, 745.6999 W.
    EXPECT_NEAR(si("inH2O", 1.0), 249.0889, 1e-4);
    EXPECT_NEAR(si("cu ft/min", 1.0), 4.719474e-4, 1e-10);
    EXPECT_NEAR(si("hp", 1.0), 745.6999, 1e-4);
    EXPECT_NEAR(si("F°", 9.0), si("K", 5.0), 1e-15);
    EXPECT_NEAR(si("°F", 212.0), 373.15, 1e-10);
    EXPECT_NEAR(si("°F", -40.0), si("°C", -40.0), 1e-10);
    // 1 short ton/acre = 2.2417 t/ha (harvest.md [D]).
    EXPECT_NEAR(si("short ton/acre", 1.0) / si("t/ha", 1.0), 2.2417, 5e-5);
    EXPECT_NEAR(si("mmol/100 g", 1.0), si("mmol/kg", 10.0), 1e-15);
}

TEST(Units, HaveSymbolsOfTheirOwnAndGoBothWays) {
    std::set<std::string_view> symbols;
    for (const Unit& unit : all_units()) {
        EXPECT_TRUE(symbols.insert(unit.symbol).second) << unit.symbol;
        EXPECT_NEAR(unit.from_si(unit.to_si(12.34)), 12.34, 1e-12) << unit.symbol;
    }
    EXPECT_FALSE(find_unit("furlong").has_value());
}

TEST(Quantity, IsFreeAndKnowsItsDimension) {
    static_assert(sizeof(SugarPerArea) == sizeof(double));
    static_assert(std::is_trivially_copyable_v<CleanMass>);
    static_assert(std::is_same_v<decltype(CleanMass(1.0) * SugarContent(0.17)), SugarMass>);
    static_assert(std::is_same_v<decltype(CleanMass(1.0) / CleanMass(2.0)), double>);
    static_assert(std::is_same_v<decltype(SugarMass(1.0) / Area(2.0)), SugarPerArea>);
    EXPECT_FALSE(Length().is_known());
    EXPECT_EQ((80.0 * unit::t_clean_per_ha * unit::ha).si(), 80000.0);
    EXPECT_EQ(Temperature::celsius(10.0) - Temperature::celsius(4.0), 6.0 * unit::K);
    EXPECT_NEAR(Temperature::fahrenheit(55.0).in_celsius(), 12.78, 0.01);
}

TEST(Problem, ReadsAsOneLine) {
    const Problem problem{ProblemKind::input,
                          {.file = "fields.csv", .line = 3, .field = "area"},
                          "'x' is not a number",
                          "write digits"};
    EXPECT_EQ(problem.text(), "fields.csv:3, area: 'x' is not a number. write digits");
    const Problem bare{ProblemKind::input, {}, "no terms", ""};
    EXPECT_EQ(bare.text(), "no terms");
}

}  // namespace
}  // namespace beetwright
