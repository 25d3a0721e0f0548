// Looks at standing crops in the season file: kept to the last bit, known again, corrected and not
// edited.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "base/random.hpp"
#include "ledger/evidence.hpp"
#include "records/fingerprint.hpp"
#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

class StandingFile : public ::testing::Test {
 protected:
    void SetUp() override {
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    static Instant at(int hour) { return Instant(std::chrono::hours(540'000 + hour)); }

    /// Two fields, and of one of them a look that says everything, one of leaf and one of crowns.
    static ledger::Season season() {
        ledger::Season s;
        s.name = "Trial";
        s.currency = "EUR";
        for (const char* name : {"Long Acre", "Mill Field"}) {
            ledger::Field field;
            field.name = name;
            field.area = 8.0 * unit::ha;
            s.fields.push_back(field);
        }
        check::StandingLook all = look(1);
        all.spots = 6;
        all.area = Area(18.1);
        all.roots = CleanMass(148.7);
        all.pol = SugarContent(0.1613);
        all.potassium = AmountContent(0.041);
        all.sodium = AmountContent(0.0053);
        all.amino_nitrogen = AmountContent(0.017);
        all.leaf_sick = 0.1;
        all.leaf_frozen = check::Seen::yes;
        all.soil_in_hand = check::SoilInHand::plastic;
        all.crown_height = Length(0.0487);
        all.evenness = check::Evenness::fair;
        all.plants = BeetsPerArea(8.73);
        all.root_mass = CleanMass(0.913);
        RandomStream random(7, "crowns of a test");
        for (int i = 0; i < 20; ++i) {
            all.crowns.emplace_back(0.1 * random.uniform() - 0.02);
        }
        check::StandingLook leaf = look(2);
        leaf.leaf_sick = 0.0;
        check::StandingLook crowns = look(3);
        crowns.crowns = {4.0 * unit::cm, Length(0.0), -1.0 * unit::cm};
        s.standing = {all, leaf, crowns};
        return s;
    }
    static check::StandingLook look(int hour) {
        check::StandingLook look;
        look.id = Uuid::version7(at(hour), 1, static_cast<std::uint64_t>(hour));
        look.field = "Long Acre";
        look.at = at(hour);
        return look;
    }
    static Submission sent(check::StandingLook look) {
        Submission submission;
        submission.observations.standing = {std::move(look)};
        submission.by = "Anna";
        submission.at = at(100);
        return submission;
    }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] Result<ImportReport> import(const ledger::Season& of) const {
        return SeasonFile::open(path(), OpenMode::create).value().import(of);
    }
    [[nodiscard]] ledger::Season load() const {
        return SeasonFile::open(path(), OpenMode::read_only).value().load().value();
    }
    [[nodiscard]] std::int64_t count(const char* table) const {
        return *Database::open(path(), Access::read)
                    ->integer(std::string("SELECT count(*) FROM ") + table);
    }

    fs::path folder_ =
        fs::temp_directory_path() / ("beetwright_standing_" + std::to_string(getpid()));
};

TEST_F(StandingFile, GivesBackWhatWasImportedAndKnowsItAgain) {
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
    EXPECT_EQ(count("crowns"), 23);
    const auto again = import(season());
    ASSERT_TRUE(again.ok());
    const auto looks =
        std::ranges::find(again->rows, "looks at standing crops", &ImportReport::Row::what);
    ASSERT_NE(looks, again->rows.end());
    EXPECT_EQ(looks->new_rows, 0);
    EXPECT_EQ(looks->known, 3);
    EXPECT_EQ(count("crowns"), 23);
    const auto known = SeasonFile::open(path(), OpenMode::read_only).value().known_ids().value();
    EXPECT_EQ(known[static_cast<std::size_t>(io::Observed::standing)].size(), 3U);
}

TEST_F(StandingFile, AFileOfVersionSixIsBroughtUpToDate) {
    auto before = season();
    before.standing.clear();
    ASSERT_TRUE(import(before).ok());
    ASSERT_TRUE(take_back_to(6, path()).ok());
    EXPECT_FALSE(SeasonFile::open(path(), OpenMode::read_only).ok());
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).ok());
    expect_equal_seasons(before, load());
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
}

// Their fingerprints were made of these values alone, and still are.
TEST_F(StandingFile, LooksOfVersionEightAreKnownAgain) {
    const auto before = before_version_9(season());
    ASSERT_TRUE(import(before).ok());
    const auto& leaf = before.standing[1];
    const double unknown = std::nan("");
    Fingerprint then;
    then.add(Uuid()).add(leaf.field).add(std::uint64_t(leaf.at.time_since_epoch().count()));
    then.add(std::uint64_t{0}).add(unknown).add(unknown).add(unknown);
    then.add(unknown).add(unknown).add(unknown).add(0.0).add(std::uint64_t{0});
    EXPECT_EQ(*Database::open(path(), Access::read)
                   ->integer("SELECT content FROM standing_looks WHERE position = 2"),
              then.value());
}

TEST_F(StandingFile, AnythingEditedIsRefused) {
    ASSERT_TRUE(import(season()).ok());
    const auto refused_in = [&](const char* column, auto&& edit) {
        auto edited = season();
        edit(edited.standing[0]);
        const auto refused = import(edited);
        ASSERT_FALSE(refused.ok()) << column;
        EXPECT_NE(refused.problems()[0].text().find("this look at a standing crop was imported "
                                                    "before as"),
                  std::string::npos);
        EXPECT_NE(refused.problems()[0].text().find(std::string("other content: ") + column),
                  std::string::npos)
            << refused.problems()[0].text();
        expect_equal_seasons(season(), load());
    };
    using Look = check::StandingLook;
    refused_in("spots", [](Look& l) { l.spots = 7; });
    refused_in("area", [](Look& l) { l.area = Area(19.0); });
    refused_in("roots", [](Look& l) { l.roots = CleanMass(150.0); });
    refused_in("pol", [](Look& l) { l.pol = SugarContent(); });
    refused_in("potassium", [](Look& l) { l.potassium = AmountContent(0.042); });
    refused_in("sodium", [](Look& l) { l.sodium = AmountContent(0.006); });
    refused_in("amino_nitrogen", [](Look& l) { l.amino_nitrogen = AmountContent(0.018); });
    refused_in("leaf_sick", [](Look& l) { l.leaf_sick = 0.25; });
    refused_in("leaf_frozen", [](Look& l) { l.leaf_frozen = check::Seen::not_judged; });
    refused_in("soil_in_hand", [](Look& l) { l.soil_in_hand = check::SoilInHand::sticky; });
    refused_in("crown_height", [](Look& l) { l.crown_height = Length(0.05); });
    refused_in("evenness", [](Look& l) { l.evenness = check::Evenness::not_judged; });
    refused_in("plants", [](Look& l) { l.plants = BeetsPerArea(9.0); });
    refused_in("root_mass", [](Look& l) { l.root_mass = CleanMass(); });
    refused_in("crowns", [](Look& l) { l.crowns.pop_back(); });
    refused_in("crowns", [](Look& l) { std::swap(l.crowns[3], l.crowns[4]); });
    refused_in("field", [](Look& l) { l.field = "Mill Field"; });
}

TEST_F(StandingFile, TakesWhatIsSentOnceAndSaysFromWhom) {
    auto before = season();
    before.standing.clear();
    ASSERT_TRUE(import(before).ok());
    auto file = SeasonFile::open(path(), OpenMode::existing).value();
    const auto one = season().standing[0];
    const std::vector<Submission> twice{sent(one), sent(one)};
    const auto appended = file.append(twice);
    EXPECT_EQ(appended.receipts[0].value().fresh, std::vector{one.id});
    EXPECT_EQ(appended.receipts[1].value().known, 1);
    ASSERT_EQ(file.received().value().size(), 1U);
    EXPECT_EQ(file.received().value()[0].observation, one.id);
    before.standing = {one};
    expect_equal_seasons(before, load());

    auto edited = one;
    edited.crowns[2] = 9.0 * unit::cm;
    const std::vector<Submission> contradiction{sent(edited)};
    const auto refused = file.append(contradiction);
    ASSERT_FALSE(refused.receipts[0].ok());
    EXPECT_NE(refused.receipts[0].problems()[0].text().find("with other content"),
              std::string::npos);
    expect_equal_seasons(before, load());
}

TEST_F(StandingFile, ACorrectionCountsInItsPlaceAndOnlyOnce) {
    ASSERT_TRUE(import(season()).ok());
    auto file = SeasonFile::open(path(), OpenMode::existing).value();
    auto correction = season().standing[1];
    correction.supersedes = correction.id;
    correction.id = Uuid::version7(at(50), 1, 50);
    correction.leaf_sick = 0.5;
    const std::vector<Submission> first{sent(correction)};
    ASSERT_TRUE(file.append(first).receipts[0].ok());
    EXPECT_EQ(load().standing.size(), 4U) << "what was corrected stays";
    const auto counts = ledger::without_superseded(load());
    ASSERT_EQ(counts.standing.size(), 3U);
    EXPECT_EQ(counts.standing.back().leaf_sick, 0.5);

    auto second = correction;
    second.id = Uuid::version7(at(51), 1, 51);
    auto dangling = look(60);
    dangling.leaf_sick = 0.1;
    dangling.supersedes = Uuid::version7(at(61), 9, 9);
    const std::vector<Submission> wrong{sent(second), sent(dangling)};
    const auto refused = file.append(wrong);
    ASSERT_FALSE(refused.receipts[0].ok());
    EXPECT_NE(refused.receipts[0].problems()[0].text().find("both would count"), std::string::npos);
    ASSERT_FALSE(refused.receipts[1].ok());
    EXPECT_NE(refused.receipts[1].problems()[0].text().find("does not hold"), std::string::npos);
    EXPECT_EQ(load().standing.size(), 4U);
    EXPECT_EQ(count("crowns"), 23) << "nothing of what was refused stays";
}

TEST_F(StandingFile, AFieldThatWasLookedAtKeepsItsName) {
    ASSERT_TRUE(import(season()).ok());
    auto file = SeasonFile::open(path(), OpenMode::existing).value();
    const AuditEntry by{.at = at(1), .person = {}, .what = "season", .about = "fields.csv"};
    const auto removed = file.remove(io::Master::fields, "Long Acre", by);
    ASSERT_FALSE(removed.ok());
    EXPECT_NE(removed.problems()[0].text().find("3 looks at the standing crop"), std::string::npos);
    EXPECT_FALSE(file.rename(io::Master::fields, "Long Acre", "Short Acre", by).ok());
    EXPECT_TRUE(file.remove(io::Master::fields, "Mill Field", by).ok());
}

}  // namespace
}  // namespace beetwright::records
