#include "engine/settle_question.hpp"

#include <gtest/gtest.h>

#include "engine/ledger_question.hpp"

namespace beetwright::engine {
namespace {

constexpr MoneyPerCleanMass per_tonne(double money) {
    return MoneyPerCleanMass(money * 1e-3);
}

Instant noon(int day_of_october) {
    return Instant(Day(std::chrono::year(2031) / 10 / day_of_october)) + std::chrono::hours(12);
}

ledger::Load load(const char* ticket, const char* field, int day, double gross_t) {
    ledger::Load one;
    one.id = Uuid::from_text(ticket);
    one.ticket = ticket;
    one.field = field;
    one.at = noon(day);
    one.gross = MassWithSoil(1e3 * gross_t);
    return one;
}

/// Two fields of 10 ha; samples without soil or tops, so that all that is weighed is clean.
ledger::Season season() {
    ledger::Season s;
    s.name = "Trial";
    s.currency = "EUR";
    s.first_day = Day(std::chrono::year(2031) / 9 / 15);
    for (const char* name : {"Long Acre", "Mill Field"}) {
        ledger::Field field;
        field.name = name;
        field.area = 10.0 * unit::ha;
        field.haul = Length(10e3);
        s.fields.push_back(field);
        for (int k = 0; k < 3; ++k) {
            const std::string key = std::string(name) + std::to_string(k);
            s.tares.push_back({.id = Uuid::from_text(key),
                               .supersedes = {},
                               .field = name,
                               .at = noon(1),
                               .gross = MassWithSoil(20.0),
                               .soil = Mass(0.0),
                               .tops = Mass(0.0)});
            s.labs.push_back({.id = Uuid::from_text(key + " lab"),
                              .supersedes = {},
                              .field = name,
                              .at = noon(1),
                              .pol = SugarContent(0.16),
                              .potassium = {},
                              .sodium = {},
                              .amino_nitrogen = {}});
        }
    }
    s.loads = {load("M1", "Mill Field", 2, 60.0), load("L1", "Long Acre", 1, 60.0),
               load("L2", "Long Acre", 3, 40.0)};
    s.terms.currency = "EUR";
    s.terms.base_price = per_tonne(40.0);
    return s;
}

SettleAnswer must_settle(const ledger::Season& s, const std::string& field = {}) {
    auto answer = ask_settle(s, field);
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems()[0].text());
    return answer.ok() ? std::move(*answer) : SettleAnswer{};
}

bool says(const SettleAnswer& answer, const std::string& words) {
    for (const auto& sentence : answer.assumptions) {
        if (sentence.find(words) != std::string::npos) {
            return true;
        }
    }
    return false;
}

// 100 t contracted, delivered as 60 t of Long Acre, 60 t of Mill Field, 40 t of Long Acre: 20 t of
// Mill Field's and all of Long Acre's last are beyond, whichever field is asked for.
TEST(SettleQuestion, AContractByMassIsUsedUpByAllLoadsOfTheSeason) {
    auto s = season();
    s.terms.quota = worth::Quota{.contracted = CleanMass(100e3), .price_beyond = per_tonne(25.0)};
    EXPECT_EQ(must_settle(s).settled.total(), 100 * 4000 + 60 * 2500);
    const auto mill = must_settle(s, "Mill Field").settled;
    EXPECT_EQ(mill.loads.size(), 1U);
    EXPECT_EQ(mill.total(), 40 * 4000 + 20 * 2500);
    EXPECT_NEAR(mill.beyond_quota.si(), 20e3, 1e-6);
    const auto acre = must_settle(s, "Long Acre").settled;
    EXPECT_EQ(acre.total(), 60 * 4000 + 40 * 2500);
    EXPECT_NEAR(acre.within_quota.si(), 60e3, 1e-6);
}

// 20 ha grown, 15 contracted: a quarter of every load is beyond, of the fields not lifted yet too.
TEST(SettleQuestion, AContractByAreaCoversAllFieldsOfTheSeason) {
    auto s = season();
    s.terms.quota = worth::Quota{.contracted = CleanMass(),
                                 .price_beyond = per_tonne(25.0),
                                 .contracted_area = 15.0 * unit::ha};
    const auto all = must_settle(s);
    EXPECT_EQ(all.settled.total(), 120 * 4000 + 40 * 2500);
    EXPECT_TRUE(says(all, "25 % of every load is beyond it"));
    EXPECT_EQ(must_settle(s, "Mill Field").settled.total(), 45 * 4000 + 15 * 2500);
    s.terms.quota->contracted_area = 20.0 * unit::ha;
    EXPECT_EQ(must_settle(s).settled.total(), 160 * 4000);
    EXPECT_TRUE(must_settle(s).assumptions.empty());
}

TEST(SettleQuestion, AHaulThatIsNotKnownIsLeftOutAndSaid) {
    auto s = season();
    s.fields[0].haul = Length();
    EXPECT_TRUE(must_settle(s).assumptions.empty()) << "the terms do not look at it";
    s.terms.haul_allowance.fixed = per_tonne(1.0);
    s.terms.haul_allowance.bands = {{Length(0.0), Length(50e3), per_tonne(0.2) / Length(1e3)}};
    const auto answer = must_settle(s);
    // Mill Field: 60 t x (1 + 10 x 0.2); Long Acre's 100 t: nothing.
    EXPECT_EQ(answer.settled.total(worth::Part::haul_allowance), 60 * 300);
    EXPECT_TRUE(says(answer, "Long Acre: the way to the factory is not known"));
    EXPECT_TRUE(must_settle(s, "Mill Field").assumptions.empty());
    WorkerPool pool(1);
    LedgerQuestion question;
    question.field = "Long Acre";
    question.draws = 100;
    const auto ledger = ask(s, question, pool);
    ASSERT_TRUE(ledger.ok());
    EXPECT_NE(ledger->assumptions.back().find("way to the factory is not known"),
              std::string::npos);
}

TEST(SettleQuestion, TermsThatDoNotPayYetAreSaid) {
    auto s = season();
    s.terms = {};
    const auto refused = ask_settle(s, "");
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("does not know yet what is paid"),
              std::string::npos);
}

TEST(SettleQuestion, ACorrectedLoadIsPaidOnce) {
    auto s = season();
    auto corrected = load("M1 corrected", "Mill Field", 2, 50.0);
    corrected.supersedes = s.loads[0].id;
    s.loads.push_back(corrected);
    EXPECT_EQ(must_settle(s).settled.total(), 150 * 4000);
}

}  // namespace
}  // namespace beetwright::engine
