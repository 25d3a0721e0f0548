#include "app/people.hpp"

#include <gtest/gtest.h>
#include <time.h>  // POSIX: the processor time of a thread

#include <chrono>
#include <fstream>
#include <iterator>
#include <string>
#include <thread>
#include <vector>

#include "app/people_fixture.hpp"

namespace beetwright::app {
namespace {

using namespace std::chrono_literals;
using std::chrono::days;
using std::chrono::hours;

class PeopleTest : public SeasonOfPeople {};

TEST_F(PeopleTest, TheFirstOwnerJoinsByALinkThatEachStartMakesAnew) {
    const auto first = open()->first_invitation().value();
    auto people = open();
    const auto second = people->first_invitation().value();
    ASSERT_TRUE(first && second);
    EXPECT_NE(*first, *second);
    EXPECT_EQ(kind_of(people->accept(*first, "Anna", kPassword)), ProblemKind::missing);
    const auto anna = must_join(*people, *second, "Anna");
    EXPECT_EQ(anna.person.role, Role::owner);
    EXPECT_EQ(kind_of(people->accept(*second, "Bert", kPassword)), ProblemKind::missing);
    EXPECT_FALSE(people->first_invitation().value()) << "somebody owns the season now";
    EXPECT_FALSE(open()->first_invitation().value());
    EXPECT_EQ(people->present(anna.token).value()->person.name, "Anna");
}

TEST_F(PeopleTest, AnInvitationIsForOnceAndForSevenDays) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto used = people->invite(Role::operator_, "Bert", anna.person).value();
    const auto late = people->invite(Role::viewer, "", anna.person).value();
    EXPECT_EQ(people->invitation(used.token).value().name_hint, "Bert");
    EXPECT_EQ(must_join(*people, used.token, "Bert").person.role, Role::operator_);
    EXPECT_NE(words_of(people->accept(used.token, "Carl", kPassword)).find("has been used"),
              std::string::npos);
    pass(days(7) - 1ms);
    EXPECT_TRUE(people->invitation(late.token).ok());
    pass(1ms);
    EXPECT_NE(words_of(people->invitation(late.token)).find("expired"), std::string::npos);
    EXPECT_EQ(kind_of(people->accept(late.token, "Carl", kPassword)), ProblemKind::missing);
    EXPECT_EQ(kind_of(people->accept("", "Carl", kPassword)), ProblemKind::missing);
}

TEST_F(PeopleTest, ManagersInviteViewersAndOperatorsOnly) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto max = join(*people, "Max", Role::manager, anna.person);
    const auto olga = join(*people, "Olga", Role::operator_, anna.person);
    EXPECT_TRUE(people->invite(Role::viewer, "", max.person).ok());
    EXPECT_TRUE(people->invite(Role::operator_, "", max.person).ok());
    EXPECT_EQ(kind_of(people->invite(Role::manager, "", max.person)), ProblemKind::denied);
    EXPECT_EQ(kind_of(people->invite(Role::owner, "", max.person)), ProblemKind::denied);
    EXPECT_EQ(kind_of(people->invite(Role::viewer, "", olga.person)), ProblemKind::denied);
    EXPECT_TRUE(people->invite(Role::owner, "", anna.person).ok());
}

TEST_F(PeopleTest, InvitationsOfSomebodyShutOutAreVoid) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto max = join(*people, "Max", Role::manager, anna.person);
    const auto link = people->invite(Role::viewer, "", max.person).value();
    ASSERT_TRUE(people->change(max.person.id, std::nullopt, false, anna.person).ok());
    EXPECT_EQ(kind_of(people->accept(link.token, "Mole", kPassword)), ProblemKind::missing);
    EXPECT_EQ(people->everybody().value().size(), 2U);
}

TEST_F(PeopleTest, NamesAreOneInLargeAndSmallLetters) {
    auto people = open();
    const auto anna = first_owner(*people, "Anna");
    const auto link = people->invite(Role::viewer, "", anna.person).value();
    EXPECT_EQ(kind_of(people->accept(link.token, "ANNA", kPassword)), ProblemKind::conflict);
    for (const std::string& name :
         {std::string(), std::string(" Bert"), std::string("Bert "), std::string("a\nb"),
          std::string("a\0b", 3), std::string(81, 'x')}) {
        EXPECT_EQ(kind_of(people->accept(link.token, name, kPassword)), ProblemKind::input) << name;
    }
    EXPECT_TRUE(people->sign_in("aNNa", kPassword, "peer").ok());
    must_join(*people, link.token, "Änne O'Brien-Żak");  // a refusal uses no invitation up
}

