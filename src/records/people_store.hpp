// Where the people of a season are kept: they, their sessions, invitations, and who did what. What
// may be done with them is decided in app/people.hpp; here is storage alone.
//
// A database of its own beside the one that reads the season, so that neither waits for the other.
// Every change is on the disk when it is acknowledged. One thread at a time.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/role.hpp"
#include "base/time.hpp"
#include "records/audit.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// Of a token that somebody holds; the token itself is not kept.
using TokenHash = std::array<std::uint8_t, 32>;

struct Person {
    Uuid id;
    std::string name;
    Role role = Role::viewer;
    Instant created;
    bool active = true;
};

/// Somebody signed in on one device.
struct Session {
    TokenHash token{};
    Uuid person;
    Instant created;
    Instant seen;
    Instant expires;
};

struct Invitation {
    TokenHash token{};
    Role role = Role::viewer;
    std::string name_hint;
    Uuid made_by;           ///< nil: made on the machine itself
    bool at_start = false;  ///< for the first owner, when the server started
    Instant created;
    Instant expires;
    Uuid used_by;      ///< nil: not used yet
    Uuid person = {};  ///< who chooses a new password by it; nil: it lets somebody join
};

class PeopleStore {
 public:
    /// Opens a season file that is there; one of an older version is brought up to date.
    static Result<PeopleStore> open(const std::string& path);

    /// What follows happens whole, when it is committed, or not at all. The store must stay where
    /// it is until then.
    Result<Transaction> begin() { return Transaction::begin(database_); }

    Result<std::vector<Person>> people();  ///< by name
    Result<std::optional<Person>> person(const Uuid& id);
    Result<std::optional<Person>> person_named(std::string_view name);
    Result<std::int64_t> active_owners();
    Result<Done> add(const Person& person, const std::string& password);
    Result<Done> change(const Uuid& id, Role role, bool active);
    Result<std::string> password_of(const Uuid& id);
    Result<Done> set_password(const Uuid& id, const std::string& password);

    Result<Done> add(const Session& session);
    Result<std::optional<Session>> session(const TokenHash& token);
    Result<Done> prolong(const TokenHash& token, Instant seen, Instant expires);
    Result<Done> end_session(const TokenHash& token);
    /// Of one person all, or all but one.
    Result<Done> end_sessions_of(const Uuid& person, const std::optional<TokenHash>& but = {});
    Result<Done> forget_expired(Instant now);  ///< sessions and unused invitations

    Result<Done> add(const Invitation& invitation);
    Result<std::optional<Invitation>> invitation(const TokenHash& token);
    Result<Done> use_invitation(const TokenHash& token, const Uuid& person);
    Result<Done> void_invitations_of_starts();
    Result<Done> void_password_links_of(const Uuid& person);

    Result<Done> note(const AuditEntry& entry);
    Result<std::vector<AuditEntry>> audit(std::int64_t most);  ///< newest first

 private:
    explicit PeopleStore(Database database) : database_(std::move(database)) {}

    /// Runs one statement with its values.
    template <class... Values>
    Result<Done> run(std::string_view sql, const Values&... values);
    /// Every row of a query, read by `read(const Statement&)`.
    template <class Row, class Read, class... Values>
    Result<std::vector<Row>> rows(std::string_view sql, Read read, const Values&... values);
    template <class Row, class Read, class... Values>
    Result<std::optional<Row>> row(std::string_view sql, Read read, const Values&... values);

    Database database_;
};

}  // namespace beetwright::records
