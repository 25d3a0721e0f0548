#include "records/season_file.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "base/random.hpp"
#include "demo_season/invent.hpp"
#include "records/migrations.hpp"
#include "records/older_versions.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

/// A folder of its own for each test, gone afterwards.
class SeasonFileTest : public ::testing::Test {
 protected:
    void SetUp() override {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() /
                  ("beetwright_" + std::string(test->name()) + "_" + std::to_string(getpid()));
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }

    static const ledger::Season& demo() {
        static const ledger::Season season =
            demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
        return season;
    }

    Result<ImportReport> import(const ledger::Season& season) const {
        auto file = SeasonFile::open(path(), OpenMode::create);
        if (!file) {
            return file.problems();
        }
        return file->import(season);
    }
    ledger::Season must_load() const {
        auto file = SeasonFile::open(path(), OpenMode::read_only);
        EXPECT_TRUE(file.ok()) << (file.ok() ? "" : file.problems()[0].text());
        auto season = file->load();
        EXPECT_TRUE(season.ok()) << (season.ok() ? "" : season.problems()[0].text());
        return season.ok() ? *season : ledger::Season{};
    }

    fs::path folder_;
};

std::int64_t new_rows(const ImportReport& report) {
    std::int64_t sum = 0;
    for (const auto& row : report.rows) {
        sum += row.new_rows;
    }
    return sum;
}

TEST_F(SeasonFileTest, GivesBackWhatWasImportedToTheLastBit) {
    ASSERT_TRUE(import(demo()).ok());
    expect_equal_seasons(demo(), must_load());
}

TEST_F(SeasonFileTest, KnowsAnImportItHasSeen) {
    const auto first = import(demo());
    ASSERT_TRUE(first.ok());
    EXPECT_GT(new_rows(*first), 200);
    const auto again = import(demo());
    ASSERT_TRUE(again.ok());
    EXPECT_EQ(new_rows(*again), 0);
    expect_equal_seasons(demo(), must_load());
}

TEST_F(SeasonFileTest, RefusesAnObservationThatWasEditedAndKeepsTheOld) {
    ASSERT_TRUE(import(demo()).ok());
    auto edited = demo();
    edited.labs.at(0).pol = SugarContent(0.10);
    edited.beet_sheets.at(1).beets.at(3).tip = check::TipBreak::measured(9.0 * unit::cm);
    edited.fields.at(0).soil = "a soil that must not arrive";
    const auto refused = import(edited);
    ASSERT_FALSE(refused.ok());
    ASSERT_EQ(refused.problems().size(), 2U) << "each is told, and once";
    EXPECT_EQ(refused.problems()[0].kind, ProblemKind::conflict);
    EXPECT_NE(refused.problems()[0].text().find("sheet was imported before as " +
                                                demo().beet_sheets[1].id.short_text() +
                                                " with other content: beets"),
              std::string::npos)
        << refused.problems()[0].text();
    EXPECT_NE(refused.problems()[1].text().find(demo().labs[0].id.short_text() +
                                                " with other content: pol"),
              std::string::npos)
        << refused.problems()[1].text();
    expect_equal_seasons(demo(), must_load());
}

TEST_F(SeasonFileTest, TakesACorrectionThatSupersedes) {
    ASSERT_TRUE(import(demo()).ok());
    auto corrected = demo();
    auto lab = corrected.labs.at(0);
    lab.supersedes = lab.id;
    lab.id = Uuid::version7(lab.at, 1, 2);
    lab.pol = SugarContent(0.171);
    corrected.labs.push_back(lab);
    ASSERT_TRUE(import(corrected).ok());
    EXPECT_EQ(must_load().labs.size(), demo().labs.size() + 1);
}

TEST_F(SeasonFileTest, RefusesACorrectionOfWhatItDoesNotHold) {
    auto dangling = demo();
    dangling.labs.at(0).supersedes = Uuid::version7(dangling.labs[0].at, 9, 9);
    const auto refused = import(dangling);
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("does not hold"), std::string::npos);
    EXPECT_TRUE(import(demo()).ok());
}