TEST_F(PeopleTest, PasswordsAreOfTenLettersTo200Bytes) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto link = people->invite(Role::viewer, "", anna.person).value();
    EXPECT_EQ(kind_of(people->accept(link.token, "Bert", "123456789")), ProblemKind::input);
    EXPECT_EQ(kind_of(people->accept(link.token, "Bert", std::string(201, 'x'))),
              ProblemKind::input);
    EXPECT_EQ(kind_of(people->accept(link.token, "Bert", "ääääääääx")), ProblemKind::input)
        << "nine letters in 17 bytes";
    EXPECT_TRUE(people->accept(link.token, "Bert", std::string(200, 'x')).ok());
    EXPECT_TRUE(people->sign_in("Bert", std::string(200, 'x'), "peer").ok());
    EXPECT_FALSE(people->sign_in("Bert", std::string(199, 'x'), "peer").ok());
}

TEST_F(PeopleTest, WhateverIsWrongWithASignInIsSaidInTheSameWords) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto bert = join(*people, "Bert", Role::viewer, anna.person);
    ASSERT_TRUE(people->change(bert.person.id, std::nullopt, false, anna.person).ok());
    const auto wrong = people->sign_in("Anna", "beets in row", "peer");
    const auto unknown = people->sign_in("Nobody", kPassword, "peer");
    const auto shut_out = people->sign_in("Bert", kPassword, "peer");
    EXPECT_EQ(kind_of(wrong), ProblemKind::denied);
    EXPECT_EQ(words_of(wrong), words_of(unknown));
    EXPECT_EQ(words_of(wrong), words_of(shut_out));
}

TEST_F(PeopleTest, ASessionLastsThirtyDaysFromItsLastUse) {
    auto people = open();
    const auto anna = first_owner(*people);
    pass(59min);
    EXPECT_FALSE(people->present(anna.token).value()->prolonged) << "no need to write yet";
    for (int month = 0; month < 3; ++month) {
        pass(days(29));
        const auto present = people->present(anna.token).value();
        ASSERT_TRUE(present);
        EXPECT_TRUE(present->prolonged);
    }
    pass(days(30));
    EXPECT_FALSE(people->present(anna.token).value());
    EXPECT_FALSE(people->present("").value());
    EXPECT_FALSE(people->present("made-up").value());
}

TEST_F(PeopleTest, SigningOutHereAndEverywhere) {
    auto people = open();
    const auto tablet = first_owner(*people);
    const auto desk = people->sign_in("Anna", kPassword, "peer").value();
    const auto phone = people->sign_in("Anna", kPassword, "peer").value();
    ASSERT_TRUE(people->sign_out(desk.token).ok());
    EXPECT_FALSE(people->present(desk.token).value());
    EXPECT_TRUE(people->present(tablet.token).value());
    ASSERT_TRUE(people->sign_out_everywhere(tablet.person).ok());
    EXPECT_FALSE(people->present(tablet.token).value());
    EXPECT_FALSE(people->present(phone.token).value());
    EXPECT_TRUE(people->sign_out(desk.token).ok()) << "once more does no harm";
}

TEST_F(PeopleTest, ANewPasswordEndsTheOtherSessions) {
    auto people = open();
    const auto tablet = first_owner(*people);
    const auto desk = people->sign_in("Anna", kPassword, "peer").value();
    const auto change = [&](const std::string& current, const std::string& fresh) {
        return people->change_password(desk.person, current, fresh, desk.token, "peer");
    };
    EXPECT_EQ(kind_of(change("not the one", "sugar in beets")), ProblemKind::denied);
    EXPECT_EQ(kind_of(change(kPassword, "short")), ProblemKind::input);
    EXPECT_TRUE(people->present(tablet.token).value());
    ASSERT_TRUE(change(kPassword, "sugar in beets").ok());
    EXPECT_TRUE(people->present(desk.token).value());
    EXPECT_FALSE(people->present(tablet.token).value());
    EXPECT_EQ(kind_of(people->sign_in("Anna", kPassword, "peer")), ProblemKind::denied);
    EXPECT_TRUE(people->sign_in("Anna", "sugar in beets", "peer").ok());
}

