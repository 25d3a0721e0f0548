#include "records/ground_store.hpp"

#include <algorithm>
#include <array>

#include "records/bytes.hpp"
#include "records/migrations.hpp"
#include "records/row.hpp"

namespace beetwright::records {
namespace {

constexpr std::array<std::string_view, 3> kWords{"border", "heights", "zones"};

constexpr const char* kGroundChanges = "UPDATE revision SET ground = ground + 1";

std::int64_t number_of(GroundPart part) {
    return static_cast<std::int64_t>(part);
}

GroundEntry entry_of(const Statement& statement) {
    Row row(statement);
    GroundEntry entry;
    entry.field = row.text();
    entry.part = row.word<GroundPart>();
    entry.from = row.text();
    entry.at = row.instant();
    entry.said = row.text();
    entry.stamp = row.integer();
    entry.bytes = statement.blob(6);
    return entry;
}

Result<Done> must_be_a_field(const Database& database, const std::string& name) {
    auto statement = database.prepare("SELECT count(*) FROM fields WHERE name = ?");
    if (!statement) {
        return statement.problems();
    }
    statement->bind(std::string_view(name));
    if (const auto row = statement->step(); !row) {
        return row.problems();
    }
    if (statement->integer(0) == 0) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "field"},
                       "no field of this season is called \"" + name + "\"",
                       "somebody may have taken it out or renamed it meanwhile"};
    }
    return Done{};
}

Result<Done> put(const Database& database, const GroundEntry& entry) {
    auto row = database.prepare(
        "INSERT OR REPLACE INTO ground_parts (field, part, source, at, said, stamp, bytes) "
        "VALUES (?, ?, ?, ?, ?, (SELECT ground FROM revision), ?)");
    if (!row) {
        return row.problems();
    }
    row->bind(std::string_view(entry.field)).bind(number_of(entry.part));
    row->bind(std::string_view(entry.from));
    row->bind(std::int64_t{entry.at.time_since_epoch().count()});
    row->bind(std::string_view(entry.said)).bind(as_bytes(entry.bytes));
    return row->run();
}

/// Does it in one transaction, with the ground's next revision and a note of who did it.
template <class Change>
Result<Done> change_ground(const Database& database, const AuditEntry& by, Change&& change) {
    auto transaction = Transaction::begin(database);
    if (!transaction) {
        return transaction.problems();
    }
    auto done = database.execute(kGroundChanges);
    if (done) {
        done = change();
    }
    if (done) {
        done = note(database, by);
    }
    return done ? transaction->commit() : done;
}

}  // namespace

std::string_view words(GroundPart part) {
    return kWords.at(static_cast<std::size_t>(part));
}

std::optional<GroundPart> ground_part_named(std::string_view word) {
    const auto* const found = std::ranges::find(kWords, word);
    return found == kWords.end() ? std::nullopt
                                 : std::optional(static_cast<GroundPart>(found - kWords.begin()));
}

Result<GroundStore> GroundStore::open(const std::string& path) {
    auto database = open_to_write(path, Access::write);
    if (!database) {
        return database.problems();
    }
    return GroundStore(std::move(*database));
}

Result<std::int64_t> GroundStore::revision() const {
    return database_.integer("SELECT ground FROM revision");
}

Result<std::vector<GroundEntry>> GroundStore::list() const {
    std::vector<GroundEntry> all;
    const auto done = for_each_row(
        database_,
        "SELECT field, part, source, at, said, stamp, CASE part WHEN 1 THEN x'' ELSE bytes END "
        "FROM ground_parts ORDER BY field, part",
        [&](const Statement& row) { all.push_back(entry_of(row)); });
    return done ? Result<std::vector<GroundEntry>>(std::move(all)) : done.problems();
}

Result<std::optional<GroundEntry>> GroundStore::find(const std::string& field,
                                                     GroundPart part) const {
    auto statement = database_.prepare(
        "SELECT field, part, source, at, said, stamp, bytes FROM ground_parts "
        "WHERE field = ? AND part = ?");
    if (!statement) {
        return statement.problems();
    }
    statement->bind(std::string_view(field)).bind(number_of(part));
    std::optional<GroundEntry> found;
    const auto done =
        for_each_row(*statement, [&](const Statement& row) { found = entry_of(row); });
    return done ? Result<std::optional<GroundEntry>>(std::move(found)) : done.problems();
}

Result<Done> GroundStore::set(const GroundEntry& entry, const Uuid& person) {
    const AuditEntry by{.at = entry.at,
                        .person = person,
                        .what = "set",
                        .about = entry.field + ": " + std::string(words(entry.part)) +
                                 (entry.from.empty() ? "" : " from " + entry.from)};
    return change_ground(database_, by, [&] {
        auto done = must_be_a_field(database_, entry.field);
        return done ? put(database_, entry) : done;
    });
}

Result<Done> GroundStore::remove(const std::string& field, GroundPart part, const Uuid& person,
                                 Instant at) {
    const std::string what(words(part));
    const AuditEntry by{
        .at = at, .person = person, .what = "removed", .about = field + ": " + what};
    return change_ground(database_, by, [&]() -> Result<Done> {
        const auto there = find(field, part);
        if (!there) {
            return there.problems();
        }
        if (!*there) {
            return Problem{ProblemKind::missing,
                           {.file = "", .line = 0, .field = "field"},
                           "nothing is kept of the " + what + " of \"" + field + "\"",
                           "somebody may have taken it out meanwhile"};
        }
        auto statement = database_.prepare("DELETE FROM ground_parts WHERE field = ? AND part = ?");
        if (!statement) {
            return statement.problems();
        }
        statement->bind(std::string_view(field)).bind(number_of(part));
        return statement->run();
    });
}

}  // namespace beetwright::records
