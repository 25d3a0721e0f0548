// Who works on a season over the network: joining by invitation, signing in, and what the owner
// decides about people. docs/guide/serving.md.
//
// Nobody can make an account alone: the first owner joins by a link that the server prints on the
// machine it runs on, everybody else by an invitation from somebody who is there.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "app/attempts.hpp"
#include "app/gate.hpp"
#include "records/people_store.hpp"

namespace beetwright::app {

using records::AuditEntry;
using records::Person;

inline constexpr std::chrono::days kSessionLasts{30};  ///< from when it was last used
inline constexpr std::chrono::days kInvitationLasts{7};
/// A key to what somebody has already is shorter-lived than one to a new place.
inline constexpr std::chrono::days kPasswordLinkLasts{1};

/// Somebody who has just signed in, and the token that proves it from now on.
struct SignedIn {
    Person person;
    std::string token;
};

/// Somebody who asks, by a session's token.
struct Present {
    Person person;
    bool prolonged = false;  ///< the session lasts longer than it did: tell the browser
};

struct Invited {
    std::string token;
    Instant expires;
};

struct PeopleOptions {
    /// Each check of a password takes 64 MB.
    unsigned passwords_at_once = 2;
    std::chrono::milliseconds patience{500};
};

/// May be called from several threads at once.
class People {
 public:
    using Clock = std::function<Instant()>;
    static Result<std::unique_ptr<People>> open(const std::string& season_file, Clock clock,
                                                const PeopleOptions& options = {});

    /// While nobody owns the season: the token of a new invitation for an owner; earlier ones are
    /// void. Nothing once somebody does.
    Result<std::optional<std::string>> first_invitation();
    /// Problem: `by` may not invite to this role.
    Result<Invited> invite(Role role, const std::string& name_hint, const Person& by);
    /// By whoever runs the machine and so holds the season file anyway: to any role.
    Result<Invited> invite_from_machine(Role role);
    /// A link by which somebody who is here chooses a new password, in place of any made earlier;
    /// by an owner. Problem: nobody active has this id; `by` may not.
    Result<Invited> link_for_password(const Uuid& id, const Person& by);
    /// Problem: there is none, it was used, it has expired, or whoever made it may no longer.
    Result<records::Invitation> invitation(const std::string& token);
    /// Joins; or, where the link is for somebody who is here, whose name this must be, sets the
    /// password and ends all sessions that person had.
    Result<SignedIn> accept(const std::string& token, const std::string& name,
                            const std::string& password);

    /// Problems: denied, wrong name or password; limit, too many failures (then `wait` says how
    /// long); outside, too many at once.
    Result<SignedIn> sign_in(const std::string& name, const std::string& password,
                             const std::string& peer);
    std::chrono::seconds wait(const std::string& name, const std::string& peer);
    /// Nothing where the token is of no session, or of one that has ended.
    Result<std::optional<Present>> present(const std::string& token);
    Result<Done> sign_out(const std::string& token);
    Result<Done> sign_out_everywhere(const Person& person);
    /// Ends all other sessions of the person.
    Result<Done> change_password(const Person& person, const std::string& current,
                                 const std::string& fresh, const std::string& token,
                                 const std::string& peer);

    Result<std::vector<Person>> everybody();
    /// Problem: nobody has this id; or it is the last active owner who would be one no more.
    Result<Person> change(const Uuid& id, std::optional<Role> role, std::optional<bool> active,
                          const Person& by);
    Result<std::vector<AuditEntry>> audit();

 private:
    People(records::PeopleStore store, Clock clock, const PeopleOptions& options,
           std::string nobodys_hash)
        : store_(std::move(store)),
          clock_(std::move(clock)),
          gate_(options.passwords_at_once, options.patience),
          nobodys_hash_(std::move(nobodys_hash)) {}

    // Those that end in _now want the mutex held, and a transaction where they change anything.
    /// `by` is nil for whoever runs the machine.
    Result<Invited> invite_as(Role role, const std::string& name_hint, const Uuid& by);
    Result<Done> note_now(const Uuid& person, std::string what, std::string about);
    Result<records::Invitation> invitation_now(const std::string& token);
    Result<std::string> start_session_now(const Person& person);
    Result<Done> join_now(const std::string& token, Person& person, const std::string& hash);
    /// `person` becomes who the invitation is for.
    Result<Done> return_now(const records::Invitation& invitation, Person& person,
                            const std::string& hash);
    Result<Done> change_now(const Person& before, const Person& after, const Person& by);
    Result<Done> replace_password(const Person& person, const std::string& hash,
                                  const std::string& token);
    /// Waits for the gate and hashes.
    Result<std::string> hash(const std::string& password);
    Result<bool> verify(const std::string& hash, const std::string& password);
    /// Whether this is the person's password, counting failures.
    Result<bool> try_password(const std::optional<Person>& person, const std::string& name,
                              const std::string& password, const std::string& peer);

    std::mutex mutex_;  ///< of the store; never held while a password is hashed
    records::PeopleStore store_;
    Clock clock_;
    Attempts attempts_;
    Gate gate_;
    /// Checked where nobody has the name asked for, so that it takes as long.
    std::string nobodys_hash_;
};

}  // namespace beetwright::app
