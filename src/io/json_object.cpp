#include "io/json_object.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <vector>

#include "io/decimal.hpp"

namespace beetwright::io {
namespace {

using Json = nlohmann::ordered_json;

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

/// Which line of the text a byte offset is on.
int line_of(std::string_view text, std::size_t offset) {
    const auto before = text.substr(0, std::min(offset, text.size()));
    return 1 + static_cast<int>(std::ranges::count(before, '\n'));
}

/// Follows the parser and notes keys that stand twice: the library would keep the last in silence.
class KeyWatch {
 public:
    bool operator()(int /*depth*/, Json::parse_event_t event, Json& parsed) {
        using Event = Json::parse_event_t;
        switch (event) {
            case Event::object_start: open_.emplace_back(); break;
            case Event::key: key(parsed.get<std::string>()); break;
            case Event::object_end: open_.pop_back(); break;
            case Event::array_start:
            case Event::array_end:
            case Event::value: break;
        }
        return true;
    }
    [[nodiscard]] const std::vector<std::string>& twice() const { return twice_; }

 private:
    void key(std::string name) {
        if (!open_.back().insert(name).second) {
            twice_.push_back(std::move(name));
        }
    }
    std::vector<std::set<std::string>> open_;
    std::vector<std::string> twice_;
};

// Nothing that people write comes near these. Without them a few MB of brackets would be hundreds
// once parsed, and many keys in one object take time by the square of their number.
constexpr int kDeepest = 32;
constexpr int kMostValues = 10'000;

/// Where a text has more brackets one in another, or more values, than is looked at; its end if
/// nowhere. Faults are the parser's to find.
std::size_t where_too_much(std::string_view text) {
    int depth = 0;
    int values = 0;
    bool is_quoted = false;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (is_quoted) {
            at += c == '\\' ? 1 : 0;
            is_quoted = c != '"';
            continue;
        }
        is_quoted = c == '"';
        depth += c == '{' || c == '[' ? 1 : 0;
        depth -= c == '}' || c == ']' ? 1 : 0;
        values += c == ',' || c == '{' || c == '[' ? 1 : 0;
        if (depth > kDeepest || values > kMostValues) {
            return at;
        }
    }
    return text.size();
}

/// Passes over everything that is in order, and notes where the text stops being JSON.
class FaultFinder : public nlohmann::json_sax<Json> {
 public:
    bool null() override { return true; }
    bool boolean(bool /*value*/) override { return true; }
    bool number_integer(number_integer_t /*value*/) override { return true; }
    bool number_unsigned(number_unsigned_t /*value*/) override { return true; }
    bool number_float(number_float_t /*value*/, const string_t& /*text*/) override { return true; }
    bool string(string_t& /*value*/) override { return true; }
    bool binary(binary_t& /*value*/) override { return true; }
    bool start_object(std::size_t /*elements*/) override { return true; }
    bool end_object() override { return true; }
    bool start_array(std::size_t /*elements*/) override { return true; }
    bool end_array() override { return true; }
    bool key(string_t& /*value*/) override { return true; }
    bool parse_error(std::size_t position, const std::string& /*last*/,
                     const nlohmann::detail::exception& /*error*/) override {
        offset_ = position;
        return false;
    }
    [[nodiscard]] std::size_t offset() const { return offset_; }

 private:
    std::size_t offset_ = 0;
};

/// Decimals that read back as `si`. Few digits that come within the noise of converting units are
/// what somebody meant: 0.1, not 0.10000000000000002. More digits must be exact.
std::string decimals(double si, const Unit& unit) {
    constexpr int few = 12;
    constexpr int all = 17;
    constexpr double noise = 1e-15;
    const auto text_of = [](double number, int digits) {
        return fmt::format("{:.{}g}", number, digits);
    };
    const auto read = [&](const std::string& text) {
        const auto number = leading_decimal(text);
        return number ? unit.to_si(number->value) : 0.0;
    };
    const double number = unit.from_si(si);
    for (int digits = 6; digits <= all; ++digits) {
        auto text = text_of(number, digits);
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
            auto text = text_of(neighbour, all);
            if (read(text) == si) {
                return text;
            }
        }
    }
    return text_of(number, all);
}

}  // namespace