TEST_F(PeopleTest, ALinkLetsWhoeverForgotThePasswordChooseAnother) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto bert = join(*people, "Bert", Role::manager, anna.person);
    const auto earlier = people->link_for_password(bert.person.id, anna.person).value();
    const auto link = people->link_for_password(bert.person.id, anna.person).value();
    EXPECT_EQ(kind_of(people->invitation(earlier.token)), ProblemKind::missing)
        << "the newest only";
    EXPECT_EQ(people->invitation(link.token)->person, bert.person.id);
    EXPECT_TRUE(people->present(bert.token).value()) << "made is not used";
    EXPECT_NE(words_of(people->accept(link.token, "Carl", "sugar in beets")).find("is for Bert"),
              std::string::npos);
    const auto back = people->accept(link.token, "bert", "sugar in beets").value();
    EXPECT_EQ(back.person.id, bert.person.id);
    EXPECT_EQ(back.person.role, Role::manager);
    EXPECT_FALSE(people->present(bert.token).value()) << "whoever has the old tablet is out";
    EXPECT_TRUE(people->present(back.token).value());
    EXPECT_EQ(kind_of(people->sign_in("Bert", kPassword, "peer")), ProblemKind::denied);
    EXPECT_TRUE(people->sign_in("Bert", "sugar in beets", "peer").ok());
    EXPECT_EQ(kind_of(people->accept(link.token, "Bert", "beets in sugar")), ProblemKind::missing);
    EXPECT_EQ(people->everybody()->size(), 2U);
    const auto audit = people->audit().value();
    EXPECT_EQ(audit[1].what, "chose a new password by a link");
    EXPECT_EQ(audit[1].person, bert.person.id);
    EXPECT_EQ(audit[2].what + ": " + audit[2].about, "made a password link: Bert");
}

TEST_F(PeopleTest, APasswordLinkEndsInManyWays) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto olga = join(*people, "Olga", Role::owner, anna.person);
    const auto bert = join(*people, "Bert", Role::viewer, anna.person);
    const auto link = [&] { return people->link_for_password(bert.person.id, olga.person); };
    const auto is_void = [&](const std::string& token) {
        return kind_of(people->accept(token, "Bert", "sugar in beets")) == ProblemKind::missing;
    };
    const auto late = link()->token;
    pass(kPasswordLinkLasts);
    EXPECT_TRUE(is_void(late));
    const auto changed = link()->token;
    const auto session = people->sign_in("Bert", kPassword, "peer").value().token;
    ASSERT_TRUE(
        people->change_password(bert.person, kPassword, "beets in sugar", session, "peer").ok());
    EXPECT_TRUE(is_void(changed)) << "the password was known after all";
    const auto of_olga = link()->token;
    ASSERT_TRUE(people->change(olga.person.id, Role::manager, std::nullopt, anna.person).ok());
    EXPECT_TRUE(is_void(of_olga)) << "who made it is no owner any more";
    const auto of_anna = people->link_for_password(bert.person.id, anna.person)->token;
    ASSERT_TRUE(people->change(bert.person.id, std::nullopt, false, anna.person).ok());
    EXPECT_TRUE(is_void(of_anna)) << "shut out";
    EXPECT_EQ(kind_of(people->link_for_password(bert.person.id, anna.person)),
              ProblemKind::conflict);
    EXPECT_EQ(kind_of(people->link_for_password(Uuid(), anna.person)), ProblemKind::missing);
    EXPECT_EQ(kind_of(people->link_for_password(anna.person.id,
                                                people->present(olga.token).value()->person)),
              ProblemKind::denied);
}

TEST_F(PeopleTest, RolesAndShuttingOutCountAtOnce) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto bert = join(*people, "Bert", Role::viewer, anna.person);
    ASSERT_TRUE(people->change(bert.person.id, Role::manager, std::nullopt, anna.person).ok());
    EXPECT_EQ(people->present(bert.token).value()->person.role, Role::manager);
    ASSERT_TRUE(people->change(bert.person.id, std::nullopt, false, anna.person).ok());
    EXPECT_FALSE(people->present(bert.token).value());
    ASSERT_TRUE(people->change(bert.person.id, std::nullopt, true, anna.person).ok());
    EXPECT_FALSE(people->present(bert.token).value()) << "sessions do not come back";
    EXPECT_TRUE(people->sign_in("Bert", kPassword, "peer").ok());
    EXPECT_EQ(kind_of(people->change(Uuid(), Role::viewer, std::nullopt, anna.person)),
              ProblemKind::missing);
}

