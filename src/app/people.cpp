#include "app/people.hpp"

#include "app/credentials.hpp"
#include "app/secrets.hpp"

namespace beetwright::app {
namespace {

using records::Invitation;

Problem no_invitation(const char* what) {
    return {ProblemKind::missing, {}, what, "ask whoever invited you for a new link"};
}

Problem nobody_has_it() {
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = "id"},
            "nobody here has this id",
            "the list of people says who is there"};
}

Problem name_taken(const std::string& name) {
    return {ProblemKind::conflict,
            {.file = "", .line = 0, .field = "name"},
            "somebody here is called '" + name + "' already",
            "sign in if that is you; else add a letter or your second name"};
}

bool may_invite(const Person& by, Role role) {
    return by.active &&
           (by.role == Role::owner || (by.role == Role::manager && role <= Role::operator_));
}

/// Whether somebody may let others choose a new password.
bool may_help(const Person& by) {
    return by.active && by.role == Role::owner;
}

}  // namespace

Result<std::unique_ptr<People>> People::open(const std::string& season_file, Clock clock,
                                             const PeopleOptions& options) {
    auto store = records::PeopleStore::open(season_file);
    if (!store) {
        return store.problems();
    }
    if (auto forgotten = store->forget_expired(clock()); !forgotten) {
        return forgotten.problems();
    }
    auto nobodys_hash = hash_password(random_token());
    if (!nobodys_hash) {
        return nobodys_hash.problems();
    }
    return std::unique_ptr<People>(
        new People(std::move(*store), std::move(clock), options, std::move(*nobodys_hash)));
}

Result<Done> People::note_now(const Uuid& person, std::string what, std::string about) {
    return store_.note(
        {.at = clock_(), .person = person, .what = std::move(what), .about = std::move(about)});
}

Result<std::optional<std::string>> People::first_invitation() {
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    if (auto voided = store_.void_invitations_of_starts(); !voided) {
        return voided.problems();
    }
    const auto owners = store_.active_owners();
    if (!owners) {
        return owners.problems();
    }
    std::optional<std::string> token;
    if (*owners == 0) {
        token = random_token();
        const auto added = store_.add(Invitation{.token = hash_token(*token),
                                                 .role = Role::owner,
                                                 .name_hint = "",
                                                 .made_by = {},
                                                 .at_start = true,
                                                 .created = clock_(),
                                                 .expires = clock_() + kInvitationLasts,
                                                 .used_by = {}});
        if (!added) {
            return added.problems();
        }
    }
    if (auto done = transaction->commit(); !done) {
        return done.problems();
    }
    return token;
}

Result<Invited> People::invite(Role role, const std::string& name_hint, const Person& by) {
    if (!may_invite(by, role)) {
        return Problem{ProblemKind::denied,
                       {.file = "", .line = 0, .field = "role"},
                       "with the role of " + std::string(word_of(by.role)) +
                           " nobody can be invited as " + std::string(word_of(role)),
                       "ask an owner to do it"};
    }
    if (auto wrong = wrong_name("name_hint", name_hint); wrong && !name_hint.empty()) {
        return *wrong;
    }
    return invite_as(role, name_hint, by.id);
}

Result<Invited> People::invite_from_machine(Role role) {
    return invite_as(role, "", Uuid());
}

Result<Invited> People::invite_as(Role role, const std::string& name_hint, const Uuid& by) {
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    const Invited invited{.token = random_token(), .expires = clock_() + kInvitationLasts};
    auto done = store_.add(Invitation{.token = hash_token(invited.token),
                                      .role = role,
                                      .name_hint = name_hint,
                                      .made_by = by,
                                      .created = clock_(),
                                      .expires = invited.expires,
                                      .used_by = {}});
    if (done) {
        done = note_now(by, by.is_nil() ? "invited on the command line" : "invited",
                        std::string(word_of(role)) + (name_hint.empty() ? "" : " ") + name_hint);
    }
    if (done) {
        done = transaction->commit();
    }
    if (!done) {
        return done.problems();
    }
    return invited;
}

Result<Invited> People::link_for_password(const Uuid& id, const Person& by) {
    if (!may_help(by)) {
        return Problem{ProblemKind::denied, {}, "only an owner may do this", "ask an owner"};
    }
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    const auto found = store_.person(id);
    if (!found) {
        return found.problems();
    }
    if (!*found) {
        return nobody_has_it();
    }
    const Person& person = **found;
    if (!person.active) {
        return Problem{ProblemKind::conflict,
                       {.file = "", .line = 0, .field = "id"},
                       person.name + " is not active",
                       "let them back in first"};
    }
    const Invited invited{.token = random_token(), .expires = clock_() + kPasswordLinkLasts};
    auto done = store_.void_password_links_of(person.id);
    if (done) {
        done = store_.add(Invitation{.token = hash_token(invited.token),
                                     .role = person.role,
                                     .name_hint = person.name,
                                     .made_by = by.id,
                                     .created = clock_(),
                                     .expires = invited.expires,
                                     .used_by = {},
                                     .person = person.id});
    }
    if (done) {
        done = note_now(by.id, "made a password link", person.name);
    }
    if (done) {
        done = transaction->commit();
    }
    if (!done) {
        return done.problems();
    }
    return invited;
}

