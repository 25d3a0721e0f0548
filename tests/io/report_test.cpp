#include <gtest/gtest.h>

#include <stack>
#include <string>

#include "demo_season/invent.hpp"
#include "engine/report_question.hpp"
#include "io/ledger_json.hpp"
#include "io/people_units.hpp"
#include "io/report_html.hpp"
#include "io/report_text.hpp"
#include "io/terms_json.hpp"

namespace beetwright::io {
namespace {

TEST(FigureText, HasAProperMinusAndNoMinusZero) {
    EXPECT_EQ(figure_text(-310.4, 0), "\u2212310");
    EXPECT_EQ(figure_text(-0.0001, 2), "0.00");
    EXPECT_EQ(figure_text(1234567.0, 0), "1\u202f234\u202f567");
    EXPECT_EQ(figure_text(1234.5, 1), "1234.5");
    EXPECT_EQ(figure_text(std::nan(""), 1), "\u2013");
}

TEST(FigureText, ShowsNoMoreDigitsThanTheIntervalBears) {
    EXPECT_EQ(value_text({-310.4, -520.2, -160.9, "kg/ha"}), "\u2212310");
    EXPECT_EQ(interval_text({-310.4, -520.2, -160.9, "kg/ha"}), "\u2212520 to \u2212161");
    EXPECT_EQ(value_text({1.9512, 1.85, 2.05, "t/ha"}), "1.95");
    EXPECT_EQ(value_text({45.41, 37.2, 55.2, "kg/ha"}), "45");
    EXPECT_EQ(interval_text({5.0, 5.0, 5.0, "t/ha"}), "");
}

TEST(PeopleUnits, ShowEitherSystem) {
    const PeopleUnits metric(UnitSystem::metric, "EUR");
    const PeopleUnits us(UnitSystem::us, "USD");
    const CleanMassPerArea ten = 10.0 * unit::t_clean_per_ha;
    const Estimate<CleanMassPerArea> beet{ten, ten, ten};
    EXPECT_NEAR(metric.read(beet).value, 10.0, 1e-12);
    // 1 short ton/acre is 2.2417 t/ha (harvest.md [D]).
    EXPECT_NEAR(us.read(beet).value, 10.0 / 2.2417, 1e-4);
    EXPECT_EQ(us.money_unit(), "USD/acre");
    EXPECT_EQ(metric.area(12.34 * unit::ha), "12.3 ha");
    EXPECT_EQ(us.area(10.0 * unit::acre), "10.0 acre");
    EXPECT_EQ(us.temperature(Temperature::celsius(10.0)), "50 °F");
    EXPECT_EQ(metric.length(4.0 * unit::cm), "4.0 cm");
    EXPECT_EQ(us.length(2.0 * unit::inch), "2.0 in");
}

engine::ReportAnswer report_of(const ledger::Season& season) {
    WorkerPool pool(2);
    auto report = engine::ask_report(season, {}, pool);
    EXPECT_TRUE(report.ok());
    return std::move(*report);
}

ledger::Season demo_season() {
    return demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
}

/// Every opened element is closed, in order. Void elements of HTML stand alone.
void expect_well_formed(const std::string& html) {
    std::stack<std::string> open;
    std::size_t at = 0;
    while ((at = html.find('<', at)) != std::string::npos) {
        const std::size_t end = html.find('>', at);
        ASSERT_NE(end, std::string::npos);
        std::string tag = html.substr(at + 1, end - at - 1);
        at = end + 1;
        if (tag[0] == '!') {
            continue;
        }
        const bool closes = tag[0] == '/';
        const bool alone = tag.back() == '/';
        const std::string name =
            tag.substr(closes ? 1 : 0, tag.find_first_of(" /", 1) - (closes ? 1 : 0));
        if (alone || name == "meta" || name == "br") {
            continue;
        }
        if (closes) {
            ASSERT_FALSE(open.empty()) << "closes what is not open: " << tag;
            ASSERT_EQ(open.top(), name);
            open.pop();
        } else {
            open.push(name);
            if (name == "style") {
                at = html.find("</style>", at);
            }
        }
    }
    EXPECT_TRUE(open.empty());
}

TEST(ReportPage, IsWellFormedAndSelfContained) {
    const auto report = report_of(demo_season());
    for (const UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
        const auto html = report_html(report, PeopleUnits(system, "EUR"));
        expect_well_formed(html);
        for (const char* outside : {"<script", "<link", "<img", "src=", "url(", "@import"}) {
            EXPECT_EQ(html.find(outside), std::string::npos) << outside;
        }
    }
}

TEST(ReportPage, EscapesNames) {
    auto season = demo_season();
    const std::string nasty = R"(<script>alert("x")</script> & 'Co')";
    for (auto& load : season.loads) {
        if (load.field == season.fields[0].name) {
            load.field = nasty;
        }
    }
    for (auto& sheet : season.beet_sheets) {
        if (sheet.field == season.fields[0].name) {
            sheet.field = nasty;
        }
    }
    season.fields[0].name = nasty;
    season.name = "A < B";
    const auto html = report_html(report_of(season), PeopleUnits(UnitSystem::metric, "EUR"));
    EXPECT_EQ(html.find("<script"), std::string::npos);
    EXPECT_NE(html.find("&lt;script&gt;"), std::string::npos);
    EXPECT_NE(html.find("A &lt; B"), std::string::npos);
    expect_well_formed(html);
}

TEST(LedgerText, FitsATerminalAndShowsTheClosure) {
    const auto report = report_of(demo_season());
    const PeopleUnits units(UnitSystem::metric, "EUR");
    const auto text = ledger_text(report.ledger.season, units);
    EXPECT_NE(text.find("tails broken and left"), std::string::npos);
    const auto left = text.find("left over");
    ASSERT_NE(left, std::string::npos);
    const auto line = text.substr(left, text.find('\n', left) - left);
    EXPECT_EQ(line.find_first_of("123456789"), std::string::npos) << line;
    std::size_t start = 0;
    for (std::size_t end = 0; (end = text.find('\n', start)) != std::string::npos;
         start = end + 1) {
        EXPECT_LE(width_of(text.substr(start, end - start)), 118U)
            << text.substr(start, end - start);
    }
}

// A machine, operator, day or grower with a single field has no day of its own, and a field that
// was not lifted has none yet: neither is 1970.
TEST(LedgerText, SaysNoDayThatNobodyGave) {
    auto season = demo_season();
    season.fields.resize(2);
    season.fields[0].lifted.reset();
    season.fields[0].machine = "Only one field";
    season.loads.clear();
    const auto report = report_of(season);
    const PeopleUnits units(UnitSystem::metric, season.currency);
    const auto& fields = report.ledger.fields;
    EXPECT_NE(ledger_text(fields[0], units).find("not lifted yet; reckoned as lifted 2031-"),
              std::string::npos);
    EXPECT_NE(ledger_text(fields[1], units).find(", lifted 2031-"), std::string::npos);
    std::string all = report_html(report, units) + ledger_json(report.ledger, season.currency);
    EXPECT_NE(all.find("not lifted yet; reckoned as lifted 2031-"), std::string::npos);
    EXPECT_NE(all.find("\"lifted\": null"), std::string::npos);
    for (const auto& group : report.ledger.groups) {
        for (const auto& account : group.accounts) {
            all += ledger_text(account, units);
        }
    }
    EXPECT_NE(all.find(", 1 field, "), std::string::npos);
    EXPECT_NE(all.find("not lifted yet, "), std::string::npos) << "the ledger by day";
    EXPECT_EQ(all.find("1970-"), std::string::npos);
}

TEST(LedgerText, SaysWhatIsLeftOverWhereALedgerDoesNotClose) {
    auto account = report_of(demo_season()).ledger.season;
    const PeopleUnits metric(UnitSystem::metric, "EUR");
    EXPECT_EQ(left_over_of(account, metric).beet, "0");
    account.mass_left_over = 0.3 * unit::t_clean_per_ha;
    account.sugar_left_over = 0.02 * unit::kg_sugar_per_ha;
    account.money_left_over = 7.0 * unit::money_per_ha;
    const auto left_over = left_over_of(account, metric);
    EXPECT_EQ(left_over.beet, "0.3");
    EXPECT_EQ(left_over.sugar, "0.02");
    EXPECT_EQ(left_over.money, "7");
    // 0.3 t/ha x 1.10231 short ton/t / 2.47105 acre/ha.
    EXPECT_EQ(left_over_of(account, PeopleUnits(UnitSystem::us, "USD")).beet, "0.13");
    EXPECT_NE(ledger_text(account, metric).find("left over"), std::string::npos);
    EXPECT_NE(ledger_text(account, metric).find(" 0.3"), std::string::npos);
}

TEST(TermsJson, GivesBackTheTermsThatWereWritten) {
    const auto terms = demo_season().terms;
    const auto text = write_terms(terms);
    const auto back = read_terms(text, "terms.json");
    ASSERT_TRUE(back.ok()) << back.problems()[0].text();
    EXPECT_EQ(write_terms(*back), text);
    EXPECT_EQ(back->supplements.size(), terms.supplements.size());
}

TEST(TermsJson, NamesEveryMistake) {
    const auto bad = read_terms(R"({"beetwright_terms": 1, "name": "x", "currency": "EUR",
        "base_price": 30, "reference_pol": "16 kg", "slyde": [], "molasses_formula": "mine",
        "supplements": [{"from": "2031-13-01", "to": "2031-10-01", "at_from": "3 EUR/t"}]})",
                                "terms.json");
    ASSERT_FALSE(bad.ok());
    const auto has = [&](const char* field, const char* words) {
        for (const auto& problem : bad.problems()) {
            if (problem.where.field == field && problem.where.file == "terms.json" &&
                problem.text().find(words) != std::string::npos && !problem.fix.empty()) {
                return true;
            }
        }
        return false;
    };
    EXPECT_TRUE(has("base_price", "no unit"));
    EXPECT_TRUE(has("reference_pol", "'kg' is not a unit"));
    EXPECT_TRUE(has("slyde", "not known"));
    EXPECT_TRUE(has("molasses_formula", "'mine'"));
    EXPECT_TRUE(has("supplements[0].from", "2031-13-01"));
}

TEST(TermsJson, SaysOnWhichLineItIsNotJson) {
    const auto bad = read_terms("{\n  \"name\": \"x\",\n  oops\n}", "terms.json");
    ASSERT_FALSE(bad.ok());
    EXPECT_EQ(bad.problems()[0].where.line, 3);
}

}  // namespace
}  // namespace beetwright::io
