#include "io/terms_json.hpp"

#include "io/json.hpp"
#include "io/json_object.hpp"

namespace beetwright::io {
namespace {

using worth::Terms;

constexpr const char* kFormatPage = "docs/formats/terms.md";

void read_formula(JsonObject& reader, Terms& terms) {
    std::string key(worth::molasses_formulas().front().key);
    reader.text("molasses_formula", key);
    std::string known;
    for (const auto& row : worth::molasses_formulas()) {
        if (row.key == key) {
            terms.molasses_formula = row.formula;
            return;
        }
        known += (known.empty() ? "" : ", ") + std::string(row.key);
    }
    reader.fail("molasses_formula", "'" + key + "' is not a formula we know", "one of: " + known);
}

void read_price(JsonObject& reader, Terms& terms) {
    reader.amount("reference_pol", terms.reference_pol);
    if (reader.has("base_price") && !reader.is_null("base_price")) {
        reader.amount("base_price", terms.base_price);
    }
    reader.each("slide", [&](JsonObject& step) {
        worth::SlideStep one;
        step.expect({"from", "to", "percent_per_point"});
        step.amount("from", one.from);
        step.amount("to", one.to);
        // 1 % of the price per 0.01 of content is 1 per unit of content.
        step.number("percent_per_point", one.change_per_content);
        terms.slide.push_back(one);
    });
    worth::RecoverablePayment payment;
    const bool by_sugar = reader.object("recoverable", [&](JsonObject& inner) {
        inner.expect({"price"});
        inner.amount("price", payment.price);
        inner.amount("charge", payment.charge);
        inner.amount("fixed_loss", payment.fixed_loss);
    });
    if (by_sugar) {
        terms.recoverable = payment;
    }
}

void read_quota(JsonObject& reader, Terms& terms) {
    worth::Quota quota;
    const bool is_limited = reader.object("quota", [&](JsonObject& inner) {
        inner.expect({"price_beyond"});
        inner.amount("contracted", quota.contracted);
        inner.amount("contracted_area", quota.contracted_area);
        inner.amount("price_beyond", quota.price_beyond);
    });
    if (is_limited) {
        terms.quota = quota;
    }
}

void read_dates(JsonObject& reader, Terms& terms) {
    reader.each("supplements", [&](JsonObject& row) {
        worth::DatedSupplement one;
        row.expect({"from", "to", "at_from"});
        row.day("from", one.from);
        row.day("to", one.to);
        row.amount("at_from", one.at_from);
        row.amount("per_day", one.per_day);
        terms.supplements.push_back(one);
    });
    reader.each("premiums", [&](JsonObject& row) {
        worth::DatedPremium one;
        row.expect({"from", "to", "share"});
        row.day("from", one.from);
        row.day("to", one.to);
        row.share("share", one.share);
        terms.premiums.push_back(one);
    });
}

template <class Tariff>
void read_tariff(JsonObject& reader, Tariff& tariff) {
    reader.amount("fixed", tariff.fixed);
    reader.number("factor", tariff.factor);
    reader.each("bands", [&](JsonObject& row) {
        typename Tariff::Band one;
        row.expect({"from", "to", "rate"});
        row.amount("from", one.from);
        row.amount("to", one.to);
        row.amount("rate", one.rate);
        tariff.bands.push_back(one);
    });
}

void read_haul(JsonObject& reader, Terms& terms) {
    reader.object("haul_allowance", [&](JsonObject& inner) {
        std::string basis = "clean";
        inner.text("basis", basis);
        if (basis == "with soil") {
            read_tariff(inner, terms.haul_allowance_with_soil);
            return;
        }
        if (basis != "clean") {
            inner.fail("basis", "'" + basis + "' is not a basis of beet mass",
                       "\"clean\" or \"with soil\"");
        }
        read_tariff(inner, terms.haul_allowance);
    });
    reader.object("haul_cost", [&](JsonObject& inner) {
        inner.amount("fixed", terms.haul_cost.fixed);
        inner.amount("per_length", terms.haul_cost.per_length);
    });
}

void read_tare(JsonObject& reader, Terms& terms) {
    if (reader.has("fixed_crown_tare")) {
        terms.tare_rule = worth::TareRule::fixed;
        reader.share("fixed_crown_tare", terms.fixed_crown_tare);
    }
    reader.amount("soil_charge", terms.soil_charge);
    reader.amount("tops_charge", terms.tops_charge);
}

Terms read_object(const Json& object, JsonContext& context) {
    Terms terms;
    JsonObject reader(object, "", context);
    reader.expect({"beetwright_terms", "currency"});
    double version = kTermsVersion;
    reader.number("beetwright_terms", version);
    if (version != kTermsVersion) {
        reader.fail("beetwright_terms", "this is not a version of terms we know",
                    "write \"beetwright_terms\": 1");
    }
    reader.text("name", terms.name);
    // Read before any amount: it is the word that amounts of money are written with.
    reader.text("currency", terms.currency);
    context.currency = terms.currency;
    read_price(reader, terms);
    read_quota(reader, terms);
    read_formula(reader, terms);
    read_dates(reader, terms);
    read_tare(reader, terms);
    read_haul(reader, terms);
    return terms;
}

/// Contradictions in terms whose every value was read. A base price of null says that nobody knows
/// yet what is paid; everything else in such terms must still hold together.
Problems contradictions(Terms terms, bool price_not_known, const std::string& file) {
    if (price_not_known && !terms.pay()) {
        terms.base_price = MoneyPerCleanMass(1.0);
    }
    const auto checked = worth::check(terms);
    if (checked) {
        return {};
    }
    Problems problems = checked.problems();
    for (auto& problem : problems) {
        problem.where.file = file;
    }
    return problems;
}

}  // namespace

Result<Terms> read_terms(std::string_view json, const std::string& file) {
    const auto object = parse_json(json, file);
    if (!object) {
        return object.problems();
    }
    JsonContext context{.file = file, .currency = "", .problems = {}, .format_page = kFormatPage};
    Terms terms = read_object(*object, context);
    if (context.problems.empty()) {
        const auto* price = object->find("base_price");
        const bool price_not_known = price != nullptr && price->is_null();
        context.problems = contradictions(terms, price_not_known, file);
    }
    if (!context.problems.empty()) {
        return std::move(context.problems);
    }
    return terms;
}

}  // namespace beetwright::io
