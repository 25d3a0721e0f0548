#include "records/sqlite.hpp"

#include <sqlite3.h>

#include <cstring>

namespace beetwright::records {
namespace {

constexpr int kWaitForOthers_ms = 5000;
constexpr int kPagesAtOnce = 256;  ///< 1 MB

Problem problem_of(int code, const std::string& file, const char* message) {
    const auto say = [&](ProblemKind kind, const char* what, const char* fix) {
        return Problem{kind, {.file = file, .line = 0, .field = ""}, what, fix};
    };
    switch (code & 0xFF) {
        case SQLITE_FULL:
            return say(ProblemKind::outside, "the disk is full; nothing was changed",
                       "make room and try again");
        case SQLITE_IOERR:
            return say(ProblemKind::outside,
                       "the disk could not be read or written; nothing was changed",
                       "see that the disk is there and has room");
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return say(ProblemKind::outside, "another program is writing to this season file",
                       "wait until it is done and try again");
        case SQLITE_READONLY:
        case SQLITE_PERM:
            return say(ProblemKind::outside, "this season file may not be written",
                       "see who owns it, or copy it to a folder of your own");
        case SQLITE_CANTOPEN:
            return say(ProblemKind::outside, "this season file cannot be opened",
                       "see that its folder exists and may be written");
        case SQLITE_NOTADB:
            return say(ProblemKind::input, "this is not a season file",
                       "name one made by `beetwright import`");
        case SQLITE_CORRUPT:
            return say(ProblemKind::outside, "this season file is damaged",
                       "take a copy from before, or import the tables into a new one");
        default:
            return {ProblemKind::outside,
                    {.file = file, .line = 0, .field = ""},
                    std::string("the season file failed: ") + message,
                    "try again"};
    }
}

}  // namespace

void Statement::Finalize::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}

void Database::Close::operator()(sqlite3* database) const {
    sqlite3_close_v2(database);
}

Statement& Statement::bind(double value) {
    sqlite3_bind_double(handle_.get(), next_++, value);
    return *this;
}
Statement& Statement::bind(std::int64_t value) {
    sqlite3_bind_int64(handle_.get(), next_++, value);
    return *this;
}
Statement& Statement::bind(std::string_view value) {
    sqlite3_bind_text(handle_.get(), next_++, value.data(), static_cast<int>(value.size()),
                      SQLITE_TRANSIENT);
    return *this;
}
Statement& Statement::bind(const Uuid& value) {
    if (value.is_nil()) {
        return bind_null();
    }
    sqlite3_bind_blob(handle_.get(), next_++, value.bytes().data(), 16, SQLITE_TRANSIENT);
    return *this;
}
Statement& Statement::bind(std::span<const std::uint8_t> bytes) {
    sqlite3_bind_blob(handle_.get(), next_++, bytes.data(), static_cast<int>(bytes.size()),
                      SQLITE_TRANSIENT);
    return *this;
}
Statement& Statement::bind_null() {
    sqlite3_bind_null(handle_.get(), next_++);
    return *this;
}

Result<bool> Statement::step() {
    const int code = sqlite3_step(handle_.get());
    if (code == SQLITE_ROW) {
        return true;
    }
    next_ = 1;
    if (code == SQLITE_DONE) {
        sqlite3_reset(handle_.get());
        return false;
    }
    const std::string message = sqlite3_errmsg(sqlite3_db_handle(handle_.get()));
    sqlite3_reset(handle_.get());
    return problem_of(code, file_, message.c_str());
}

Result<Done> Statement::run() {
    auto stepped = step();
    if (!stepped) {
        return stepped.problems();
    }
    return Done{};
}

double Statement::real(int column) const {
    return is_null(column) ? std::numeric_limits<double>::quiet_NaN()
                           : sqlite3_column_double(handle_.get(), column);
}
std::int64_t Statement::integer(int column) const {
    return sqlite3_column_int64(handle_.get(), column);
}
std::string Statement::text(int column) const {
    const auto* text = sqlite3_column_text(handle_.get(), column);
    const int size = sqlite3_column_bytes(handle_.get(), column);
    return text == nullptr
               ? std::string()
               : std::string(reinterpret_cast<const char*>(text), static_cast<std::size_t>(size));
}
std::string Statement::blob(int column) const {
    const auto* bytes = static_cast<const char*>(sqlite3_column_blob(handle_.get(), column));
    const int size = sqlite3_column_bytes(handle_.get(), column);
    return bytes == nullptr ? std::string() : std::string(bytes, static_cast<std::size_t>(size));
}
Uuid Statement::uuid(int column) const {
    std::array<std::uint8_t, 16> bytes{};
    if (sqlite3_column_bytes(handle_.get(), column) == 16) {
        std::memcpy(bytes.data(), sqlite3_column_blob(handle_.get(), column), 16);
    }
    return Uuid(bytes);
}
bool Statement::is_null(int column) const {
    return sqlite3_column_type(handle_.get(), column) == SQLITE_NULL;
}

