#include "io/terms_json.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "base/unit.hpp"

namespace beetwright::io {
namespace {

using Json = nlohmann::ordered_json;
using worth::Terms;

std::string unit_list(UnitKind kind, const std::string& currency) {
    std::string list;
    for (const Unit& unit : all_units()) {
        if (unit.kind == kind) {
            std::string symbol(unit.symbol);
            if (symbol.starts_with("money")) {
                symbol.replace(0, 5, currency);
            }
            list += (list.empty() ? "" : ", ") + symbol;
        }
    }
    return list;
}

/// The kind of unit that a quantity of this type is written in.
template <class Q>
constexpr UnitKind kind_of() {
    if constexpr (std::is_same_v<Q, SugarContent>) {
        return UnitKind::fraction;
    } else if constexpr (std::is_same_v<Q, Length>) {
        return UnitKind::length;
    } else if constexpr (std::is_same_v<Q, CleanMass>) {
        return UnitKind::mass;
    } else if constexpr (Q::dimension.length == -1) {
        return UnitKind::money_per_mass_length;
    } else {
        return UnitKind::money_per_mass;
    }
}

/// The unit in which a quantity of this type is written back.
constexpr std::string_view written_unit(UnitKind kind) {
    switch (kind) {
        case UnitKind::fraction: return "%";
        case UnitKind::length: return "km";
        case UnitKind::mass: return "t";
        case UnitKind::money_per_mass_length: return "money/t/km";
        default: return "money/t";
    }
}

/// Reads one JSON object: takes keys off it one by one; what is left over is not known.
class Reader {
 public:
    Reader(const Json& object, std::string path, const std::string& file,
           const std::string& currency, Problems& problems)
        : object_(object),
          path_(std::move(path)),
          file_(file),
          currency_(currency),
          problems_(problems) {
        if (!object_.is_object()) {
            fail("", "this is not an object", "write { ... } here");
        }
    }
    ~Reader() {
        for (const auto& [key, value] : object_.items()) {
            if (object_.is_object() && !taken_.contains(key)) {
                fail(key, "this key is not known", "docs/formats/terms.md lists them");
            }
        }
    }
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;

    const Json* take(const std::string& key) {
        taken_.insert(key);
        if (!object_.is_object()) {
            return nullptr;
        }
        const auto found = object_.find(key);
        return found == object_.end() ? nullptr : &*found;
    }

    void text(const std::string& key, std::string& into) {
        if (const Json* value = take(key)) {
            if (value->is_string()) {
                into = value->get<std::string>();
            } else {
                fail(key, "this is not text", "write it in quotes");
            }
        }
    }

    void day(const std::string& key, Day& into) {
        std::string written;
        text(key, written);
        if (const auto day = parse_day(written)) {
            into = *day;
        } else {
            fail(key, "'" + written + "' is not a day", "write year-month-day, such as 2031-10-04");
        }
    }

    /// A number followed by its unit.
    template <class Q>
    void amount(const std::string& key, Q& into) {
        if (const Json* value = take(key)) {
            if (const auto si = amount_si(key, *value, kind_of<Q>())) {
                into = Q(*si);
            }
        }
    }

    /// A share written in per cent.
    void share(const std::string& key, double& into) {
        if (const Json* value = take(key)) {
            if (const auto si = amount_si(key, *value, UnitKind::fraction)) {
                into = *si;
            }
        }
    }

    void number(const std::string& key, double& into) {
        if (const Json* value = take(key)) {
            if (value->is_number() && std::isfinite(value->get<double>())) {
                into = value->get<double>();
            } else {
                fail(key, "this is not a number", "write it without quotes");
            }
        }
    }

    /// Reads each element of an array with `read(Reader&)`.
    template <class Read>
    void each(const std::string& key, Read&& read) {
        const Json* array = take(key);
        if (array == nullptr) {
            return;
        }
        if (!array->is_array()) {
            fail(key, "this is not a list", "write [ ... ] here");
            return;
        }
        for (std::size_t i = 0; i < array->size(); ++i) {
            Reader element((*array)[i], at(key) + "[" + std::to_string(i) + "]", file_, currency_,
                           problems_);
            read(element);
        }
    }

    /// Reads an object that may be left out.
    template <class Read>
    bool object(const std::string& key, Read&& read) {
        const Json* value = take(key);
        if (value == nullptr) {
            return false;
        }
        Reader inner(*value, at(key), file_, currency_, problems_);
        read(inner);
        return true;
    }

    void fail(const std::string& key, std::string what, std::string fix) {
        problems_.push_back({ProblemKind::input,
                             {.file = file_, .line = 0, .field = at(key)},
                             std::move(what),
                             std::move(fix)});
    }

 private:
    [[nodiscard]] std::string at(const std::string& key) const {
        return path_.empty() ? key : key.empty() ? path_ : path_ + "." + key;
    }

