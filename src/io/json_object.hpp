// Reads one JSON object strictly: every key must be known, every value of its kind, every amount
// with its unit. Problems name the path of the value, `slide[1].from`.
#pragma once

#include <initializer_list>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <type_traits>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"
#include "io/json_read.hpp"

namespace beetwright::io {

/// The kind of unit that a quantity of this type is written in.
template <class Q>
constexpr UnitKind kind_of() {
    if constexpr (std::is_same_v<Q, SugarContent>) {
        return UnitKind::fraction;
    } else if constexpr (std::is_same_v<Q, Length>) {
        return UnitKind::length;
    } else if constexpr (std::is_same_v<Q, Area>) {
        return UnitKind::area;
    } else if constexpr (std::is_same_v<Q, CleanMass>) {
        return UnitKind::mass;
    } else if constexpr (Q::dimension.length == -1) {
        return UnitKind::money_per_mass_length;
    } else {
        return UnitKind::money_per_mass;
    }
}

/// Where the problems of one file go, and what its amounts of money are called.
struct JsonContext {
    std::string file;
    std::string currency;  ///< "EUR": then "3 EUR/t" is an amount; "3 money/t" always is
    Problems problems;
    std::string format_page;  ///< where the keys are explained
};

class JsonObject {
 public:
    JsonObject(const Json& object, std::string path, JsonContext& context);
    /// Names every key that nobody asked for.
    ~JsonObject();
    JsonObject(const JsonObject&) = delete;
    JsonObject& operator=(const JsonObject&) = delete;

    /// Names each of these keys that is missing.
    void expect(std::initializer_list<const char*> keys);
    bool has(const std::string& key);

    // Each leaves `into` as it is when the key is missing or the value is no good.
    void text(const std::string& key, std::string& into);
    void day(const std::string& key, Day& into);
    void number(const std::string& key, double& into);
    void yes_or_no(const std::string& key, bool& into);
    /// A share written in a unit of fractions, "6.61 %".
    void share(const std::string& key, double& into);
    /// A number, a space and a unit of the quantity's kind.
    template <class Q>
    void amount(const std::string& key, Q& into) {
        if (const auto si = amount_si(key, kind_of<Q>())) {
            into = Q(*si);
        }
    }
    /// True when the key is there and its value is null: known not to be known.
    bool is_null(const std::string& key);

    /// Reads each element of a list with `read(JsonObject&)`.
    template <class Read>
    void each(const std::string& key, Read&& read) {
        const std::size_t count = list_size(key);
        for (std::size_t i = 0; i < count; ++i) {
            JsonObject element(element_of(key, i), at(key) + "[" + std::to_string(i) + "]",
                               context_);
            read(element);
        }
    }
    /// Reads an object that may be left out with `read(JsonObject&)`; whether it was there.
    template <class Read>
    bool object(const std::string& key, Read&& read) {
        const auto* value = take(key);
        if (value == nullptr) {
            return false;
        }
        JsonObject inner(*value, at(key), context_);
        read(inner);
        return true;
    }

    void fail(const std::string& key, std::string what, std::string fix);

 private:
    const Json* take(const std::string& key);
    std::optional<double> amount_si(const std::string& key, UnitKind kind);
    std::size_t list_size(const std::string& key);
    const Json& element_of(const std::string& key, std::size_t i);
    [[nodiscard]] std::string at(const std::string& key) const;

    const Json& object_;
    std::string path_;
    JsonContext& context_;
    std::set<std::string> taken_;
};

/// An amount as text, "26.5 EUR/t", that reads back as the same; of a number that is round in this
/// unit, the round one. `symbol` as in base/unit.hpp, "money/t".
std::string amount_text(double si, std::string_view symbol, const std::string& currency);

}  // namespace beetwright::io
