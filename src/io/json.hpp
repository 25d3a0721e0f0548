// JSON values: what answers are put together from, and what was read. The members of an object keep
// their order. Of our own, since a browser fetches it: the library for it was a tenth of the
// engine, and everything put together with it twice as long.
#pragma once

#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <map>
#include <optional>
#include <ranges>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace beetwright::io {

class Json {
 public:
    struct Member;
    struct Named;

    // A value stands for itself wherever JSON is put together: none of these is explicit.
    Json();  ///< null
    Json(std::nullptr_t);
    Json(std::same_as<bool> auto yes) : Json(yes ? Truth::yes : Truth::no) {}
    Json(double number);
    template <std::signed_integral Whole>
    Json(Whole number) : Json(Signed{number}) {}
    template <std::unsigned_integral Whole>
    requires(!std::same_as<Whole, bool>) Json(Whole number) : Json(Unsigned{number}) {}
    Json(std::string text);
    Json(std::string_view text);
    Json(const char* text);
    /// An object: {{"name", value}, {"name", value}}.
    Json(std::initializer_list<Named> members);
    Json(const std::map<std::string, std::string>& members);
    /// An array of whatever each item becomes.
    template <std::ranges::input_range Items>
    requires(!std::convertible_to<const Items&, std::string_view>) Json(const Items& items)
        : Json(array()) {
        for (const auto& item : items) {
            push_back(item);
        }
    }
    Json(const Json& other);
    Json(Json&& other) noexcept;
    Json& operator=(const Json& other);
    Json& operator=(Json&& other) noexcept;
    ~Json();

    static Json array(std::initializer_list<Json> items = {});
    static Json object();

    /// The member of this name, null where there was none. Null becomes an object.
    Json& operator[](std::string_view name);
    /// A new member, of a name that is not there yet; null.
    Json& add(std::string name);
    /// Null becomes an array.
    void push_back(Json item);

    [[nodiscard]] bool is_null() const;
    [[nodiscard]] bool is_object() const;
    [[nodiscard]] bool is_array() const;
    /// Nothing unless it is text; the same of the others.
    [[nodiscard]] const std::string* text() const;
    [[nodiscard]] std::optional<double> number() const;
    /// A number of 0 or more that was written without a point.
    [[nodiscard]] std::optional<std::uint64_t> count() const;
    [[nodiscard]] std::optional<bool> truth() const;
    [[nodiscard]] const Json* find(std::string_view name) const;
    /// Empty unless it is an object.
    [[nodiscard]] std::span<const Member> members() const;
    /// Empty unless it is an array.
    [[nodiscard]] std::span<const Json> items() const;

    /// Written in one line. Bytes that are not UTF-8 become replacement marks, numbers that are
    /// none null.
    [[nodiscard]] std::string line() const;
    /// Written for people, two spaces deeper with each level.
    [[nodiscard]] std::string lines() const;

 private:
    enum class Truth : bool { no, yes };
    struct Signed {
        std::int64_t number;
    };
    struct Unsigned {
        std::uint64_t number;
    };
    explicit Json(Truth truth);
    explicit Json(Signed whole);
    explicit Json(Unsigned whole);
    std::vector<Member>& own_members();
    void write(std::string& out, int depth) const;

    static constexpr int kInOneLine = -1;
    std::variant<std::monostate, Truth, std::int64_t, std::uint64_t, double, std::string,
                 std::vector<Json>, std::vector<Member>>
        value_;
};

struct Json::Member {
    std::string name;
    Json value;
};

/// A member as it is put into a new object, which takes the value out.
struct Json::Named {
    const char* name;
    mutable Json value;
};

/// Puts a text in quotes to what is written.
void append_quoted(std::string& out, std::string_view text);

}  // namespace beetwright::io