TEST_F(SeasonFileTest, RefusesASecondCorrectionOfOneThing) {
    auto corrected = demo();
    auto lab = corrected.labs.at(0);
    lab.supersedes = lab.id;
    lab.id = Uuid::version7(lab.at, 1, 2);
    corrected.labs.push_back(lab);
    ASSERT_TRUE(import(corrected).ok());
    auto again = demo();
    lab.id = Uuid::version7(lab.at, 3, 4);
    again.labs.push_back(lab);
    const auto refused = import(again);
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("both would count"), std::string::npos);
    expect_equal_seasons(corrected, must_load());
}

// Version 1 had no corrections of loads.
TEST_F(SeasonFileTest, OfAnOlderVersionIsBroughtUpToDateAndKnowsItsLoads) {
    const auto old = before_version_7(demo());
    ASSERT_TRUE(import(old).ok());
    ASSERT_TRUE(take_back_to(1, path()).ok());
    const auto reader = SeasonFile::open(path(), OpenMode::read_only);
    ASSERT_FALSE(reader.ok());
    EXPECT_NE(reader.problems()[0].text().find("older version"), std::string::npos);
    const auto again = import(old);
    ASSERT_TRUE(again.ok());
    EXPECT_EQ(new_rows(*again), 0);
    expect_equal_seasons(old, must_load());
}

TEST_F(SeasonFileTest, LetsALaterImportChangeAFieldsDestination) {
    ASSERT_TRUE(import(demo()).ok());
    auto changed = demo();
    changed.fields.at(0).destination = changed.destinations.at(1).name;
    ASSERT_TRUE(import(changed).ok());
    EXPECT_EQ(must_load().fields.at(0).destination, changed.destinations.at(1).name);
    EXPECT_EQ(must_load().fields.size(), demo().fields.size());
}

TEST_F(SeasonFileTest, RefusesTemperaturesThatLeaveAGapBehindThoseItHas) {
    ASSERT_TRUE(import(demo()).ok());
    auto later = demo();
    auto& series = later.destinations.at(0).temperatures;
    const Day last = series.back().day;
    const auto day = [&](int after) {
        return ledger::DayTemperature{last + std::chrono::days(after), Temperature::celsius(4.0)};
    };
    series = {day(3), day(4)};
    const auto refused = import(later);
    ASSERT_FALSE(refused.ok());
    ASSERT_EQ(refused.problems().size(), 1U);
    EXPECT_EQ(refused.problems()[0].kind, ProblemKind::conflict);
    EXPECT_EQ(refused.problems()[0].where.file, "temperatures.csv");
    EXPECT_NE(refused.problems()[0].what.find("the days of " + demo().destinations[0].name +
                                              " go from " + to_text(last) + " to " +
                                              to_text(day(3).day) + " without those between"),
              std::string::npos)
        << refused.problems()[0].text();
    expect_equal_seasons(demo(), must_load());

    series = {day(1), day(2), day(3)};
    ASSERT_TRUE(import(later).ok());
    const auto joined = must_load().destinations.at(0).temperatures;
    EXPECT_EQ(joined.size(), demo().destinations[0].temperatures.size() + 3);
    EXPECT_EQ(joined.back().day, day(3).day);
}

TEST_F(SeasonFileTest, OfANewerVersionIsLeftAsItIs) {
    ASSERT_TRUE(import(demo()).ok());
    {
        auto database = Database::open(path(), Access::write);
        ASSERT_TRUE(database.ok());
        ASSERT_TRUE(
            database->execute("PRAGMA user_version = " + std::to_string(kNewestVersion + 1)).ok());
    }
    for (const OpenMode mode : {OpenMode::create, OpenMode::existing, OpenMode::read_only}) {
        const auto file = SeasonFile::open(path(), mode);
        ASSERT_FALSE(file.ok());
        EXPECT_NE(file.problems()[0].text().find("newer beetwright"), std::string::npos);
    }
    auto database = Database::open(path(), Access::read);
    ASSERT_TRUE(database.ok());
    EXPECT_EQ(*database->integer("PRAGMA user_version"), kNewestVersion + 1);
    EXPECT_GT(*database->integer("SELECT count(*) FROM beets"), 0);
}

