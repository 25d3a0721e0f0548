// What an operation gives back when it may not succeed.
//
// Three kinds of thing go wrong. The user's input and the outside world are values: a Result holds
// either the answer or every Problem found, each saying where, what is wrong, and what would be
// right. Our own bugs are not values: they stop the program loudly (contract.hpp). A list rather
// than one error, because a person mending a spreadsheet wants all of its mistakes at once.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/contract.hpp"

namespace beetwright {

enum class ProblemKind {
    input,     ///< the user's data or words are wrong; mend them
    conflict,  ///< it contradicts what is already known; decide which is right
    missing,   ///< something needed is not there
    limit,     ///< too large, too many, too long
    outside,   ///< disk, network, another program; try again or mend that
    denied,    ///< whoever asks may not; sign in, or ask somebody who may
};

/// Where a problem was found. Empty members are not known or do not apply.
struct Where {
    std::string file;
    int line = 0;  ///< 1-based; 0: not a place in a file
    std::string field;
};

struct Problem {
    ProblemKind kind = ProblemKind::input;
    Where where;
    std::string what;  ///< what is wrong
    std::string fix;   ///< what would be right, or what to do next

    /// One line for people: `file:line, field: what. fix`.
    [[nodiscard]] std::string text() const;
};

using Problems = std::vector<Problem>;

/// The answer of an operation whose only news is that it worked.
struct Done {};

template <class T>
class [[nodiscard]] Result {
 public:
    // Implicit, so that a function can `return answer;` or `return problem;`.
    Result(T value) : held_(std::move(value)) {}  // NOLINT(google-explicit-constructor)
    Result(Problem problem) : held_(Problems{std::move(problem)}) {}  // NOLINT
    Result(Problems problems) : held_(std::move(problems)) {          // NOLINT
        require(!this->problems().empty(), "a failed Result names at least one problem");
    }

    [[nodiscard]] bool ok() const { return std::holds_alternative<T>(held_); }
    explicit operator bool() const { return ok(); }

    [[nodiscard]] const T& value() const& {
        require(ok(), "value() of a failed Result");
        return *std::get_if<T>(&held_);
    }
    [[nodiscard]] T& value() & {
        require(ok(), "value() of a failed Result");
        return *std::get_if<T>(&held_);
    }
    [[nodiscard]] T&& value() && {
        require(ok(), "value() of a failed Result");
        return std::move(*std::get_if<T>(&held_));
    }
    const T& operator*() const& { return value(); }
    T& operator*() & { return value(); }
    const T* operator->() const { return &value(); }
    T* operator->() { return &value(); }

    [[nodiscard]] const Problems& problems() const {
        require(!ok(), "problems() of a Result that succeeded");
        return *std::get_if<Problems>(&held_);
    }

 private:
    std::variant<T, Problems> held_;
};

}  // namespace beetwright