Result<nlohmann::ordered_json> parse_json(std::string_view text, const std::string& file) {
    const auto not_json = [&](int line) {
        return Problem{
            ProblemKind::input,
            {.file = file, .line = line, .field = ""},
            "this is not JSON",
            "look for a missing quote, comma or bracket, or a number too large, just before here"};
    };
    if (const auto at = where_too_much(text); at < text.size()) {
        return Problem{ProblemKind::limit,
                       {.file = file, .line = line_of(text, at), .field = ""},
                       fmt::format("this has more than {} brackets one in another, or more than {} "
                                   "values",
                                   kDeepest, kMostValues),
                       "look for brackets that are not closed, or send less at once"};
    }
    KeyWatch watch;
    Json parsed = Json::parse(text, std::ref(watch), /*allow_exceptions=*/false);
    if (parsed.is_discarded()) {
        FaultFinder finder;
        Json::sax_parse(text, &finder);
        return not_json(line_of(text, finder.offset()));
    }
    Problems problems;
    for (const auto& key : watch.twice()) {
        problems.push_back({ProblemKind::input,
                            {.file = file, .line = 0, .field = key},
                            "this key stands twice in one object",
                            "decide which one is right and leave out the other"});
    }
    if (!problems.empty()) {
        return problems;
    }
    return parsed;
}

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
    for (const auto& [key, value] : object_.items()) {
        if (!taken_.contains(key)) {
            fail(key, "this key is not known", context_.format_page + " lists them");
        }
    }
}

const Json* JsonObject::take(const std::string& key) {
    taken_.insert(key);
    if (!object_.is_object()) {
        return nullptr;
    }
    const auto found = object_.find(key);
    return found == object_.end() ? nullptr : &*found;
}

void JsonObject::expect(std::initializer_list<const char*> keys) {
    if (!object_.is_object()) {
        return;
    }
    for (const char* key : keys) {
        if (!object_.contains(key)) {
            fail(key, "this key is missing", context_.format_page + " says what belongs here");
        }
    }
}

bool JsonObject::has(const std::string& key) {
    return take(key) != nullptr;
}

bool JsonObject::is_null(const std::string& key) {
    return object_.is_object() && object_.contains(key) && object_.at(key).is_null();
}

void JsonObject::text(const std::string& key, std::string& into) {
    if (const Json* value = take(key)) {
        if (value->is_string()) {
            into = value->get<std::string>();
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
    const std::string written = value->is_string() ? value->get<std::string>() : value->dump();
    const auto day = value->is_string() ? parse_day(written) : std::nullopt;
    if (day) {
        into = *day;
    } else {
        fail(key, "'" + written + "' is not a day", "write year-month-day, such as 2031-10-04");
    }
}

void JsonObject::number(const std::string& key, double& into) {
    if (const Json* value = take(key)) {
        if (value->is_number() && std::isfinite(value->get<double>())) {
            into = value->get<double>();
        } else {
            fail(key, "this is not a number", "write it without quotes");
        }
    }
}

void JsonObject::yes_or_no(const std::string& key, bool& into) {
    if (const Json* value = take(key)) {
        if (value->is_boolean()) {
            into = value->get<bool>();
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
    return list->size();
}

const Json& JsonObject::element_of(const std::string& key, std::size_t i) {
    return object_.at(key).at(i);
}

std::optional<double> JsonObject::amount_si(const std::string& key, UnitKind kind) {
    const Json* value = take(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    const std::string fix = "write a number with a decimal point, a space and one of: " +
                            unit_list(kind, context_.currency);
    if (!value->is_string()) {
        fail(key, "this amount has no unit", fix);
        return std::nullopt;
    }
    const auto written = value->get<std::string>();
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