TEST_F(PeopleTest, ASeasonKeepsAnOwner) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto& id = anna.person.id;
    EXPECT_EQ(kind_of(people->change(id, Role::manager, std::nullopt, anna.person)),
              ProblemKind::conflict);
    EXPECT_EQ(kind_of(people->change(id, std::nullopt, false, anna.person)), ProblemKind::conflict);
    EXPECT_TRUE(people->change(id, Role::owner, true, anna.person).ok()) << "nothing changes";
    const auto olga = join(*people, "Olga", Role::owner, anna.person);
    EXPECT_TRUE(people->change(id, Role::viewer, std::nullopt, olga.person).ok());
    EXPECT_EQ(kind_of(people->change(olga.person.id, std::nullopt, false, olga.person)),
              ProblemKind::conflict);
    // An owner who is shut out does not count.
    ASSERT_TRUE(people->change(id, Role::owner, false, olga.person).ok());
    EXPECT_EQ(kind_of(people->change(olga.person.id, Role::viewer, std::nullopt, olga.person)),
              ProblemKind::conflict);
}

TEST_F(PeopleTest, AfterFiveFailuresANameWaits) {
    auto people = open();
    const auto anna = first_owner(*people);
    join(*people, "Bert", Role::viewer, anna.person);
    for (int i = 0; i < 3; ++i) {
        EXPECT_TRUE(people->sign_in("Anna", kPassword, "peer").ok()) << "successes do not count";
    }
    for (int i = 0; i < 5; ++i) {
        EXPECT_EQ(kind_of(people->sign_in(i % 2 == 0 ? "Anna" : "anna", "wrong", "peer")),
                  ProblemKind::denied);
        pass(1min);
    }
    EXPECT_EQ(kind_of(people->sign_in("Anna", kPassword, "elsewhere")), ProblemKind::limit)
        << "not even the right one";
    EXPECT_EQ(people->wait("Anna", "elsewhere"), 10min) << "the first was five minutes ago";
    EXPECT_TRUE(people->present(anna.token).value()) << "who is signed in stays so";
    EXPECT_TRUE(people->sign_in("Bert", kPassword, "peer").ok());
    pass(10min);
    EXPECT_EQ(people->wait("Anna", "peer"), 0s);
    EXPECT_TRUE(people->sign_in("Anna", kPassword, "peer").ok());
}

// By the processor's time in this thread, which does the work: what else the machine does is not in
// it.
TEST_F(PeopleTest, ANameThatNobodyHasCostsTheSameWork) {
    auto people = open();
    first_owner(*people);
    const auto work_s = [&](const char* name) {
        const auto now_s = [] {
            timespec time{};
            clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
            return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
        };
        const double start_s = now_s();
        EXPECT_FALSE(people->sign_in(name, "wrong", "peer").ok());
        return now_s() - start_s;
    };
    const double known = work_s("Anna");
    const double unknown = work_s("Nobody");
    EXPECT_GT(unknown, 0.5 * known);
    EXPECT_LT(unknown, 2.0 * known);
}

TEST_F(PeopleTest, TooManyAtOnceAreSentAwayAndThatIsNoFailure) {
    auto people = open({.passwords_at_once = 1, .patience = 200ms});
    first_owner(*people);
    people = open({.passwords_at_once = 0, .patience = 1ms});
    for (int i = 0; i < 7; ++i) {
        const auto refused = people->sign_in("Anna", kPassword, "peer");
        EXPECT_EQ(kind_of(refused), ProblemKind::outside);
        EXPECT_NE(words_of(refused).find("too many people"), std::string::npos);
    }
}

TEST_F(PeopleTest, ManyAtATimeDoNotDisturbEachOther) {
    auto people = open({.passwords_at_once = 2, .patience = 20s});
    const auto anna = first_owner(*people);
    std::vector<std::thread> threads;
    std::atomic<int> right = 0;
    for (int t = 0; t < 4; ++t) {
        threads.emplace_back([&, t] {
            right += people->sign_in("Anna", kPassword, "peer").ok() ? 1 : 0;
            for (int i = 0; i < 20; ++i) {
                right += people->present(anna.token).value() ? 1 : 0;
            }
            const auto link = people->invite(Role::viewer, "", anna.person).value();
            right += people->accept(link.token, "Viewer " + std::to_string(t), kPassword).ok();
        });
    }
    for (auto& thread : threads) {
        thread.join();
    }
    EXPECT_EQ(right, 4 * 22);
    EXPECT_EQ(people->everybody().value().size(), 5U);
}

