#include "records/people_store.hpp"

#include <span>

#include "records/migrations.hpp"

namespace beetwright::records {
namespace {

std::int64_t milliseconds(Instant at) {
    return at.time_since_epoch().count();
}
Instant instant(const Statement& row, int column) {
    return Instant(std::chrono::milliseconds(row.integer(column)));
}
std::int64_t number_of(Role role) {
    return static_cast<std::int64_t>(role);
}

constexpr std::string_view kPersonColumns = "SELECT id, name, role, created, active FROM people ";

Person read_person(const Statement& row) {
    return {.id = row.uuid(0),
            .name = row.text(1),
            .role = static_cast<Role>(row.integer(2)),
            .created = instant(row, 3),
            .active = row.integer(4) != 0};
}

}  // namespace

Result<PeopleStore> PeopleStore::open(const std::string& path) {
    auto database = open_to_write(path, Access::write);
    if (!database) {
        return database.problems();
    }
    return PeopleStore(std::move(*database));
}

template <class... Values>
Result<Done> PeopleStore::run(std::string_view sql, const Values&... values) {
    auto statement = database_.prepare(sql);
    if (!statement) {
        return statement.problems();
    }
    (statement->bind(values), ...);
    return statement->run();
}

template <class Row, class Read, class... Values>
Result<std::vector<Row>> PeopleStore::rows(std::string_view sql, Read read,
                                           const Values&... values) {
    auto statement = database_.prepare(sql);
    if (!statement) {
        return statement.problems();
    }
    (statement->bind(values), ...);
    std::vector<Row> all;
    const auto done =
        for_each_row(*statement, [&](const Statement& row) { all.push_back(read(row)); });
    return done ? Result<std::vector<Row>>(std::move(all)) : done.problems();
}

template <class Row, class Read, class... Values>
Result<std::optional<Row>> PeopleStore::row(std::string_view sql, Read read,
                                            const Values&... values) {
    auto found = rows<Row>(sql, read, values...);
    if (!found) {
        return found.problems();
    }
    return found->empty() ? std::optional<Row>() : std::optional(std::move(found->front()));
}

Result<std::vector<Person>> PeopleStore::people() {
    return rows<Person>(std::string(kPersonColumns) + "ORDER BY name", read_person);
}
Result<std::optional<Person>> PeopleStore::person(const Uuid& id) {
    return row<Person>(std::string(kPersonColumns) + "WHERE id = ?", read_person, id);
}
Result<std::optional<Person>> PeopleStore::person_named(std::string_view name) {
    return row<Person>(std::string(kPersonColumns) + "WHERE name = ?", read_person, name);
}
Result<std::int64_t> PeopleStore::active_owners() {
    return database_.integer("SELECT count(*) FROM people WHERE active <> 0 AND role = " +
                             std::to_string(number_of(Role::owner)));
}
Result<Done> PeopleStore::add(const Person& person, const std::string& password) {
    return run(
        "INSERT INTO people (id, name, role, password, created, active) VALUES (?, ?, ?, ?, ?, ?)",
        person.id, std::string_view(person.name), number_of(person.role),
        std::string_view(password), milliseconds(person.created), std::int64_t{person.active});
}
Result<Done> PeopleStore::change(const Uuid& id, Role role, bool active) {
    return run("UPDATE people SET role = ?, active = ? WHERE id = ?", number_of(role),
               std::int64_t{active}, id);
}
Result<std::string> PeopleStore::password_of(const Uuid& id) {
    const auto found = row<std::string>(
        "SELECT password FROM people WHERE id = ?", [](const Statement& s) { return s.text(0); },
        id);
    if (!found) {
        return found.problems();
    }
    return found->value_or("");
}
Result<Done> PeopleStore::set_password(const Uuid& id, const std::string& password) {
    return run("UPDATE people SET password = ? WHERE id = ?", std::string_view(password), id);
}

Result<Done> PeopleStore::add(const Session& session) {
    return run(
        "INSERT INTO sessions (token_hash, person, created, seen, expires) VALUES (?, ?, ?, ?, ?)",
        std::span<const std::uint8_t>(session.token), session.person, milliseconds(session.created),
        milliseconds(session.seen), milliseconds(session.expires));
}
Result<std::optional<Session>> PeopleStore::session(const TokenHash& token) {
    return row<Session>(
        "SELECT person, created, seen, expires FROM sessions WHERE token_hash = ?",
        [&](const Statement& s) {
            return Session{.token = token,
                           .person = s.uuid(0),
                           .created = instant(s, 1),
                           .seen = instant(s, 2),
                           .expires = instant(s, 3)};
        },
        std::span<const std::uint8_t>(token));
}
Result<Done> PeopleStore::prolong(const TokenHash& token, Instant seen, Instant expires) {
    return run("UPDATE sessions SET seen = ?, expires = ? WHERE token_hash = ?", milliseconds(seen),
               milliseconds(expires), std::span<const std::uint8_t>(token));
}
Result<Done> PeopleStore::end_session(const TokenHash& token) {
    return run("DELETE FROM sessions WHERE token_hash = ?", std::span<const std::uint8_t>(token));
}
Result<Done> PeopleStore::end_sessions_of(const Uuid& person, const std::optional<TokenHash>& but) {
    if (but) {
        return run("DELETE FROM sessions WHERE person = ? AND token_hash <> ?", person,
                   std::span<const std::uint8_t>(*but));
    }
    return run("DELETE FROM sessions WHERE person = ?", person);
}
Result<Done> PeopleStore::forget_expired(Instant now) {
    if (auto done = run("DELETE FROM sessions WHERE expires <= ?", milliseconds(now)); !done) {
        return done;
    }
    return run("DELETE FROM invitations WHERE used_by IS NULL AND expires <= ?", milliseconds(now));
}

Result<Done> PeopleStore::add(const Invitation& invitation) {
    return run(
        "INSERT INTO invitations (token_hash, role, name_hint, made_by, created, expires, used_by, "
        "at_start, person) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        std::span<const std::uint8_t>(invitation.token), number_of(invitation.role),
        std::string_view(invitation.name_hint), invitation.made_by,
        milliseconds(invitation.created), milliseconds(invitation.expires), invitation.used_by,
        std::int64_t{invitation.at_start}, invitation.person);
}
Result<std::optional<Invitation>> PeopleStore::invitation(const TokenHash& token) {
    return row<Invitation>(
        "SELECT role, name_hint, made_by, created, expires, used_by, at_start, person "
        "FROM invitations WHERE token_hash = ?",
        [&](const Statement& s) {
            return Invitation{.token = token,
                              .role = static_cast<Role>(s.integer(0)),
                              .name_hint = s.text(1),
                              .made_by = s.uuid(2),
                              .at_start = s.integer(6) != 0,
                              .created = instant(s, 3),
                              .expires = instant(s, 4),
                              .used_by = s.uuid(5),
                              .person = s.uuid(7)};
        },
        std::span<const std::uint8_t>(token));
}
Result<Done> PeopleStore::use_invitation(const TokenHash& token, const Uuid& person) {
    return run("UPDATE invitations SET used_by = ? WHERE token_hash = ?", person,
               std::span<const std::uint8_t>(token));
}
Result<Done> PeopleStore::void_invitations_of_starts() {
    return run("DELETE FROM invitations WHERE at_start <> 0 AND used_by IS NULL");
}

Result<Done> PeopleStore::void_password_links_of(const Uuid& person) {
    return run("DELETE FROM invitations WHERE person = ? AND used_by IS NULL", person);
}

Result<Done> PeopleStore::note(const AuditEntry& entry) {
    return records::note(database_, entry);
}
Result<std::vector<AuditEntry>> PeopleStore::audit(std::int64_t most) {
    return rows<AuditEntry>(
        "SELECT at, person, what, about FROM audit ORDER BY position DESC LIMIT ?",
        [](const Statement& s) {
            return AuditEntry{
                .at = instant(s, 0), .person = s.uuid(1), .what = s.text(2), .about = s.text(3)};
        },
        most);
}

}  // namespace beetwright::records
