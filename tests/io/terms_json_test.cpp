#include "io/terms_json.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "base/random.hpp"

namespace beetwright::io {
namespace {

/// Terms with these lines added to what every file must hold.
std::string with(const std::string& lines) {
    return R"({"beetwright_terms": 1, "name": "x", "currency": "EUR")" +
           std::string(lines.empty() ? "" : ", ") + lines + "}";
}

const std::string kPriced = R"("base_price": "30 EUR/t")";

/// The one problem's field, and that its words hold `words`.
void expect_problem(const std::string& json, const std::string& field, const std::string& words) {
    const auto read = read_terms(json, "terms.json");
    ASSERT_FALSE(read.ok()) << json;
    bool found = false;
    std::string all;
    for (const auto& problem : read.problems()) {
        EXPECT_EQ(problem.where.file, "terms.json");
        EXPECT_FALSE(problem.fix.empty()) << problem.text();
        all += problem.text() + "\n";
        found = found ||
                (problem.where.field == field && problem.text().find(words) != std::string::npos);
    }
    EXPECT_TRUE(found) << field << ": " << words << "\n" << all;
}

TEST(TermsJson, RefusesWhatIsNotKnownAtItsPath) {
    expect_problem(with(kPriced + R"(, "slyde": [])"), "slyde", "not known");
    expect_problem(
        with(kPriced +
             R"(, "slide": [{"from": "16 %", "to": "18 %", "percent_per_point": 9, "x": 1}])"),
        "slide[0].x", "not known");
    expect_problem(with(kPriced + R"(, "haul_allowance": {"bands": [{"form": "0 km"}]})"),
                   "haul_allowance.bands[0].form", "not known");
}

TEST(TermsJson, RefusesAKeyThatStandsTwice) {
    expect_problem(with(kPriced + R"(, "base_price": "40 EUR/t")"), "base_price", "twice");
    // The same key in two objects is as it should be.
    EXPECT_TRUE(read_terms(with(kPriced + R"(, "slide": [
        {"from": "15 %", "to": "16 %", "percent_per_point": 9},
        {"from": "16 %", "to": "17 %", "percent_per_point": 9}])"),
                           "terms.json")
                    .ok());
}

TEST(TermsJson, NamesWhatIsMissing) {
    expect_problem("{}", "beetwright_terms", "missing");
    expect_problem("{}", "currency", "missing");
    expect_problem(with(kPriced + R"(, "slide": [{"from": "16 %", "percent_per_point": 9}])"),
                   "slide[0].to", "missing");
    expect_problem(
        with(kPriced + R"(, "supplements": [{"from": "2031-10-01", "to": "2031-10-02"}])"),
        "supplements[0].at_from", "missing");
    expect_problem(with(R"("recoverable": {"charge": "20 EUR/t"})"), "recoverable.price",
                   "missing");
    expect_problem(with(kPriced + R"(, "quota": {"contracted": "100 t"})"), "quota.price_beyond",
                   "missing");
    expect_problem(with(kPriced + R"(, "quota": {"price_beyond": "20 EUR/t"})"), "quota",
                   "nothing limits");
}

TEST(TermsJson, RefusesValuesOfTheWrongKind) {
    expect_problem("[]", "", "not an object");
    expect_problem("7", "", "not an object");
    expect_problem(with(R"("base_price": 30)"), "base_price", "no unit");
    expect_problem(with(kPriced + R"(, "slide": {})"), "slide", "not a list");
    expect_problem(with(kPriced + R"(, "slide": [1])"), "slide[0]", "not an object");
    expect_problem(with(kPriced + R"(, "slide": [{"from": "16 %", "to": "18 %",
                                                  "percent_per_point": "9"}])"),
                   "slide[0].percent_per_point", "not a number");
    expect_problem(with(kPriced + R"(, "premiums": [{"from": 20311001, "to": "2031-10-02",
                                                     "share": "5 %"}])"),
                   "premiums[0].from", "'20311001' is not a day");
    expect_problem(R"({"beetwright_terms": 1, "currency": 978})", "currency", "not text");
    expect_problem(R"({"beetwright_terms": 2, "currency": "EUR"})", "beetwright_terms", "version");
}