TEST_F(PeopleTest, OneLinkLetsOnePersonInHoweverManyTryAtOnce) {
    auto people = open({.passwords_at_once = 4, .patience = 20s});
    const auto anna = first_owner(*people);
    const auto link = people->invite(Role::viewer, "", anna.person).value();
    std::vector<std::thread> threads;
    std::atomic<int> joined = 0;
    for (int t = 0; t < 4; ++t) {
        threads.emplace_back([&, t] {
            joined += people->accept(link.token, "V" + std::to_string(t), kPassword).ok() ? 1 : 0;
        });
    }
    for (auto& thread : threads) {
        thread.join();
    }
    EXPECT_EQ(joined, 1);
    EXPECT_EQ(people->everybody().value().size(), 2U);
}

TEST_F(PeopleTest, NeitherPasswordsNorTokensAreInTheFile) {
    auto people = open();
    const auto first = people->first_invitation().value().value();
    const auto anna = must_join(*people, first, "Anna Rüb");
    const auto link = people->invite(Role::viewer, "", anna.person).value();
    const auto again = people->sign_in("Anna Rüb", kPassword, "peer").value();
    std::string bytes;
    for (const char* tail : {"", "-wal", "-shm"}) {
        std::ifstream in(path() + tail, std::ios::binary);
        bytes.append(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    EXPECT_NE(bytes.find("Anna Rüb"), std::string::npos) << "this is where it would be";
    EXPECT_NE(bytes.find("$argon2id$"), std::string::npos);
    for (const std::string& secret :
         {std::string(kPassword), first, anna.token, link.token, again.token}) {
        EXPECT_EQ(bytes.find(secret), std::string::npos);
    }
    EXPECT_NE(anna.token, again.token);
    EXPECT_EQ(again.token.size(), 43U) << "32 bytes in base64url";
    EXPECT_EQ(again.token.find_first_of("+/="), std::string::npos);
}

TEST_F(PeopleTest, WhoDidWhatIsKept) {
    auto people = open();
    const auto anna = first_owner(*people);
    pass(hours(1));
    const auto bert = join(*people, "Bert", Role::viewer, anna.person);
    ASSERT_TRUE(people->change(bert.person.id, Role::operator_, std::nullopt, anna.person).ok());
    ASSERT_TRUE(people->change(bert.person.id, std::nullopt, false, anna.person).ok());
    const auto audit = people->audit().value();
    ASSERT_EQ(audit.size(), 5U) << "newest first";
    EXPECT_EQ(audit[0].what + " " + audit[0].about, "shut out Bert");
    EXPECT_EQ(audit[1].what + " " + audit[1].about, "changed role Bert: viewer to operator");
    EXPECT_EQ(audit[2].what + " " + audit[2].about, "joined viewer");
    EXPECT_EQ(audit[2].person, bert.person.id);
    EXPECT_EQ(audit[3].what + " " + audit[3].about, "invited viewer");
    EXPECT_EQ(audit[3].person, anna.person.id);
    EXPECT_EQ(audit[4].at + hours(1), audit[3].at);
}

TEST_F(PeopleTest, WhoeverRunsTheMachineCanInviteAnOwner) {
    auto people = open();
    const auto anna = first_owner(*people);
    const auto invited = people->invite_from_machine(Role::owner);
    ASSERT_TRUE(invited.ok());
    EXPECT_EQ(invited->expires, now_.load() + kInvitationLasts);
    const auto note = people->audit().value().front();
    EXPECT_EQ(note.what + ": " + note.about, "invited on the command line: owner");
    EXPECT_TRUE(note.person.is_nil());
    // The server starts anew: that voids what an earlier start made, and nothing else.
    EXPECT_FALSE(people->first_invitation().value());
    const auto again = must_join(*people, invited->token, "Anna again");
    EXPECT_EQ(again.person.role, Role::owner);
    EXPECT_FALSE(people->accept(invited->token, "Bert", kPassword).ok()) << "once";
    EXPECT_TRUE(people->change(anna.person.id, std::nullopt, false, again.person).ok());
}

TEST(People, OfASeasonThatIsNotThere) {
    EXPECT_FALSE(People::open("/nowhere/season.beet", [] { return Instant(); }).ok());
}

}  // namespace
}  // namespace beetwright::app