TEST_F(SeasonFileTest, ThatIsNoneIsSaidToBeNone) {
    std::ofstream(path()) << std::string(5000, 'x');
    const auto text_file = SeasonFile::open(path(), OpenMode::existing);
    ASSERT_FALSE(text_file.ok());
    EXPECT_NE(text_file.problems()[0].text().find("not a season file"), std::string::npos);
    fs::remove(path());
    {
        auto stranger = Database::open(path(), Access::create);
        ASSERT_TRUE(stranger->execute("CREATE TABLE other (x)").ok());
    }
    const auto database = SeasonFile::open(path(), OpenMode::create);
    ASSERT_FALSE(database.ok());
    EXPECT_NE(database.problems()[0].text().find("not a season file"), std::string::npos);
}

TEST_F(SeasonFileTest, ThatIsMissingIsSaidToBeMissing) {
    const auto file = SeasonFile::open(path(), OpenMode::read_only);
    ASSERT_FALSE(file.ok());
    EXPECT_EQ(file.problems()[0].kind, ProblemKind::outside);
    EXPECT_FALSE(fs::exists(path())) << "reading must not make a file";
}

TEST_F(SeasonFileTest, ThatIsDamagedDoesNotCrash) {
    ASSERT_TRUE(import(demo()).ok());
    const auto size = fs::file_size(path());
    std::ifstream in(path(), std::ios::binary);
    const std::string whole{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    int refused = 0;
    for (std::uint64_t trial = 0; trial < 60; ++trial) {
        RandomStream random(50, "damage", trial);
        std::string bytes = whole;
        for (int k = 0; k < 200; ++k) {
            bytes[100 + random.below(static_cast<std::uint32_t>(size - 100))] =
                static_cast<char>(random.word());
        }
        if (trial % 3 == 0) {
            bytes.resize(bytes.size() / 2);
        }
        fs::remove(path() + "-wal");
        fs::remove(path() + "-shm");
        std::ofstream(path(), std::ios::binary | std::ios::trunc) << bytes;
        auto file = SeasonFile::open(path(), OpenMode::read_only);
        const bool loaded = file.ok() && file->load().ok();
        refused += loaded ? 0 : 1;
    }
    EXPECT_GT(refused, 30) << "most damage shows";
}

/// Runs `work` in a child process; gives how it ended.
template <class Work>
int in_child(Work&& work) {
    const pid_t child = fork();
    if (child == 0) {
        _exit(work());
    }
    int status = 0;
    waitpid(child, &status, 0);
    return status;
}

// Killed at many moments of an import: afterwards the file holds all of it or nothing of it, is
// sound, and what was imported before is there.
TEST_F(SeasonFileTest, KilledInMidImportHoldsAllOrNothing) {
    auto before = demo();
    before.beet_sheets.resize(3);
    before.loads.clear();
    before.strips.clear();
    before.tares.clear();
    before.labs.clear();
    auto large = demo();
    for (int copy = 0; copy < 20; ++copy) {  // enough to be in the midst of when the signal comes
        for (std::size_t s = 0; s < demo().beet_sheets.size(); ++s) {
            auto sheet = demo().beet_sheets[s];
            sheet.id = Uuid::version7(sheet.at, static_cast<std::uint64_t>(copy) + 100, s);
            sheet.supersedes = {};
            large.beet_sheets.push_back(std::move(sheet));
        }
    }
    int nothing = 0;
    int everything = 0;
    for (int trial = 0; trial < 24; ++trial) {
        for (const char* tail : {"", "-wal", "-shm"}) {
            fs::remove(path() + tail);
        }
        ASSERT_TRUE(import(before).ok());
        const pid_t child = fork();
        if (child == 0) {
            const bool done = import(large).ok();
            _exit(done ? 0 : 1);
        }
        usleep(static_cast<useconds_t>(6000 * trial));
        kill(child, SIGKILL);
        int status = 0;
        waitpid(child, &status, 0);
        const bool acknowledged = WIFEXITED(status) && WEXITSTATUS(status) == 0;

        auto database = Database::open(path(), Access::write);
        ASSERT_TRUE(database.ok());
        EXPECT_EQ(*database->integer("SELECT count(*) FROM pragma_integrity_check WHERE "
                                     "integrity_check <> 'ok'"),
                  0);
        const auto sheets = *database->integer("SELECT count(*) FROM beet_sheets");
        const auto loads = *database->integer("SELECT count(*) FROM loads");
        const bool is_before = sheets == 3 && loads == 0;
        const bool is_after = sheets == static_cast<std::int64_t>(large.beet_sheets.size()) &&
                              loads == static_cast<std::int64_t>(large.loads.size());
        EXPECT_TRUE(is_before || is_after) << sheets << " sheets, " << loads << " loads";
        EXPECT_TRUE(!acknowledged || is_after) << "an acknowledged import is lost";
        nothing += is_before ? 1 : 0;
        everything += is_after ? 1 : 0;
    }
    EXPECT_GT(nothing, 0) << "no kill came early enough to prove anything";
    std::printf("    killed imports: %d held nothing, %d everything\n", nothing, everything);
}

// What a writer without a write-ahead log leaves when it is killed, a reader must roll back: the
// first migration of a new file is such a writer.
TEST_F(SeasonFileTest, KilledWithAJournalCanBeRead) {
    ASSERT_TRUE(import(demo()).ok());
    const auto content = must_load();
    const int status = in_child([&] {
        auto database = Database::open(path(), Access::write);
        const bool begun = database
                               ->execute(
                                   "PRAGMA journal_mode = DELETE; PRAGMA cache_size = 1; BEGIN; "
                                   "DELETE FROM beets; DELETE FROM loads")
                               .ok();
        if (begun) {
            kill(getpid(), SIGKILL);
        }
        return 1;
    });
    ASSERT_TRUE(WIFSIGNALED(status));
    ASSERT_TRUE(fs::exists(path() + "-journal")) << "nothing was left to mend";
    expect_equal_seasons(content, must_load());
}

TEST_F(SeasonFileTest, AFullDiskChangesNothingAndIsSaid) {
    auto small = demo();
    small.beet_sheets.clear();
    ASSERT_TRUE(import(small).ok());
    const auto content = must_load();
    // No file of this process may grow beyond a little, the log that is written ahead neither: as
    // on a full disk, writes fail.
    const int status = in_child([&] {
        signal(SIGXFSZ, SIG_IGN);
        const rlim_t limit = 60'000;
        const rlimit most{limit, limit};
        setrlimit(RLIMIT_FSIZE, &most);
        const auto refused = import(demo());
        if (refused.ok()) {
            return 1;
        }
        const auto text = refused.problems()[0].text();
        return text.find("disk") != std::string::npos &&
                       text.find("nothing was changed") != std::string::npos
                   ? 0
                   : 2;
    });
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 0) << "1: it fitted; 2: it was not said";
    expect_equal_seasons(content, must_load());
    EXPECT_TRUE(import(demo()).ok()) << "with room, it goes on";
}

TEST_F(SeasonFileTest, WaitsForAnotherWriterAndThenSaysSo) {
    ASSERT_TRUE(import(demo()).ok());
    auto other = Database::open(path(), Access::write);
    ASSERT_TRUE(other.ok());
    auto holding = Transaction::begin(*other);
    ASSERT_TRUE(holding.ok());
    const auto refused = import(demo());
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("another program"), std::string::npos);
    ASSERT_TRUE(holding->commit().ok());
    EXPECT_TRUE(import(demo()).ok());
}

TEST_F(SeasonFileTest, CanBeReadWhileAnotherWrites) {
    ASSERT_TRUE(import(demo()).ok());
    auto other = Database::open(path(), Access::write);
    ASSERT_TRUE(other.ok());
    auto holding = Transaction::begin(*other);
    ASSERT_TRUE(holding.ok());
    EXPECT_EQ(must_load().fields.size(), demo().fields.size());
}

}  // namespace
}  // namespace beetwright::records
