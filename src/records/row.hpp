// A row that a query gives, as what the season makes of its columns.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>

#include "base/time.hpp"
#include "base/uuid.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

inline Day day_of(std::int64_t number) {
    return Day(std::chrono::days(number));
}
inline Instant instant_of(std::int64_t milliseconds) {
    return Instant(std::chrono::milliseconds(milliseconds));
}

/// Reads the columns of a row from left to right.
class Row {
 public:
    explicit Row(const Statement& statement) : statement_(statement) {}
    std::string text() { return statement_.text(next_++); }
    double real() { return statement_.real(next_++); }
    std::int64_t integer() { return statement_.integer(next_++); }
    Uuid uuid() { return statement_.uuid(next_++); }
    Instant instant() { return instant_of(integer()); }
    std::optional<std::int64_t> integer_if_any() {
        const int column = next_++;
        if (statement_.is_null(column)) {
            return std::nullopt;
        }
        return statement_.integer(column);
    }
    std::optional<Day> day_if_any() {
        const auto number = integer_if_any();
        return number ? std::optional(day_of(*number)) : std::nullopt;
    }
    template <class Enum>
    std::optional<Enum> word_if_any() {
        const auto code = integer_if_any();
        return code ? std::optional(static_cast<Enum>(*code)) : std::nullopt;
    }
    template <class Enum>
    Enum word() {
        return static_cast<Enum>(integer());
    }

 private:
    const Statement& statement_;
    int next_ = 0;
};

}  // namespace beetwright::records
