#include "io/json.hpp"

#include <algorithm>

#include "base/contract.hpp"

namespace beetwright::io {

Json::Json() = default;
Json::Json(std::nullptr_t) {}
Json::Json(Truth truth) : value_(truth) {}
Json::Json(Signed whole) : value_(whole.number) {}
Json::Json(Unsigned whole) : value_(whole.number) {}
Json::Json(double number) : value_(number) {}
Json::Json(std::string text) : value_(std::move(text)) {}
Json::Json(std::string_view text) : value_(std::string(text)) {}
Json::Json(const char* text) : value_(std::string(text)) {}
Json::Json(const Json& other) = default;
Json::Json(Json&& other) noexcept = default;
Json& Json::operator=(const Json& other) = default;
Json& Json::operator=(Json&& other) noexcept = default;
Json::~Json() = default;

Json::Json(std::initializer_list<Named> members) {
    auto& all = value_.emplace<std::vector<Member>>();
    all.reserve(members.size());
    for (const auto& member : members) {
        all.push_back({member.name, std::move(member.value)});
    }
}

Json::Json(const std::map<std::string, std::string>& members) {
    auto& all = value_.emplace<std::vector<Member>>();
    for (const auto& [name, text] : members) {
        all.push_back({name, text});
    }
}

Json Json::array(std::initializer_list<Json> items) {
    Json made;
    made.value_.emplace<std::vector<Json>>(items);
    return made;
}

Json Json::object() {
    Json made;
    made.value_.emplace<std::vector<Member>>();
    return made;
}

Json& Json::operator[](std::string_view name) {
    if (is_null()) {
        *this = object();
    }
    for (auto& member : own_members()) {
        if (member.name == name) {
            return member.value;
        }
    }
    return add(std::string(name));
}

Json& Json::add(std::string name) {
    auto& all = own_members();
    all.push_back({std::move(name), {}});
    return all.back().value;
}

std::vector<Json::Member>& Json::own_members() {
    auto* all = std::get_if<std::vector<Member>>(&value_);
    require(all != nullptr, "only objects have members");
    return *all;
}

void Json::push_back(Json item) {
    if (is_null()) {
        *this = array();
    }
    auto* all = std::get_if<std::vector<Json>>(&value_);
    require(all != nullptr, "only arrays have items");
    all->push_back(std::move(item));
}

bool Json::is_null() const {
    return std::holds_alternative<std::monostate>(value_);
}

bool Json::is_object() const {
    return std::holds_alternative<std::vector<Member>>(value_);
}

bool Json::is_array() const {
    return std::holds_alternative<std::vector<Json>>(value_);
}

const std::string* Json::text() const {
    return std::get_if<std::string>(&value_);
}

std::optional<double> Json::number() const {
    if (const auto* number = std::get_if<double>(&value_)) {
        return *number;
    }
    if (const auto* whole = std::get_if<std::int64_t>(&value_)) {
        return static_cast<double>(*whole);
    }
    if (const auto whole = count()) {
        return static_cast<double>(*whole);
    }
    return std::nullopt;
}

std::optional<std::uint64_t> Json::count() const {
    const auto* whole = std::get_if<std::uint64_t>(&value_);
    return whole == nullptr ? std::nullopt : std::optional(*whole);
}

std::optional<bool> Json::truth() const {
    const auto* truth = std::get_if<Truth>(&value_);
    return truth == nullptr ? std::nullopt : std::optional(*truth == Truth::yes);
}

const Json* Json::find(std::string_view name) const {
    const auto all = members();
    const auto found = std::ranges::find(all, name, &Member::name);
    return found == all.end() ? nullptr : &found->value;
}

std::span<const Json::Member> Json::members() const {
    const auto* all = std::get_if<std::vector<Member>>(&value_);
    return all == nullptr ? std::span<const Member>() : std::span<const Member>(*all);
}

std::span<const Json> Json::items() const {
    const auto* all = std::get_if<std::vector<Json>>(&value_);
    return all == nullptr ? std::span<const Json>() : std::span<const Json>(*all);
}

}  // namespace beetwright::io