namespace {

constexpr const char* kLook = "SELECT count(*) FROM sqlite_schema";

int open_handle(const std::string& path, int flags, sqlite3** handle) {
    const int code = sqlite3_open_v2(path.c_str(), handle, flags, nullptr);
    if (code == SQLITE_OK) {
        sqlite3_extended_result_codes(*handle, 0);
        sqlite3_busy_timeout(*handle, kWaitForOthers_ms);
    }
    return code;
}

/// Whether what a killed writer left must first be rolled back, which a reader may not do.
bool must_be_mended(sqlite3* handle) {
    return sqlite3_exec(handle, kLook, nullptr, nullptr, nullptr) == SQLITE_READONLY;
}

}  // namespace

Result<Database> Database::open(const std::string& path, Access access) {
    Database database;
    database.path_ = path;
    int flags = SQLITE_OPEN_READONLY;
    if (access != Access::read) {
        flags = SQLITE_OPEN_READWRITE | (access == Access::create ? SQLITE_OPEN_CREATE : 0);
    }
    sqlite3* handle = nullptr;
    int code = open_handle(path, flags, &handle);
    database.handle_.reset(handle);
    if (code == SQLITE_OK && access == Access::read && must_be_mended(handle)) {
        // As a writer, only to roll back; after that it reads and no more.
        code = open_handle(path, SQLITE_OPEN_READWRITE, &handle);
        database.handle_.reset(handle);
        if (code == SQLITE_OK) {
            code = sqlite3_exec(handle, kLook, nullptr, nullptr, nullptr);
        }
        if (code == SQLITE_OK) {
            code = sqlite3_exec(handle, "PRAGMA query_only = 1", nullptr, nullptr, nullptr);
        }
    }
    if (code != SQLITE_OK) {
        return problem_of(code, path, sqlite3_errmsg(handle));
    }
    return database;
}

Result<Statement> Database::prepare(std::string_view sql) const {
    Statement statement;
    statement.file_ = path_;
    sqlite3_stmt* handle = nullptr;
    const int code = sqlite3_prepare_v2(handle_.get(), sql.data(), static_cast<int>(sql.size()),
                                        &handle, nullptr);
    statement.handle_.reset(handle);
    if (code != SQLITE_OK) {
        return problem_of(code, path_, sqlite3_errmsg(handle_.get()));
    }
    return statement;
}

Result<Done> Database::execute(const std::string& sql) const {
    const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK) {
        return problem_of(code, path_, sqlite3_errmsg(handle_.get()));
    }
    return Done{};
}

Result<std::int64_t> Database::integer(std::string_view sql) const {
    auto statement = prepare(sql);
    if (!statement) {
        return statement.problems();
    }
    auto row = statement->step();
    if (!row) {
        return row.problems();
    }
    return *row ? statement->integer(0) : 0;
}

Result<Done> Database::copy_into(const Database& empty) const {
    // A snapshot held from the first page to the last: else each write of another program would
    // have the copying start over. With a write-ahead log it holds nobody up.
    if (auto begun = execute("BEGIN"); !begun) {
        return begun;
    }
    int code = sqlite3_exec(handle_.get(), kLook, nullptr, nullptr, nullptr);
    if (code == SQLITE_OK) {
        sqlite3_backup* copying =
            sqlite3_backup_init(empty.handle_.get(), "main", handle_.get(), "main");
        while (copying != nullptr && sqlite3_backup_step(copying, kPagesAtOnce) == SQLITE_OK) {
        }
        code = copying == nullptr ? sqlite3_errcode(empty.handle_.get())
                                  : sqlite3_backup_finish(copying);
    }
    auto ended = execute("COMMIT");
    if (code != SQLITE_OK) {
        return problem_of(code, empty.path_, sqlite3_errstr(code));
    }
    return ended;
}

std::int64_t Database::last_row() const {
    return sqlite3_last_insert_rowid(handle_.get());
}

Result<Transaction> Transaction::begin(const Database& database) {
    if (auto begun = database.execute("BEGIN IMMEDIATE"); !begun) {
        return begun.problems();
    }
    return Transaction(database);
}

Result<Done> Transaction::commit() {
    auto committed = database_->execute("COMMIT");
    if (committed) {
        database_ = nullptr;
    }
    return committed;
}

Transaction::~Transaction() {
    if (database_ != nullptr) {
        // If even this fails, SQLite rolls back when the file is next opened.
        (void)database_->execute("ROLLBACK").ok();
    }
}

}  // namespace beetwright::records
