#include "records/photo_store.hpp"

#include "records/bytes.hpp"
#include "records/migrations.hpp"

namespace beetwright::records {
namespace {

// Without the bytes, which are long.
constexpr std::string_view kColumns =
    "SELECT id, observation, field, at, by, type, length(bytes) FROM photos ";

Problem known_otherwise(const Uuid& id) {
    return {ProblemKind::conflict,
            {.file = "", .line = 0, .field = "id"},
            "the photograph " + id.short_text() + " is known already, as another",
            "a photograph is never replaced: send it under an id of its own"};
}

Result<std::vector<Photo>> photos_of(Statement& statement) {
    std::vector<Photo> all;
    const auto done = for_each_row(statement, [&](const Statement& row) {
        all.push_back({.id = row.uuid(0),
                       .observation = row.uuid(1),
                       .field = row.text(2),
                       .at = Instant(std::chrono::milliseconds(row.integer(3))),
                       .by = row.text(4),
                       .type = row.text(5),
                       .size = row.integer(6)});
    });
    return done ? Result<std::vector<Photo>>(std::move(all)) : done.problems();
}

}  // namespace

Result<PhotoStore> PhotoStore::open(const std::string& path) {
    auto database = open_to_write(path, Access::write);
    if (!database) {
        return database.problems();
    }
    return PhotoStore(std::move(*database));
}

Result<Kept> PhotoStore::add(const Photo& photo, const std::string& bytes, const Uuid& person) {
    auto transaction = Transaction::begin(database_);
    if (!transaction) {
        return transaction.problems();
    }
    const auto known = find(photo.id);
    if (!known) {
        return known.problems();
    }
    if (*known) {
        const auto old = bytes_of(photo.id);
        if (!old) {
            return old.problems();
        }
        const bool is_same = *old == bytes && (*known)->observation == photo.observation &&
                             (*known)->field == photo.field;
        return is_same ? Result<Kept>(Kept::known) : known_otherwise(photo.id);
    }
    auto done = insert(photo, bytes, person);
    if (done) {
        done = transaction->commit();
    }
    if (!done) {
        return done.problems();
    }
    return Kept::fresh;
}

Result<Done> PhotoStore::insert(const Photo& photo, const std::string& bytes, const Uuid& person) {
    auto row = database_.prepare(
        "INSERT INTO photos (id, observation, field, at, by, type, bytes) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)");
    if (!row) {
        return row.problems();
    }
    row->bind(photo.id).bind(photo.observation).bind(std::string_view(photo.field));
    row->bind(std::int64_t{photo.at.time_since_epoch().count()});
    row->bind(std::string_view(photo.by)).bind(std::string_view(photo.type)).bind(as_bytes(bytes));
    if (auto done = row->run(); !done) {
        return done;
    }
    return note(database_, {.at = photo.at,
                            .person = person,
                            .what = "added a photograph",
                            .about = photo.field + ": " + photo.id.text()});
}

Result<std::vector<Photo>> PhotoStore::list(const std::string& field) {
    auto statement = database_.prepare(
        std::string(kColumns) + (field.empty() ? "" : "WHERE field = ? ") + "ORDER BY at, id");
    if (!statement) {
        return statement.problems();
    }
    if (!field.empty()) {
        statement->bind(std::string_view(field));
    }
    return photos_of(*statement);
}

Result<std::optional<Photo>> PhotoStore::find(const Uuid& id) {
    auto statement = database_.prepare(std::string(kColumns) + "WHERE id = ?");
    if (!statement) {
        return statement.problems();
    }
    statement->bind(id);
    auto found = photos_of(*statement);
    if (!found) {
        return found.problems();
    }
    return found->empty() ? std::optional<Photo>() : std::optional(std::move(found->front()));
}

Result<std::string> PhotoStore::bytes_of(const Uuid& id) {
    auto statement = database_.prepare("SELECT bytes FROM photos WHERE id = ?");
    if (!statement) {
        return statement.problems();
    }
    statement->bind(id);
    const auto found = statement->step();
    if (!found) {
        return found.problems();
    }
    if (!*found) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "id"},
                       "there is no photograph of this id",
                       "/api/v1/photos lists them"};
    }
    return statement->blob(0);
}

}  // namespace beetwright::records
