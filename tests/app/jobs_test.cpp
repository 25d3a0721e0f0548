// Long questions beside all else: their row, their end, who may see them, and a prompt stop.
#include "app/jobs.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <latch>
#include <stdexcept>
#include <thread>

namespace beetwright::app {
namespace {

using namespace std::chrono_literals;
using io::JobState;

class JobsTest : public ::testing::Test {
 protected:
    void start(const JobOptions& options = {}) {
        jobs_ = std::make_unique<Jobs>([this] { return now_.load(); }, options);
    }
    static Person person(const std::string& name, Role role = Role::viewer) {
        return {.id = Uuid::from_text(name), .name = name, .role = role, .created = {}};
    }
    /// Reports half until it is let go on, or not wanted any more.
    Jobs::Work held() {
        return [this](Progress& progress) -> Result<io::QuestionAnswer> {
            ++running_;
            while (progress.go_on(0.5) && !let_go_) {
                std::this_thread::sleep_for(1ms);
            }
            --running_;
            return io::QuestionAnswer{.form = io::AnswerForm::json, .body = "the answer"};
        };
    }
    static Jobs::Work at_once(const std::string& body) {
        return [body](Progress&) -> Result<io::QuestionAnswer> {
            return io::QuestionAnswer{.form = io::AnswerForm::json, .body = body};
        };
    }
    Uuid must_start(Jobs::Work work, const Person& by) {
        const auto started = jobs_->start("ledger", std::move(work), by);
        EXPECT_TRUE(started.ok());
        return started.ok() ? started->id : Uuid();
    }
    JobState state(const Uuid& id, const Person& by) { return jobs_->look(id, by).value().state; }
    bool becomes(const Uuid& id, const Person& by, JobState wanted) {
        for (int tries = 0; tries < 5000 && state(id, by) != wanted; ++tries) {
            std::this_thread::sleep_for(1ms);
        }
        return state(id, by) == wanted;
    }
    template <class T>
    static ProblemKind kind_of(const Result<T>& result) {
        EXPECT_FALSE(result.ok());
        return result.ok() ? ProblemKind::input : result.problems()[0].kind;
    }

