// Signing in and out: the part of People that checks passwords.
#include "app/credentials.hpp"
#include "app/people.hpp"
#include "app/secrets.hpp"

namespace beetwright::app {
namespace {

/// A session is prolonged at most this often, so that reading does not write at every request.
constexpr std::chrono::hours kProlongedEvery{1};

Problem too_many_at_once() {
    return {ProblemKind::outside,
            {},
            "too many people are signing in at this moment",
            "try again in a few seconds"};
}

Problem too_many_failures() {
    return {ProblemKind::limit,
            {},
            "there were too many wrong passwords for this name or from this device",
            "wait a quarter of an hour, then try again"};
}

}  // namespace

Result<std::string> People::hash(const std::string& password) {
    const auto place = gate_.enter();
    return place ? hash_password(password) : Result<std::string>(too_many_at_once());
}

Result<bool> People::verify(const std::string& hash, const std::string& password) {
    const auto place = gate_.enter();
    return place ? verify_password(hash, password) : Result<bool>(too_many_at_once());
}

Result<bool> People::try_password(const std::optional<Person>& person, const std::string& name,
                                  const std::string& password, const std::string& peer) {
    std::string kept = nobodys_hash_;
    if (person) {
        const std::lock_guard lock(mutex_);
        auto found = store_.password_of(person->id);
        if (!found) {
            return found.problems();
        }
        kept = std::move(*found);
    }
    const Instant now = clock_();
    if (!attempts_.begin(name, peer, now)) {
        return too_many_failures();
    }
    const auto right = verify(kept, password);
    // Only a wrong password counts, not a busy machine.
    if (!right || (*right && person)) {
        attempts_.take_back(name, peer, now);
    }
    if (!right) {
        return right.problems();
    }
    return *right && person && person->active;
}

Result<std::string> People::start_session_now(const Person& person) {
    auto token = random_token();
    const Instant now = clock_();
    auto done = store_.forget_expired(now);
    if (done) {
        done = store_.add(records::Session{.token = hash_token(token),
                                           .person = person.id,
                                           .created = now,
                                           .seen = now,
                                           .expires = now + kSessionLasts});
    }
    if (!done) {
        return done.problems();
    }
    return token;
}

Result<SignedIn> People::sign_in(const std::string& name, const std::string& password,
                                 const std::string& peer) {
    std::optional<Person> person;
    {
        const std::lock_guard lock(mutex_);
        auto found = store_.person_named(name);
        if (!found) {
            return found.problems();
        }
        person = std::move(*found);
    }
    const auto right = try_password(person, name, password, peer);
    if (!right) {
        return right.problems();
    }
    if (!*right) {
        // The same words whatever was wrong, so that nobody learns who is here by asking.
        return Problem{ProblemKind::denied,
                       {},
                       "the name or the password is not right",
                       "try again, or ask an owner for an invitation"};
    }
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    auto token = start_session_now(*person);
    if (!token) {
        return token.problems();
    }
    auto done = note_now(person->id, "signed in", "");
    if (done) {
        done = transaction->commit();
    }
    if (!done) {
        return done.problems();
    }
    return SignedIn{.person = std::move(*person), .token = std::move(*token)};
}

std::chrono::seconds People::wait(const std::string& name, const std::string& peer) {
    return attempts_.wait(name, peer, clock_());
}

Result<std::optional<Present>> People::present(const std::string& token) {
    if (token.empty()) {
        return std::optional<Present>();
    }
    const auto hashed = hash_token(token);
    const std::lock_guard lock(mutex_);
    const auto session = store_.session(hashed);
    if (!session) {
        return session.problems();
    }
    const Instant now = clock_();
    if (!*session || (*session)->expires <= now) {
        return std::optional<Present>();
    }
    auto person = store_.person((*session)->person);
    if (!person) {
        return person.problems();
    }
    if (!*person || !(*person)->active) {
        return std::optional<Present>();
    }
    Present present{.person = std::move(**person)};
    if ((*session)->seen + kProlongedEvery <= now) {
        // Where this fails the session goes on as it was; the next request tries again.
        present.prolonged = store_.prolong(hashed, now, now + kSessionLasts).ok();
    }
    return std::optional(std::move(present));
}

Result<Done> People::sign_out(const std::string& token) {
    const auto hashed = hash_token(token);
    const std::lock_guard lock(mutex_);
    const auto session = store_.session(hashed);
    if (!session) {
        return session.problems();
    }
    if (!*session) {
        return Done{};
    }
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    auto done = store_.end_session(hashed);
    if (done) {
        done = note_now((*session)->person, "signed out", "");
    }
    return done ? transaction->commit() : done;
}

Result<Done> People::sign_out_everywhere(const Person& person) {
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    auto done = store_.end_sessions_of(person.id);
    if (done) {
        done = note_now(person.id, "signed out everywhere", "");
    }
    return done ? transaction->commit() : done;
}

Result<Done> People::replace_password(const Person& person, const std::string& hash,
                                      const std::string& token) {
    const std::lock_guard lock(mutex_);
    auto transaction = store_.begin();
    if (!transaction) {
        return transaction.problems();
    }
    auto done = store_.set_password(person.id, hash);
    if (done) {
        done = store_.end_sessions_of(person.id, hash_token(token));
    }
    if (done) {
        done = store_.void_password_links_of(person.id);
    }
    if (done) {
        done = note_now(person.id, "changed password", "");
    }
    return done ? transaction->commit() : done;
}

Result<Done> People::change_password(const Person& person, const std::string& current,
                                     const std::string& fresh, const std::string& token,
                                     const std::string& peer) {
    if (auto wrong = wrong_password("new_password", fresh)) {
        return *wrong;
    }
    const auto right = try_password(person, person.name, current, peer);
    if (!right) {
        return right.problems();
    }
    if (!*right) {
        return Problem{ProblemKind::denied,
                       {.file = "", .line = 0, .field = "password"},
                       "this is not your password now",
                       "write the one that you signed in with"};
    }
    const auto hashed = hash(fresh);
    return hashed ? replace_password(person, *hashed, token) : Result<Done>(hashed.problems());
}

}  // namespace beetwright::app