TEST(TermsJson, RefusesUnitsThatDoNotBelong) {
    expect_problem(with(R"("base_price": "30 GBP/t")"), "base_price", "'GBP/t' is not a unit");
    expect_problem(with(R"("base_price": "30 EUR/ha")"), "base_price", "EUR/short ton");
    expect_problem(with(R"("base_price": "30 EUR")"), "base_price", "'EUR' is not a unit");
    expect_problem(with(R"("base_price": "26,50 EUR/t")"), "base_price", "decimal point");
    expect_problem(with(R"("base_price": "30EUR/t")"), "base_price", "not an amount");
    expect_problem(with(kPriced + R"(, "fixed_crown_tare": "6.61 kg")"), "fixed_crown_tare",
                   "'kg' is not a unit");
    expect_problem(with(kPriced + R"(, "haul_allowance": {"basis": "gross"})"),
                   "haul_allowance.basis", "'gross'");
}

TEST(TermsJson, RefusesContradictionsAtTheirRow) {
    expect_problem(with(kPriced + R"(, "slide": [
        {"from": "16 %", "to": "18 %", "percent_per_point": 9},
        {"from": "14 %", "to": "16 %", "percent_per_point": 9},
        {"from": "17 %", "to": "19 %", "percent_per_point": 9}])"),
                   "slide[2]", "overlaps");
    expect_problem(with(kPriced + R"(, "slide": [{"from": "18 %", "to": "16 %",
                                                  "percent_per_point": 9}])"),
                   "slide[0]", "ends before it starts");
    expect_problem(with(kPriced + R"(, "recoverable": {"price": "400 EUR/t"})"), "recoverable",
                   "as well");
    expect_problem(with(R"("base_price": "1e300 EUR/t")"), "base_price", "beyond all reason");
    expect_problem(with(""), "base_price", "nothing is paid");
}

TEST(TermsJson, EveryMistakeOfAFileIsListedAtOnce) {
    const auto read = read_terms(with(R"("base_price": 30, "reference_pol": "16 kg", "slyde": [],
        "molasses_formula": "mine", "soil_charge": "9 EUR/km")"),
                                 "terms.json");
    ASSERT_FALSE(read.ok());
    EXPECT_EQ(read.problems().size(), 5U);
}

// A season that does not know its terms yet must come back from its file, which holds them as JSON.
TEST(TermsJson, TermsThatAreNotKnownYetComeBack) {
    worth::Terms terms;
    terms.currency = "EUR";
    ASSERT_FALSE(worth::check(terms).ok());
    const auto back = read_terms(write_terms(terms), "season.beet");
    ASSERT_TRUE(back.ok()) << back.problems()[0].text();
    EXPECT_FALSE(back->pay());
    // null is for the price alone: the rest must still be right.
    expect_problem(with(R"("base_price": null, "fixed_crown_tare": "120 %")"), "fixed_crown_tare",
                   "not a share");
    expect_problem(with(R"("base_price": "0 EUR/t")"), "base_price", "nothing is paid");
}

TEST(TermsJson, WithoutACurrencyMoneyIsCalledMoney) {
    worth::Terms terms;
    terms.base_price = MoneyPerCleanMass(0.03);
    const auto text = write_terms(terms);
    EXPECT_NE(text.find("30 money/t"), std::string::npos);
    EXPECT_TRUE(read_terms(text, "terms.json").ok());
}