    std::atomic<Instant> now_{Instant(std::chrono::milliseconds(1'900'000'000'000))};
    std::atomic<bool> let_go_ = false;
    std::atomic<int> running_ = 0;
    std::unique_ptr<Jobs> jobs_;
    const Person anna_ = person("Anna");
    const Person bert_ = person("Bert", Role::manager);
    const Person owner_ = person("Olga", Role::owner);
};

TEST_F(JobsTest, RunOneAfterAnotherAndKeepTheirAnswers) {
    start();
    const auto first = must_start(held(), anna_);
    const auto second = must_start(at_once("second"), anna_);
    ASSERT_TRUE(becomes(first, anna_, JobState::running));
    for (int tries = 0; tries < 5000 && jobs_->look(first, anna_)->share < 0.5; ++tries) {
        std::this_thread::sleep_for(1ms);
    }
    EXPECT_EQ(jobs_->look(first, anna_)->share, 0.5);
    EXPECT_EQ(state(second, anna_), JobState::waiting);
    EXPECT_EQ(kind_of(jobs_->result(first, anna_)), ProblemKind::conflict);
    let_go_ = true;
    ASSERT_TRUE(becomes(second, anna_, JobState::done));
    EXPECT_EQ(jobs_->result(first, anna_)->body, "the answer");
    EXPECT_EQ(jobs_->result(second, anna_)->body, "second");
    EXPECT_EQ(jobs_->look(first, anna_)->share, 1.0);
}

TEST_F(JobsTest, BelongToWhoeverStartedThemAndToOwners) {
    start();
    const auto id = must_start(at_once("mine"), anna_);
    ASSERT_TRUE(becomes(id, anna_, JobState::done));
    EXPECT_EQ(kind_of(jobs_->look(id, bert_)), ProblemKind::missing);
    EXPECT_EQ(kind_of(jobs_->result(id, bert_)), ProblemKind::missing);
    EXPECT_EQ(kind_of(jobs_->events(id, bert_, 0)), ProblemKind::missing);
    EXPECT_EQ(kind_of(jobs_->cancel(id, bert_)), ProblemKind::missing);
    EXPECT_EQ(jobs_->result(id, owner_)->body, "mine");
}

TEST_F(JobsTest, OnePersonHasFewAndTheRowIsShort) {
    start({.most_waiting = 3, .most_of_one_person = 2});
    must_start(held(), anna_);
    while (running_ == 0) {
        std::this_thread::sleep_for(1ms);
    }
    must_start(held(), anna_);
    EXPECT_EQ(kind_of(jobs_->start("ledger", held(), anna_)), ProblemKind::limit);
    must_start(held(), bert_);
    must_start(held(), bert_);
    EXPECT_EQ(kind_of(jobs_->start("ledger", held(), owner_)), ProblemKind::outside);
}

TEST_F(JobsTest, ACancelledOneStopsAndMakesRoom) {
    start({.most_of_one_person = 2});
    const auto first = must_start(held(), anna_);
    const auto second = must_start(held(), anna_);
    ASSERT_TRUE(becomes(first, anna_, JobState::running));
    ASSERT_TRUE(jobs_->cancel(second, anna_).ok());
    EXPECT_EQ(state(second, anna_), JobState::cancelled);
    ASSERT_TRUE(jobs_->cancel(first, anna_).ok());
    EXPECT_EQ(state(first, anna_), JobState::cancelled);
    EXPECT_EQ(kind_of(jobs_->result(first, anna_)), ProblemKind::missing);
    const auto third = must_start(at_once("third"), anna_);
    ASSERT_TRUE(becomes(third, anna_, JobState::done)) << "the worker is free again";
    EXPECT_EQ(running_, 0) << "the one that waited never ran, and the other has stopped";
    EXPECT_EQ(state(first, anna_), JobState::cancelled) << "what it still gave changes nothing";
    ASSERT_TRUE(jobs_->cancel(third, anna_).ok()) << "what is over is forgotten";
    EXPECT_EQ(kind_of(jobs_->look(third, anna_)), ProblemKind::missing);
}

TEST_F(JobsTest, FailuresAreKeptLikeAnswers) {
    start();
    const auto refused = must_start(
        [](Progress&) -> Result<io::QuestionAnswer> {
            return Problem{ProblemKind::input, {}, "as asked", "ask otherwise"};
        },
        anna_);
    const auto thrown =
        must_start([](Progress&) -> Result<io::QuestionAnswer> { throw std::bad_alloc(); }, anna_);
    ASSERT_TRUE(becomes(refused, anna_, JobState::failed));
    ASSERT_TRUE(becomes(thrown, anna_, JobState::failed));
    EXPECT_EQ(jobs_->result(refused, anna_).problems()[0].what, "as asked");
    EXPECT_EQ(kind_of(jobs_->result(thrown, anna_)), ProblemKind::outside);
}

TEST_F(JobsTest, AreForgottenAfterSomeMinutesAndTheOldestFirst) {
    start({.most_kept = 2, .kept = 10min});
    const auto first = must_start(at_once("first"), anna_);
    ASSERT_TRUE(becomes(first, anna_, JobState::done));
    now_ = now_.load() + 9min;
    const auto second = must_start(at_once("second"), anna_);
    ASSERT_TRUE(becomes(second, anna_, JobState::done));
    EXPECT_TRUE(jobs_->look(first, anna_).ok());
    now_ = now_.load() + 1min;
    EXPECT_EQ(kind_of(jobs_->look(first, anna_)), ProblemKind::missing);
    const auto third = must_start(at_once("third"), anna_);
    ASSERT_TRUE(becomes(third, anna_, JobState::done));
    now_ = now_.load() + 1ms;
    const auto fourth = must_start(at_once("fourth"), anna_);
    ASSERT_TRUE(becomes(fourth, anna_, JobState::done));
    EXPECT_EQ(kind_of(jobs_->look(second, anna_)), ProblemKind::missing);
    EXPECT_TRUE(jobs_->look(third, anna_).ok());
}

TEST_F(JobsTest, EventsTellEachPercentOnceAndTheEnd) {
    start();
    const auto id = must_start(held(), anna_);
    auto pull = jobs_->events(id, anna_, 0).value();
    std::string heard;
    while (heard.find("0.5") == std::string::npos) {
        heard += pull().value();
        std::this_thread::sleep_for(1ms);
    }
    EXPECT_NE(heard.find("id: 52\nevent: progress\ndata: {\"id\":\"" + id.text() +
                         "\",\"question\":\"ledger\",\"state\":\"running\",\"share\":0.5}\n\n"),
              std::string::npos)
        << heard;
    EXPECT_EQ(pull(), "") << "nothing is told twice";
    now_ = now_.load() + 15s;
    EXPECT_EQ(pull(), ": still here\n\n");
    EXPECT_EQ(pull(), "");
    auto again = jobs_->events(id, anna_, 52).value();
    EXPECT_EQ(again(), "") << "it was heard before the connection was lost";
    let_go_ = true;
    ASSERT_TRUE(becomes(id, anna_, JobState::done));
    for (auto* one : {&pull, &again}) {
        const auto last = (*one)().value();
        EXPECT_TRUE(last.starts_with("id: 104\nevent: done\n")) << last;
        EXPECT_EQ((*one)(), std::nullopt);
    }
}

TEST_F(JobsTest, AStopIsPromptAndToldAndFinal) {
    start({.at_once = 2});
    const auto running = must_start(held(), anna_);
    must_start(held(), anna_);
    const auto waiting = must_start(held(), anna_);
    ASSERT_TRUE(becomes(running, anna_, JobState::running));
    auto pull = jobs_->events(waiting, anna_, 1).value();
    const auto before = std::chrono::steady_clock::now();
    jobs_->stop();
    EXPECT_LT(std::chrono::steady_clock::now() - before, 1s);
    EXPECT_EQ(running_, 0);
    EXPECT_NE(pull().value().find("event: cancelled"), std::string::npos);
    EXPECT_EQ(kind_of(jobs_->start("ledger", held(), anna_)), ProblemKind::outside);
    jobs_.reset();
    EXPECT_EQ(pull(), std::nullopt) << "a stream may outlive them";
}

}  // namespace
}  // namespace beetwright::app
