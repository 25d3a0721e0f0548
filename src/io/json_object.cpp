#include "io/json_object.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/number_text.hpp"
#include "io/decimal.hpp"
#include "io/json.hpp"

namespace beetwright::io {
namespace {

/// "money/t" as the currency's people write it. Without a currency it stays "money/t".
std::string shown_symbol(std::string_view symbol, const std::string& currency) {
    std::string shown(symbol);
    if (!currency.empty() && shown.starts_with("money")) {
        shown.replace(0, 5, currency);
    }
    return shown;
}

std::string unit_list(UnitKind kind, const std::string& currency) {
    std::string list;
    for (const Unit& unit : all_units()) {
        if (unit.kind == kind) {
            list += (list.empty() ? "" : ", ") + shown_symbol(unit.symbol, currency);
        }
    }
    return list;
}

/// Decimals that read back as `si`. Few digits that come within the noise of converting units are
/// what somebody meant: 0.1, not 0.10000000000000002. More digits must be exact.
std::string decimals(double si, const Unit& unit) {
    constexpr int few = 12;
    constexpr int all = 17;
    constexpr double noise = 1e-15;
    const auto read = [&](const std::string& text) {
        const auto number = leading_decimal(text);
        return number ? unit.to_si(number->value) : 0.0;
    };
    const double number = unit.from_si(si);
    for (int digits = 6; digits <= all; ++digits) {
        auto text = general_text(number, digits);
        const double off = std::abs(read(text) - si);
        if (off == 0.0 || (digits <= few && off <= noise * std::abs(si))) {
            return text;
        }
    }
    // Dividing by the unit and multiplying again can miss by a bit: one of the neighbours hits.
    double below = number;
    double above = number;
    for (int step = 0; step < 4; ++step) {
        below = std::nextafter(below, -HUGE_VAL);
        above = std::nextafter(above, HUGE_VAL);
        for (const double neighbour : {below, above}) {
            auto text = general_text(neighbour, all);
            if (read(text) == si) {
                return text;
            }
        }
    }
    return general_text(number, all);
}

}  // namespace

JsonObject::JsonObject(const Json& object, std::string path, JsonContext& context)
    : object_(object), path_(std::move(path)), context_(context) {
    if (!object_.is_object()) {
        fail("", "this is not an object", "write { ... } here");
    }
}

// Out of memory, which is all that may be thrown here, ends the program.
// NOLINTNEXTLINE(bugprone-exception-escape)
JsonObject::~JsonObject() {
    if (!object_.is_object()) {
        return;
    }
    for (const auto& member : object_.members()) {
        if (!taken_.contains(member.name)) {
            fail(member.name, "this key is not known", context_.format_page + " lists them");
        }
    }
}

const Json* JsonObject::take(const std::string& key) {
    taken_.insert(key);
    return object_.find(key);
}

void JsonObject::expect(std::initializer_list<const char*> keys) {
    if (!object_.is_object()) {
        return;
    }
    for (const char* key : keys) {
        if (object_.find(key) == nullptr) {
            fail(key, "this key is missing", context_.format_page + " says what belongs here");
        }
    }
}

bool JsonObject::has(const std::string& key) {
    return take(key) != nullptr;
}

bool JsonObject::is_null(const std::string& key) {
    const Json* value = object_.find(key);
    return value != nullptr && value->is_null();
}

void JsonObject::text(const std::string& key, std::string& into) {
    if (const Json* value = take(key)) {
        if (const auto* text = value->text()) {
            into = *text;
        } else {
            fail(key, "this is not text", "write it in quotes");
        }
    }
}

void JsonObject::day(const std::string& key, Day& into) {
    const Json* value = take(key);
    if (value == nullptr) {
        return;
    }
    const auto* text = value->text();
    const std::string written = text != nullptr ? *text : value->line();
    const auto day = text != nullptr ? parse_day(written) : std::nullopt;
    if (day) {
        into = *day;
    } else {
        fail(key, "'" + written + "' is not a day", "write year-month-day, such as 2031-10-04");
    }
}

void JsonObject::number(const std::string& key, double& into) {
    if (const Json* value = take(key)) {
        if (const auto number = value->number()) {
            into = *number;
        } else {
            fail(key, "this is not a number", "write it without quotes");
        }
    }
}

void JsonObject::yes_or_no(const std::string& key, bool& into) {
    if (const Json* value = take(key)) {
        if (const auto truth = value->truth()) {
            into = *truth;
        } else {
            fail(key, "this is neither yes nor no", "write true or false, without quotes");
        }
    }
}

void JsonObject::share(const std::string& key, double& into) {
    if (const auto si = amount_si(key, UnitKind::fraction)) {
        into = *si;
    }
}

std::size_t JsonObject::list_size(const std::string& key) {
    const Json* list = take(key);
    if (list == nullptr) {
        return 0;
    }
    if (!list->is_array()) {
        fail(key, "this is not a list", "write [ ... ] here");
        return 0;
    }
    return list->items().size();
}

const Json& JsonObject::element_of(const std::string& key, std::size_t i) {
    return object_.find(key)->items()[i];
}

std::optional<double> JsonObject::amount_si(const std::string& key, UnitKind kind) {
    const Json* value = take(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    const std::string fix = "write a number with a decimal point, a space and one of: " +
                            unit_list(kind, context_.currency);
    const auto* text = value->text();
    if (text == nullptr) {
        fail(key, "this amount has no unit", fix);
        return std::nullopt;
    }
    const auto& written = *text;
    const auto number = leading_decimal(written);
    if (!number || number->length == written.size() || written[number->length] != ' ') {
        fail(key, "'" + written + "' is not an amount", fix);
        return std::nullopt;
    }
    std::string symbol = written.substr(number->length + 1);
    if (!context_.currency.empty() && symbol.starts_with(context_.currency)) {
        symbol.replace(0, context_.currency.size(), "money");
    }
    const auto unit = find_unit(symbol);
    if (!unit || unit->kind != kind) {
        fail(key, "'" + written.substr(number->length + 1) + "' is not a unit that belongs here",
             fix);
        return std::nullopt;
    }
    return unit->to_si(number->value);
}

void JsonObject::fail(const std::string& key, std::string what, std::string fix) {
    context_.problems.push_back({ProblemKind::input,
                                 {.file = context_.file, .line = 0, .field = at(key)},
                                 std::move(what),
                                 std::move(fix)});
}

std::string JsonObject::at(const std::string& key) const {
    if (path_.empty() || key.empty()) {
        return path_ + key;
    }
    return path_ + "." + key;
}

std::string amount_text(double si, std::string_view symbol, const std::string& currency) {
    const Unit unit = *find_unit(symbol);
    return decimals(si, unit) + " " + shown_symbol(symbol, currency);
}

}  // namespace beetwright::io