std::string read_whole(const std::filesystem::path& path) {
    std::ifstream in(path);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

TEST(TermsJson, PublishedTermsComeBackAsTheyWere) {
    std::size_t files = 0;
    const std::string root(BEETWRIGHT_SOURCE_DIR);
    for (const char* folder : {"/tests/data/terms", "/data/terms"}) {
        for (const auto& entry : std::filesystem::directory_iterator(root + folder)) {
            if (entry.path().extension() != ".json") {
                continue;
            }
            const auto terms = read_terms(read_whole(entry.path()), entry.path().filename());
            ASSERT_TRUE(terms.ok()) << terms.problems()[0].text();
            const auto text = write_terms(*terms);
            const auto back = read_terms(text, "written.json");
            ASSERT_TRUE(back.ok()) << back.problems()[0].text();
            EXPECT_EQ(write_terms(*back), text);
            EXPECT_EQ(back->premiums.size(), terms->premiums.size());
            EXPECT_EQ(back->tare_rule, terms->tare_rule);
            ++files;
        }
    }
    EXPECT_EQ(files, 10U);
}

// Every part filled with odd numbers, so that none can be lost or take another's place unseen.
TEST(TermsJson, EveryPartComesBack) {
    for (std::uint64_t trial = 0; trial < 50; ++trial) {
        RandomStream random(3, "terms", trial);
        const auto u = [&] { return 0.1 + random.uniform(); };
        worth::Terms t;
        t.name = "trial";
        t.currency = "DKK";
        t.reference_pol = SugarContent(0.1 + 0.1 * random.uniform());
        t.base_price = MoneyPerCleanMass(u());
        t.slide = {{SugarContent(0.14), SugarContent(0.16), 10.0 * u()}};
        t.supplements = {{Day{}, Day{} + std::chrono::days(9), MoneyPerCleanMass(u()),
                          MoneyPerCleanMass(-0.01 * u())}};
        t.premiums = {{Day{}, Day{} + std::chrono::days(3), u()}};
        t.tare_rule = worth::TareRule::fixed;
        t.fixed_crown_tare = 0.1 * u();
        t.soil_charge = MoneyPerMass(u());
        t.tops_charge = MoneyPerMass(u());
        t.haul_allowance_with_soil.fixed = worth::MoneyPerMassWithSoil(u());
        t.haul_allowance_with_soil.factor = u();
        t.haul_allowance_with_soil.bands = {
            {Length(1e3 * u()), Length(9e3), worth::HaulAllowanceWithSoil::Rate(1e-5 * u())}};
        t.haul_cost.fixed = worth::MoneyPerMassWithSoil(u());
        t.haul_cost.per_length = decltype(t.haul_cost.per_length)(1e-6 * u());
        t.quota = worth::Quota{CleanMass(1e6 * u()), MoneyPerCleanMass(u()), Area(1e5 * u())};
        t.molasses_formula = worth::MolassesFormula::devillers_1988;
        ASSERT_TRUE(worth::check(t).ok());
        const auto back = read_terms(write_terms(t), "terms.json");
        ASSERT_TRUE(back.ok()) << back.problems()[0].text();
        const auto same = [](auto a, auto b) { EXPECT_DOUBLE_EQ(a.si(), b.si()); };
        same(back->reference_pol, t.reference_pol);
        same(back->base_price, t.base_price);
        EXPECT_EQ(back->slide[0].change_per_content, t.slide[0].change_per_content);
        same(back->supplements[0].at_from, t.supplements[0].at_from);
        same(back->supplements[0].per_day, t.supplements[0].per_day);
        EXPECT_EQ(back->supplements[0].to, t.supplements[0].to);
        EXPECT_DOUBLE_EQ(back->premiums[0].share, t.premiums[0].share);
        EXPECT_DOUBLE_EQ(back->fixed_crown_tare, t.fixed_crown_tare);
        same(back->soil_charge, t.soil_charge);
        same(back->tops_charge, t.tops_charge);
        same(back->haul_allowance_with_soil.fixed, t.haul_allowance_with_soil.fixed);
        EXPECT_EQ(back->haul_allowance_with_soil.factor, t.haul_allowance_with_soil.factor);
        same(back->haul_allowance_with_soil.bands[0].from,
             t.haul_allowance_with_soil.bands[0].from);
        same(back->haul_allowance_with_soil.bands[0].rate,
             t.haul_allowance_with_soil.bands[0].rate);
        EXPECT_EQ(back->haul_allowance, worth::HaulAllowance{});
        same(back->haul_cost.fixed, t.haul_cost.fixed);
        same(back->haul_cost.per_length, t.haul_cost.per_length);
        same(back->quota->contracted, t.quota->contracted);
        same(back->quota->contracted_area, t.quota->contracted_area);
        same(back->quota->price_beyond, t.quota->price_beyond);
        EXPECT_EQ(back->molasses_formula, t.molasses_formula);
    }
}

}  // namespace
}  // namespace beetwright::io