Result<Invitation> People::invitation_now(const std::string& token) {
    const auto found = store_.invitation(hash_token(token));
    if (!found) {
        return found.problems();
    }
    if (!*found) {
        return no_invitation("this link is not known");
    }
    const Invitation& invitation = **found;
    if (!invitation.used_by.is_nil()) {
        return no_invitation("this link has been used");
    }
    if (invitation.expires <= clock_()) {
        return no_invitation("this link has expired");
    }
    if (!invitation.person.is_nil()) {
        const auto holder = store_.person(invitation.person);
        if (!holder) {
            return holder.problems();
        }
        if (!*holder || !(*holder)->active) {
            return no_invitation("whoever this link is for is no longer active here");
        }
    }
    if (!invitation.made_by.is_nil()) {
        const auto maker = store_.person(invitation.made_by);
        if (!maker) {
            return maker.problems();
        }
        const bool may =
            *maker &&
            (invitation.person.is_nil() ? may_invite(**maker, invitation.role) : may_help(**maker));
        if (!may) {
            return no_invitation("whoever made this link may no longer invite");
        }
    }
    return invitation;
}

Result<Invitation> People::invitation(const std::string& token) {
    const std::lock_guard lock(mutex_);
    return invitation_now(token);
}

Result<Done> People::join_now(const std::string& token, Person& person, const std::string& hash) {
    const auto invitation = invitation_now(token);
    if (!invitation) {
        return invitation.problems();
    }
    if (!invitation->person.is_nil()) {
        return return_now(*invitation, person, hash);
    }
    const auto same_name = store_.person_named(person.name);
    if (!same_name) {
        return same_name.problems();
    }
    if (*same_name) {
        return name_taken(person.name);
    }
    person.role = invitation->role;
    auto done = store_.add(person, hash);
    if (done) {
        done = store_.use_invitation(hash_token(token), person.id);
    }
    if (done) {
        done = note_now(person.id, "joined", std::string(word_of(person.role)));
    }
    return done;
}

Result<Done> People::return_now(const Invitation& invitation, Person& person,
                                const std::string& hash) {
    const auto found = store_.person_named(person.name);
    if (!found) {
        return found.problems();
    }
    if (!*found || (*found)->id != invitation.person) {
        return Problem{ProblemKind::conflict,
                       {.file = "", .line = 0, .field = "name"},
                       "this link is for " + invitation.name_hint,
                       "write that name, or ask an owner for a link of your own"};
    }
    person = **found;
    auto done = store_.set_password(person.id, hash);
    if (done) {
        done = store_.end_sessions_of(person.id);
    }
    if (done) {
        done = store_.use_invitation(invitation.token, person.id);
    }
    return done ? note_now(person.id, "chose a new password by a link", "") : done;
}

Result<SignedIn> People::accept(const std::string& token, const std::string& name,
                                const std::string& password) {
    // Before the costly hash, so that only somebody with a link can cause it.
    if (const auto known = invitation(token); !known) {
        return known.problems();
    }
    Problems problems;
    if (auto wrong = wrong_name("name", name)) {
        problems.push_back(*wrong);
    }
    if (auto wrong = wrong_password("password", password)) {
        problems.push_back(*wrong);
    }
    if (!problems.empty()) {
        return problems;
    }
    const auto hashed = hash(password);
    if (!hashed) {
        return hashed.problems();
    }
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    Person person{.id = random_id(clock_()),
                  .name = name,
                  .role = Role::viewer,
                  .created = clock_(),
                  .active = true};
    if (auto joined = join_now(token, person, *hashed); !joined) {
        return joined.problems();
    }
    auto session = start_session_now(person);
    if (!session) {
        return session.problems();
    }
    if (auto done = transaction->commit(); !done) {
        return done.problems();
    }
    return SignedIn{.person = std::move(person), .token = std::move(*session)};
}

Result<std::vector<Person>> People::everybody() {
    const std::lock_guard lock(mutex_);
    return store_.people();
}

Result<Done> People::change_now(const Person& before, const Person& after, const Person& by) {
    const auto owners = store_.active_owners();
    if (!owners) {
        return owners.problems();
    }
    const auto owns = [](const Person& one) { return one.active && one.role == Role::owner; };
    if (owns(before) && !owns(after) && *owners == 1) {
        return Problem{ProblemKind::conflict,
                       {},
                       before.name + " is the last owner of this season",
                       "make somebody else an owner first"};
    }
    auto done = store_.change(before.id, after.role, after.active);
    if (done && after.role != before.role) {
        done = note_now(by.id, "changed role",
                        before.name + ": " + std::string(word_of(before.role)) + " to " +
                            std::string(word_of(after.role)));
    }
    if (done && after.active != before.active) {
        done = note_now(by.id, after.active ? "let back in" : "shut out", before.name);
    }
    if (done && !after.active) {
        done = store_.end_sessions_of(before.id);
    }
    return done;
}

Result<Person> People::change(const Uuid& id, std::optional<Role> role, std::optional<bool> active,
                              const Person& by) {
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    const auto found = store_.person(id);
    if (!found) {
        return found.problems();
    }
    if (!*found) {
        return nobody_has_it();
    }
    Person after = **found;
    after.role = role.value_or(after.role);
    after.active = active.value_or(after.active);
    auto done = change_now(**found, after, by);
    if (done) {
        done = transaction->commit();
    }
    if (!done) {
        return done.problems();
    }
    return after;
}

Result<std::vector<AuditEntry>> People::audit() {
    constexpr std::int64_t most = 1000;
    const std::lock_guard lock(mutex_);
    return store_.audit(most);
}

}  // namespace beetwright::app