    std::optional<double> amount_si(const std::string& key, const Json& value, UnitKind kind) {
        const std::string fix = "write a number and one of: " + unit_list(kind, currency_);
        if (!value.is_string()) {
            fail(key, "this amount has no unit", fix);
            return std::nullopt;
        }
        const auto written = value.get<std::string>();
        double number = 0.0;
        const char* end = written.data() + written.size();
        const auto [stop, error] = std::from_chars(written.data(), end, number);
        if (error != std::errc{} || !std::isfinite(number) || stop == end || *stop != ' ') {
            fail(key, "'" + written + "' is not an amount", fix);
            return std::nullopt;
        }
        std::string symbol(stop + 1, end);
        if (!currency_.empty() && symbol.starts_with(currency_)) {
            symbol.replace(0, currency_.size(), "money");
        }
        const auto unit = find_unit(symbol);
        if (!unit || unit->kind != kind) {
            fail(key, "'" + std::string(stop + 1, end) + "' is not a unit that belongs here", fix);
            return std::nullopt;
        }
        return unit->to_si(number);
    }

    const Json& object_;
    std::string path_;
    const std::string& file_;
    const std::string& currency_;
    Problems& problems_;
    std::set<std::string> taken_;
};

void read_formula(Reader& reader, Terms& terms) {
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

void read_price(Reader& reader, Terms& terms) {
    reader.amount("reference_pol", terms.reference_pol);
    reader.amount("base_price", terms.base_price);
    reader.each("slide", [&](Reader& step) {
        worth::SlideStep one;
        step.amount("from", one.from);
        step.amount("to", one.to);
        double percent_per_point = 0.0;
        step.number("percent_per_point", percent_per_point);
        one.change_per_content =
            percent_per_point;  // 1 % of the price per 0.01 of content is 1 per unit
        terms.slide.push_back(one);
    });
    worth::RecoverablePayment payment;
    const bool by_sugar = reader.object("recoverable", [&](Reader& inner) {
        inner.amount("price", payment.price);
        inner.amount("charge", payment.charge);
        inner.amount("fixed_loss", payment.fixed_loss);
    });
    if (by_sugar) {
        terms.recoverable = payment;
    }
    worth::Quota quota;
    const bool has_quota = reader.object("quota", [&](Reader& inner) {
        inner.amount("contracted", quota.contracted);
        inner.amount("price_beyond", quota.price_beyond);
    });
    if (has_quota) {
        terms.quota = quota;
    }
}

void read_dates(Reader& reader, Terms& terms) {
    reader.each("supplements", [&](Reader& row) {
        worth::DatedSupplement one;
        row.day("from", one.from);
        row.day("to", one.to);
        row.amount("at_from", one.at_from);
        row.amount("per_day", one.per_day);
        terms.supplements.push_back(one);
    });
    reader.each("premiums", [&](Reader& row) {
        worth::DatedPremium one;
        row.day("from", one.from);
        row.day("to", one.to);
        row.share("share", one.share);
        terms.premiums.push_back(one);
    });
}

void read_tare_and_haul(Reader& reader, Terms& terms) {
    if (reader.take("fixed_crown_tare") != nullptr) {
        terms.tare_rule = worth::TareRule::fixed;
        reader.share("fixed_crown_tare", terms.fixed_crown_tare);
    }
    reader.amount("soil_charge", terms.soil_charge);
    reader.amount("tops_charge", terms.tops_charge);
    reader.object("haul_allowance", [&](Reader& inner) {
        inner.amount("fixed", terms.haul_allowance.fixed);
        inner.number("factor", terms.haul_allowance.factor);
        inner.each("bands", [&](Reader& row) {
            worth::HaulBand one;
            row.amount("from", one.from);
            row.amount("to", one.to);
            row.amount("rate", one.rate);
            terms.haul_allowance.bands.push_back(one);
        });
    });
    reader.object("haul_cost", [&](Reader& inner) {
        inner.amount("fixed", terms.haul_cost.fixed);
        inner.amount("per_length", terms.haul_cost.per_length);
    });
}

/// Which line of the text a byte offset is on.
int line_of(std::string_view text, std::size_t offset) {
    int line = 1;
    for (const char c : text.substr(0, std::min(offset, text.size()))) {
        line += c == '\n' ? 1 : 0;
    }
    return line;
}

/// The shortest decimals that read back as the same amount in this unit, but for the last bit or
/// two that converting units costs.
std::string amount_text(double si, std::string_view symbol, const std::string& currency) {
    const Unit unit = *find_unit(symbol);
    const double number = unit.from_si(si);
    std::string text;
    for (int digits = 6; digits <= 17; ++digits) {
        text = fmt::format("{:.{}g}", number, digits);
        double back = 0.0;
        std::from_chars(text.data(), text.data() + text.size(), back);
        if (std::abs(unit.to_si(back) - si) <= 1e-15 * std::abs(si)) {
            break;
        }
    }
    std::string shown(symbol);
    if (shown.starts_with("money")) {
        shown.replace(0, 5, currency);
    }
    return text + " " + shown;
}

class Writer {
 public:
    explicit Writer(std::string currency) : currency_(std::move(currency)) {}
    template <class Q>
    [[nodiscard]] std::string amount(Q quantity) const {
        return amount_text(quantity.si(), written_unit(kind_of<Q>()), currency_);
    }
    [[nodiscard]] std::string share(double value) const {
        return amount_text(value, "%", currency_);
    }

 private:
    std::string currency_;
};

std::string_view formula_key(worth::MolassesFormula formula) {
    for (const auto& row : worth::molasses_formulas()) {
        if (row.formula == formula) {
            return row.key;
        }
    }
    return "";
}

Json haul_json(const Terms& terms, const Writer& write) {
    Json bands = Json::array();
    for (const auto& band : terms.haul_allowance.bands) {
        bands.push_back({{"from", write.amount(band.from)},
                         {"to", write.amount(band.to)},
                         {"rate", write.amount(band.rate)}});
    }
    return {{"fixed", write.amount(terms.haul_allowance.fixed)},
            {"factor", terms.haul_allowance.factor},
            {"bands", bands}};
}

Json dated_json(const Terms& terms, const Writer& write) {
    Json dated = {{"supplements", Json::array()}, {"premiums", Json::array()}};
    for (const auto& row : terms.supplements) {
        dated["supplements"].push_back({{"from", to_text(row.from)},
                                        {"to", to_text(row.to)},
                                        {"at_from", write.amount(row.at_from)},
                                        {"per_day", write.amount(row.per_day)}});
    }
    for (const auto& row : terms.premiums) {
        dated["premiums"].push_back({{"from", to_text(row.from)},
                                     {"to", to_text(row.to)},
                                     {"share", write.share(row.share)}});
    }
    return dated;
}

}  // namespace

Result<Terms> read_terms(std::string_view json, const std::string& file) {
    Json object;
    // The library reports where it stopped only by exception; it goes no further than this
    // function.
    const auto not_json = [&](int line) {
        return Problem{
            ProblemKind::input,
            {.file = file, .line = line, .field = ""},
            "this is not JSON",
            "look for a missing quote, comma or bracket, or a number too large, just before here"};
    };
    try {
        object = Json::parse(json);
    } catch (const nlohmann::json::parse_error& error) {
        return not_json(line_of(json, error.byte));
    } catch (const nlohmann::json::exception&) {
        return not_json(0);
    }
    Problems problems;
    Terms terms;
    const std::string none;
    {
        if (object.is_object() && object.contains("currency") && object["currency"].is_string()) {
            terms.currency = object["currency"].get<std::string>();
        }
        Reader reader(object, "", file, terms.currency, problems);
        double version = 0.0;
        reader.number("beetwright_terms", version);
        if (version != kTermsVersion) {
            reader.fail("beetwright_terms", "this is not a version of terms we know",
                        "write \"beetwright_terms\": 1");
        }
        reader.text("name", terms.name);
        reader.text("currency", terms.currency);
        read_price(reader, terms);
        read_formula(reader, terms);
        read_dates(reader, terms);
        read_tare_and_haul(reader, terms);
    }
    if (problems.empty()) {
        if (auto checked = worth::check(terms); !checked) {
            problems = checked.problems();
            for (auto& problem : problems) {
                problem.where.file = file;
            }
        }
    }
    if (!problems.empty()) {
        return problems;
    }
    return terms;
}

std::string write_terms(const Terms& terms) {
    const Writer write(terms.currency);
    Json object = {{"beetwright_terms", kTermsVersion},
                   {"name", terms.name},
                   {"currency", terms.currency},
                   {"reference_pol", write.amount(terms.reference_pol)},
                   {"base_price", write.amount(terms.base_price)},
                   {"molasses_formula", formula_key(terms.molasses_formula)}};
    object["slide"] = Json::array();
    for (const auto& step : terms.slide) {
        object["slide"].push_back({{"from", write.amount(step.from)},
                                   {"to", write.amount(step.to)},
                                   {"percent_per_point", step.change_per_content}});
    }
    if (terms.recoverable) {
        object["recoverable"] = {{"price", write.amount(terms.recoverable->price)},
                                 {"charge", write.amount(terms.recoverable->charge)},
                                 {"fixed_loss", write.amount(terms.recoverable->fixed_loss)}};
    }
    if (terms.quota) {
        object["quota"] = {{"contracted", write.amount(terms.quota->contracted)},
                           {"price_beyond", write.amount(terms.quota->price_beyond)}};
    }
    object.update(dated_json(terms, write));
    if (terms.tare_rule == worth::TareRule::fixed) {
        object["fixed_crown_tare"] = write.share(terms.fixed_crown_tare);
    }
    object["soil_charge"] = write.amount(terms.soil_charge);
    object["tops_charge"] = write.amount(terms.tops_charge);
    object["haul_allowance"] = haul_json(terms, write);
    object["haul_cost"] = {{"fixed", write.amount(terms.haul_cost.fixed)},
                           {"per_length", write.amount(terms.haul_cost.per_length)}};
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace beetwright::io
