// A season file of its own for each test, with a clock that the test moves.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <atomic>
#include <filesystem>
#include <memory>
#include <string>

#include "app/people.hpp"
#include "records/season_file.hpp"

namespace beetwright::app {

class SeasonOfPeople : public ::testing::Test {
 protected:
    static constexpr const char* kPassword = "beets in rows";

    void SetUp() override {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = std::filesystem::temp_directory_path() /
                  ("beetwright_" + std::string(test->name()) + "_" + std::to_string(getpid()));
        std::filesystem::remove_all(folder_);
        std::filesystem::create_directories(folder_);
        ASSERT_TRUE(records::SeasonFile::open(path(), records::OpenMode::create).ok());
    }
    void TearDown() override { std::filesystem::remove_all(folder_); }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] std::unique_ptr<People> open(const PeopleOptions& options = {}) {
        auto people = People::open(
            path(), [this] { return now_.load(); }, options);
        EXPECT_TRUE(people.ok()) << people.problems()[0].text();
        return people.ok() ? std::move(*people) : nullptr;
    }
    void pass(std::chrono::milliseconds time) { now_ = now_.load() + time; }

    static SignedIn must_join(People& people, const std::string& token, const std::string& name) {
        auto joined = people.accept(token, name, kPassword);
        EXPECT_TRUE(joined.ok()) << joined.problems()[0].text();
        return joined.ok() ? *joined : SignedIn{};
    }
    static SignedIn first_owner(People& people, const std::string& name = "Anna") {
        return must_join(people, people.first_invitation().value().value_or("none"), name);
    }
    static SignedIn join(People& people, const std::string& name, Role role, const Person& by) {
        return must_join(people, people.invite(role, "", by).value().token, name);
    }

    std::filesystem::path folder_;
    std::atomic<Instant> now_{Instant(std::chrono::milliseconds(1'900'000'000'000))};
};

template <class T>
ProblemKind kind_of(const Result<T>& result) {
    EXPECT_FALSE(result.ok()) << "this should have been refused";
    return result.ok() ? ProblemKind::input : result.problems().front().kind;
}
template <class T>
std::string words_of(const Result<T>& result) {
    return result.ok() ? "it was not refused" : result.problems().front().text();
}

}  // namespace beetwright::app
