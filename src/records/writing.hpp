// What those share who write to a season file: statements run one after another, and what goes
// wrong is kept.
#pragma once

#include <string_view>
#include <utility>

#include "base/result.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// Each step is false once something has failed; problems() says what.
class Writing {
 public:
    [[nodiscard]] const Problems& problems() const { return problems_; }

 protected:
    explicit Writing(const Database& database) : database_(database) {}

    template <class T>
    bool passed(const Result<T>& result) {
        if (!result.ok()) {
            problems_.insert(problems_.end(), result.problems().begin(), result.problems().end());
        }
        return result.ok();
    }
    template <class... Values>
    bool run(Statement& statement, const Values&... values) {
        (statement.bind(values), ...);
        return passed(statement.run());
    }
    bool prepared(std::string_view sql, Statement& into) {
        auto statement = database_.prepare(sql);
        if (!passed(statement)) {
            return false;
        }
        into = std::move(*statement);
        return true;
    }

    const Database& database_;
    Problems problems_;
};

}  // namespace beetwright::records
