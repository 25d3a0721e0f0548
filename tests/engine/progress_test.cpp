// Long questions tell how far they are, and stop when they are told to.
#include <gtest/gtest.h>

#include <atomic>
#include <mutex>
#include <vector>

#include "demo_season/invent.hpp"
#include "engine/report_question.hpp"
#include "io/ledger_json.hpp"

namespace beetwright::engine {
namespace {

const ledger::Season& demo() {
    static const ledger::Season season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}

/// Notes what it is told, and wants no more after so many calls.
class Follower final : public Progress {
 public:
    explicit Follower(std::size_t patience = 1'000'000'000) : patience_(patience) {}
    bool go_on(double share) override {
        const std::lock_guard lock(mutex_);
        shares_.push_back(share);
        return shares_.size() <= patience_;
    }
    [[nodiscard]] const std::vector<double>& shares() const { return shares_; }

 private:
    std::size_t patience_;
    std::mutex mutex_;
    std::vector<double> shares_;
};

LedgerQuestion long_question() {
    LedgerQuestion question;
    question.draws = 1500;
    question.groups = {GroupBy::machine};
    return question;
}

TEST(Progress, RisesFromNothingToAboutTheWhole) {
    WorkerPool pool(1);
    Follower follower;
    ASSERT_TRUE(ask(demo(), long_question(), pool, &follower).ok());
    const auto& shares = follower.shares();
    ASSERT_GT(shares.size(), 200U);
    EXPECT_EQ(shares.front(), 0.0);
    for (std::size_t i = 1; i < shares.size(); ++i) {
        EXPECT_GE(shares[i], shares[i - 1]);
        // No step so long that nobody could stop it for a tenth of the work.
        EXPECT_LT(shares[i] - shares[i - 1], 0.1);
    }
    // What was counted is what was foreseen, but for looks that cover a thousand draws at once.
    EXPECT_GT(shares.back(), 0.99);
}

TEST(Progress, AnswersAreTheSameToTheLastBitWhetherOrNotAnybodyFollows) {
    for (const unsigned threads : {1U, 3U}) {
        WorkerPool pool(threads);
        Follower follower;
        const auto followed = ask(demo(), long_question(), pool, &follower);
        const auto alone = ask(demo(), long_question(), pool);
        ASSERT_TRUE(followed.ok() && alone.ok());
        EXPECT_EQ(io::ledger_json(*followed, "EUR"), io::ledger_json(*alone, "EUR"));
    }
}

TEST(Progress, StopsWhereverItIs) {
    for (const unsigned threads : {1U, 3U}) {
        WorkerPool pool(threads);
        Follower whole;
        ASSERT_TRUE(ask(demo(), long_question(), pool, &whole).ok());
        const auto all = whole.shares().size();
        for (const std::size_t patience :
             {std::size_t{0}, std::size_t{1}, all / 10, all / 3, all / 2, all - 60, all - 1}) {
            Follower follower(patience);
            const auto stopped = ask(demo(), long_question(), pool, &follower);
            ASSERT_FALSE(stopped.ok()) << patience;
            EXPECT_EQ(stopped.problems()[0].kind, ProblemKind::outside);
            EXPECT_EQ(follower.shares().size(), patience + 1) << "asked after it said no";
        }
    }
}

TEST(Progress, NobodyIsAskedBeforeTheQuestionIsInOrder) {
    WorkerPool pool(1);
    Follower follower(0);
    auto question = long_question();
    question.field = "No Such Field";
    const auto wrong = ask(demo(), question, pool, &follower);
    ASSERT_FALSE(wrong.ok());
    EXPECT_EQ(wrong.problems()[0].kind, ProblemKind::missing);
    EXPECT_TRUE(follower.shares().empty());
    const auto report =
        ask_report(demo(), {.slice_after_days = {}, .draws = 1500}, pool, &follower);
    EXPECT_FALSE(report.ok());
    EXPECT_EQ(follower.shares().size(), 1U);
}

TEST(Progress, MoreMemoryThanThereIsIsRefusedWithWhatWouldFit) {
    WorkerPool pool(1);
    auto question = long_question();
    question.draws = 100'000;
    question.most_bytes = 100'000'000;
    const auto refused = ask(demo(), question, pool);
    ASSERT_FALSE(refused.ok());
    EXPECT_EQ(refused.problems()[0].kind, ProblemKind::limit);
    const std::string fix = refused.problems()[0].fix;
    const std::string words = "ask for at most ";
    ASSERT_TRUE(fix.starts_with(words)) << fix;
    question.draws = std::stoul(fix.substr(words.size()));
    EXPECT_GT(question.draws, 1000U);
    Follower follower(0);
    EXPECT_EQ(ask(demo(), question, pool, &follower).problems()[0].kind, ProblemKind::outside)
        << "what would fit is begun";
    question.draws += 100;
    EXPECT_EQ(ask(demo(), question, pool, &follower).problems()[0].kind, ProblemKind::limit);
}

}  // namespace
}  // namespace beetwright::engine
