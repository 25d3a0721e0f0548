// A thin layer over SQLite: statements that free themselves, failures as Problems in plain words.
//
// Our own few hundred lines rather than a wrapper library: those in reach bring type mappings that
// we do not need, and none turns a full disk into a sentence.
#pragma once

#include <cstdint>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "base/result.hpp"
#include "base/uuid.hpp"

struct sqlite3;
struct sqlite3_stmt;

namespace beetwright::records {

/// A prepared statement. Parameters are bound left to right, then it is stepped.
class Statement {
 public:
    Statement() = default;

    Statement& bind(double value);  ///< NaN is stored as NULL
    Statement& bind(std::int64_t value);
    Statement& bind(std::string_view value);
    Statement& bind(const Uuid& value);
    Statement& bind(std::span<const std::uint8_t> bytes);
    Statement& bind_null();
    template <class T>
    Statement& bind(const std::optional<T>& value) {
        return value ? bind(*value) : bind_null();
    }

    /// Steps once: true while there is a row. Ready to be bound anew after the last.
    Result<bool> step();
    /// Steps a statement that gives no rows.
    Result<Done> run();

    [[nodiscard]] double real(int column) const;  ///< NULL is NaN
    [[nodiscard]] std::int64_t integer(int column) const;
    [[nodiscard]] std::string text(int column) const;
    [[nodiscard]] std::string blob(int column) const;
    [[nodiscard]] Uuid uuid(int column) const;  ///< NULL is the nil id
    [[nodiscard]] bool is_null(int column) const;

 private:
    friend class Database;
    struct Finalize {
        void operator()(sqlite3_stmt* statement) const;
    };
    std::unique_ptr<sqlite3_stmt, Finalize> handle_;
    std::string file_;
    int next_ = 1;
};

enum class Access { create, write, read };

class Database {
 public:
    /// Opens a file; Access::create makes it if it is not there.
    static Result<Database> open(const std::string& path, Access access);

    Result<Statement> prepare(std::string_view sql) const;
    /// Runs any number of statements that give no rows.
    Result<Done> execute(const std::string& sql) const;
    /// The single integer that a pragma or query gives.
    Result<std::int64_t> integer(std::string_view sql) const;
    /// Copies all of it, as it is at this moment, into an empty database. Others may write the
    /// while.
    Result<Done> copy_into(const Database& empty) const;
    [[nodiscard]] std::int64_t last_row() const;
    [[nodiscard]] const std::string& path() const { return path_; }

 private:
    struct Close {
        void operator()(sqlite3* database) const;
    };
    std::unique_ptr<sqlite3, Close> handle_;
    std::string path_;
};

/// Calls `read(const Statement&)` for each row of a statement whose values are bound.
template <class Read>
Result<Done> for_each_row(Statement& statement, Read&& read) {
    for (;;) {
        const auto more = statement.step();
        if (!more) {
            return more.problems();
        }
        if (!*more) {
            return Done{};
        }
        read(std::as_const(statement));
    }
}
/// The same for each row of a query.
template <class Read>
Result<Done> for_each_row(const Database& database, std::string_view sql, Read&& read) {
    auto statement = database.prepare(sql);
    if (!statement) {
        return statement.problems();
    }
    return for_each_row(*statement, read);
}

/// Rolls back when it goes out of scope, unless committed.
class Transaction {
 public:
    static Result<Transaction> begin(const Database& database);
    Result<Done> commit();
    Transaction(Transaction&& other) noexcept : database_(other.database_) {
        other.database_ = nullptr;
    }
    Transaction& operator=(Transaction&&) = delete;
    ~Transaction();

 private:
    explicit Transaction(const Database& database) : database_(&database) {}
    const Database* database_;
};

}  // namespace beetwright::records
