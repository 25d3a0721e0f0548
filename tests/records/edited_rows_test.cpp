// Folders imported, edited and imported again: what is the same, what is a correction, what is
// refused; nothing is ever counted twice.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "io/season_folder.hpp"
#include "ledger/evidence.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

class EditedRows : public ::testing::Test {
 protected:
    void SetUp() override {
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    static io::FileTexts folder() {
        return {
            {"season.json",
             R"({"beetwright_season": 1, "name": "Trial", "currency": "EUR", "units": "metric",
                 "first_day": "2031-09-15"})"},
            {"fields.csv", "name,area [ha]\nLong Acre,12.5\nMill Field,8\n"},
            {"loads.csv",
             "field,at,ticket,gross [t]\nLong Acre,2031-10-04,T1,24.5\n"
             "Long Acre,2031-10-04,T2,24.5\nMill Field,2031-10-05,,20\n"},
            {"spots.csv",
             "sheet,field,at,spot,beets,correct\ns1,Long Acre,2031-10-04,1,10,8\n"
             "s1,Long Acre,2031-10-04,2,10,9\n"},
            {"strips.csv",
             "field,at,area [m2],whole_roots [kg],tails [kg]\nLong Acre,2031-10-04,10,1.5,0.4\n"},
            {"tares.csv",
             "field,at,gross [kg],soil [kg]\nLong Acre,2031-10-04,20,1\n"
             "Long Acre,2031-10-04,22,1.5\n"},
            {"labs.csv",
             "field,at,pol [%]\nLong Acre,2031-10-04,17.5\nMill Field,2031-10-04,17.1\n"},
            {"standing.csv", "field,at,leaf_sick [%],crowns [cm]\nLong Acre,2031-09-04,10,4 5 6\n"},
        };
    }

    Result<ImportReport> import(const io::FileTexts& files) {
        auto file = SeasonFile::open(path(), OpenMode::create);
        if (!file) {
            return file.problems();
        }
        const auto known = file->known_ids();
        if (!known) {
            return known.problems();
        }
        const auto reading = io::read_season_rows(files, *known);
        if (!reading) {
            return reading.problems();
        }
        return file->import(reading->season, reading->places);
    }
    std::int64_t must_import(const io::FileTexts& files) {
        const auto report = import(files);
        std::int64_t fresh = 0;
        if (!report) {
            ADD_FAILURE() << report.problems()[0].text();
            return -1;
        }
        for (const auto& row : report->rows) {
            fresh += row.new_rows;
        }
        return fresh;
    }
    [[nodiscard]] ledger::Season load() const {
        return *SeasonFile::open(path(), OpenMode::read_only)->load();
    }
    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }

    /// That this folder is refused with one problem at this place that says these words, and that
    /// the season is as it was.
    void expect_refused(const io::FileTexts& files, const std::string& file, int line,
                        const std::string& field, const std::string& words) {
        const auto before = load();
        const auto refused = import(files);
        ASSERT_FALSE(refused.ok()) << file << ':' << line << " was taken";
        const auto& problem = refused.problems()[0];
        EXPECT_EQ(refused.problems().size(), 1U) << refused.problems().back().text();
        EXPECT_EQ(problem.where.file, file) << problem.text();
        EXPECT_EQ(problem.where.line, line) << problem.text();
        EXPECT_EQ(problem.where.field, field) << problem.text();
        EXPECT_NE(problem.text().find(words), std::string::npos) << problem.text();
        expect_equal_seasons(before, load());
    }

    fs::path folder_ =
        fs::temp_directory_path() / ("beetwright_edited_" + std::to_string(getpid()));
};

TEST_F(EditedRows, TheSameFolderTwiceIsOne) {
    EXPECT_EQ(must_import(folder()), 10);  // 3 loads, 1 sheet, 1 strip, 2 tares, 2 labs, 1 look
    const auto once = load();
    EXPECT_EQ(must_import(folder()), 0);
    expect_equal_seasons(once, load());
}

// A spreadsheet that saves the folder again writes numbers, days and separators its own way, and a
// person sorts the rows.
TEST_F(EditedRows, TheSameRowsWrittenAnotherWayAreKnown) {
    must_import(folder());
    auto files = folder();
    files["tares.csv"] =
        "at [dd.mm.yyyy];field;soil [kg];gross [kg];tops [kg]\n04.10.2031;Long Acre;1,50;22,0;\n"
        "04.10.2031;Long Acre;1;20,00;\n";
    files["loads.csv"] =
        "ticket,field,at,gross [kg]\nT2,Long Acre,2031-10-04,24500\n,Mill Field,2031-10-05,20000\n"
        "T1,Long Acre,2031-10-04,24500\n";
    files["standing.csv"] =
        "at;field;crowns [cm];leaf_sick [%]\n2031-09-04;Long Acre;4,0 5  6;10,0\n";
    EXPECT_EQ(must_import(files), 0);
}

// Few numbers read in inches have a text in centimetres that gives back every bit.
TEST_F(EditedRows, TheSameRowsInTheOtherUnitsAreKnown) {
    auto files = folder();
    files["beets.csv"] = "sheet,field,at,spot,scar [in],tip_break [in],skin_damage [sq in]\n";
    for (int i = 1; i <= 60; ++i) {
        const auto twentieths = [](int n) { return std::to_string(n / 20.0); };
        files["beets.csv"] += "inches,Long Acre,2031-10-04,1," + twentieths(i) + "," +
                              twentieths(61 - i) + "," + twentieths(5 * (i % 7)) + "\n";
    }
    must_import(files);
    for (const auto system : {UnitSystem::metric, UnitSystem::us}) {
        EXPECT_EQ(must_import(io::write_season(load(), system)), 0);
    }
    files["beets.csv"].replace(files["beets.csv"].find(",2.95"), 5, ",2.90");
    EXPECT_FALSE(import(files).ok());
}

TEST_F(EditedRows, MoreRowsAndOtherFoldersAreNew) {
    must_import(folder());
    auto more = folder();
    more["labs.csv"] += "Long Acre,2031-10-04,17.6\n";
    more["loads.csv"] += "Long Acre,2031-10-04,T3,24.5\n";
    EXPECT_EQ(must_import(more), 2);
    // The next week's folder holds none of the rows before, and one that looks like last week's.
    auto next = folder();
    next.erase("spots.csv");
    next.erase("standing.csv");
    next["loads.csv"] = "field,at,ticket,gross [t]\nLong Acre,2031-10-11,T9,24.5\n";
    next["labs.csv"] = "field,at,pol [%]\nLong Acre,2031-10-11,17.5\n";
    next["tares.csv"] = "field,at,gross [kg],soil [kg]\nLong Acre,2031-10-11,20,1\n";
    next["strips.csv"] = "field,at,area [m2],whole_roots [kg]\nMill Field,2031-10-11,10,0\n";
    EXPECT_EQ(must_import(next), 4);
}

TEST_F(EditedRows, WithoutAnIdAreRefusedWithTheWayOut) {
    must_import(folder());
    const auto edit = [](const char* file, const std::string& was, const std::string& is) {
        auto files = folder();
        auto& text = files[file];
        text.replace(text.find(was), was.size(), is);
        return files;
    };
    const auto lab = load().labs.at(0).id.short_text();
    expect_refused(edit("labs.csv", "17.5", "17.9"), "labs.csv", 2, "pol",
                   "looks like " + lab +
                       ", imported before and not in this folder any more, edited in pol. if it "
                       "corrects that one, write " +
                       lab + " under supersedes");
    expect_refused(edit("labs.csv", "Long Acre,2031-10-04", "Long Acre,2031-10-05"), "labs.csv", 2,
                   "at", "edited in at");
    expect_refused(edit("tares.csv", "22,1.5", "22,2.5"), "tares.csv", 3, "soil", "edited in soil");
    expect_refused(edit("strips.csv", "0.4", "0.6"), "strips.csv", 2, "tails", "edited in tails");
    expect_refused(edit("strips.csv", "Long Acre", "Mill Field"), "strips.csv", 2, "field",
                   "edited in field");
    expect_refused(edit("loads.csv", "T2,24.5", "T2,25.4"), "loads.csv", 3, "gross",
                   "edited in gross");
    expect_refused(edit("loads.csv", "T2,", "T22,"), "loads.csv", 3, "ticket", "edited in ticket");
    expect_refused(edit("loads.csv", ",20\n", ",21\n"), "loads.csv", 4, "gross",
                   "write its ticket");
    expect_refused(edit("standing.csv", "4 5 6", "4 5 7"), "standing.csv", 2, "crowns",
                   "edited in crowns");
    expect_refused(edit("standing.csv", "Long Acre", "Mill Field"), "standing.csv", 2, "field",
                   "edited in field");
    expect_refused(edit("standing.csv", "09-04", "09-05"), "standing.csv", 2, "at", "edited in at");
    expect_refused(edit("spots.csv", "10,8", "10,7"), "spots.csv", 2, "sheet",
                   "with other content: beets");
    auto renamed = folder();
    renamed["spots.csv"] =
        "sheet,field,at,spot,beets,correct\nnew name,Long Acre,2031-10-04,1,10,8\n"
        "new name,Long Acre,2031-10-04,2,10,9\n";
    expect_refused(renamed, "spots.csv", 2, "sheet", "edited in its name");
    auto moved = folder();
    moved["spots.csv"] =
        "sheet,field,at,spot,beets,correct\ns1,Mill Field,2031-10-04,1,10,8\n"
        "s1,Mill Field,2031-10-04,2,10,9\n";
    expect_refused(moved, "spots.csv", 2, "field", "edited in field");
}

TEST_F(EditedRows, WhatACrewWroteOfItsMachineIsHeldToTheSame) {
    auto files = folder();
    files["machines.csv"] = "name,build\nOld Six,turbines\nNew Six,turbines\n";
    files["settings.csv"] =
        "id,at,machine,field,control,value\nm1,2031-10-04,Old Six,Long Acre,share.depth,80\n"
        "m1,2031-10-04,Old Six,Long Acre,share.gap,40\n";
    files["parts.csv"] = "machine,at,stage,what\nOld Six,2031-10-04,lifting_shares,points\n";
    must_import(files);
    const auto edit = [&](const char* file, const std::string& was, const std::string& is) {
        auto edited = files;
        auto& text = edited[file];
        for (auto at = text.find(was); at != std::string::npos; at = text.find(was, at)) {
            text.replace(at, was.size(), is);
            at += is.size();
        }
        return edited;
    };
    expect_refused(edit("settings.csv", "gap,40", "gap,42"), "settings.csv", 2, "id",
                   "with other content: controls");
    expect_refused(edit("settings.csv", "m1", "m2"), "settings.csv", 2, "id", "edited in its name");
    expect_refused(edit("settings.csv", "Old Six", "New Six"), "settings.csv", 2, "machine",
                   "edited in machine");
    expect_refused(edit("settings.csv", "Long Acre", "Mill Field"), "settings.csv", 2, "field",
                   "with other content: field");
    expect_refused(edit("parts.csv", "points", "shares"), "parts.csv", 2, "what", "edited in what");
    expect_refused(edit("parts.csv", "lifting_shares", "scalper"), "parts.csv", 2, "stage",
                   "edited in stage");
    expect_refused(edit("parts.csv", "Old Six", "New Six"), "parts.csv", 2, "machine",
                   "edited in machine");
    expect_refused(edit("parts.csv", "10-04", "10-05"), "parts.csv", 2, "at", "edited in at");
    // The note corrected by name, in a folder that does not bring it again.
    auto correction = files;
    correction["settings.csv"] =
        "id,supersedes,at,machine,field,control,value\n"
        "m2,m1,2031-10-04,Old Six,Long Acre,share.depth,75\n";
    EXPECT_EQ(must_import(correction), 1);
    EXPECT_EQ(ledger::without_superseded(load()).settings.size(), 1U);
}

TEST_F(EditedRows, WhatWasSeenOfAPileIsHeldToTheSame) {
    auto files = folder();
    files["destinations.csv"] = "name,kind\nworks,factory\nYard,pile\nHeap,pile\n";
    files["covers.csv"] = "pile,at,from [m],to [m],cover\nYard,2031-11-20,0,40,fleece\n";
    files["probes.csv"] =
        "pile,at,probe,kind,along [m],across [m],height [m],temperature [°C]\n"
        "Yard,2031-11-20,7,logger,12,1,2,5.5\nYard,2031-11-20,7,logger,12,1,3,5.5\n";
    files["removals.csv"] = "pile,at,from [m],to [m],gross [t]\nYard,2031-12-20,0,9,120\n";
    must_import(files);
    const auto edit = [&](const char* file, const std::string& was, const std::string& is) {
        auto edited = files;
        auto& text = edited[file];
        text.replace(text.find(was), was.size(), is);
        return edited;
    };
    expect_refused(edit("covers.csv", "fleece", "straw"), "covers.csv", 2, "cover",
                   "edited in cover");
    expect_refused(edit("covers.csv", "40", "45"), "covers.csv", 2, "to", "edited in to");
    expect_refused(edit("covers.csv", "Yard", "Heap"), "covers.csv", 2, "pile", "edited in pile");
    expect_refused(edit("covers.csv", "11-20", "11-21"), "covers.csv", 2, "at", "edited in at");
    expect_refused(edit("probes.csv", "5.5", "6.5"), "probes.csv", 2, "temperature",
                   "edited in temperature");
    expect_refused(edit("probes.csv", ",2,5", ",1,5"), "probes.csv", 2, "height",
                   "edited in height");
    expect_refused(edit("probes.csv", "7,", "8,"), "probes.csv", 2, "probe", "edited in probe");
    expect_refused(edit("probes.csv", "Yard", "Heap"), "probes.csv", 2, "pile", "edited in pile");
    expect_refused(edit("probes.csv", "11-20", "11-21"), "probes.csv", 2, "at", "edited in at");
    expect_refused(edit("removals.csv", "120", "130"), "removals.csv", 2, "gross",
                   "edited in gross");
    expect_refused(edit("removals.csv", "0,9", "0,8"), "removals.csv", 2, "to", "edited in to");
    expect_refused(edit("removals.csv", "Yard", "Heap"), "removals.csv", 2, "pile",
                   "edited in pile");
    // Another reading of the same probe is another one.
    auto more = files;
    more["probes.csv"] += "Yard,2031-11-21,7,logger,12,1,2,5.5\n";
    EXPECT_EQ(must_import(more), 1);
}

TEST_F(EditedRows, AllOfAFolderAreToldInOneGo) {
    must_import(folder());
    auto files = folder();
    files["labs.csv"] = "field,at,pol [%]\nLong Acre,2031-10-04,17.6\nMill Field,2031-10-04,17.2\n";
    files["strips.csv"] = "field,at,area [m2],whole_roots [kg]\nLong Acre,2031-10-04,10,1.5\n";
    files["loads.csv"] = "field,at,ticket,gross [t]\nLong Acre,2031-10-04,T1,24\n";
    const auto refused = import(files);
    ASSERT_FALSE(refused.ok());
    EXPECT_EQ(refused.problems().size(), 4U);
}

// The message's way out, followed to the letter: the edited row becomes the correction.
TEST_F(EditedRows, BecomeCorrectionsBySupersedes) {
    must_import(folder());
    const auto lab = load().labs.at(0).id.short_text();
    const auto load_1 = load().loads.at(0).id.short_text();
    auto files = folder();
    files["labs.csv"] = "field,at,pol [%],supersedes\nLong Acre,2031-10-04,17.9," + lab +
                        "\nMill Field,2031-10-04,17.1,\n";
    files["loads.csv"] = "field,at,ticket,gross [t],supersedes\nLong Acre,2031-10-04,T1,25.4," +
                         load_1 + "\nLong Acre,2031-10-04,T2,24.5,\nMill Field,2031-10-05,,20,\n";
    files["spots.csv"] =
        "sheet,field,at,spot,beets,correct,supersedes\ns1,Long Acre,2031-10-04,1,10,8,\n"
        "s1,Long Acre,2031-10-04,2,10,9,\ns1 again,Long Acre,2031-10-04,1,10,7,s1\n";
    EXPECT_EQ(must_import(files), 3);
    EXPECT_EQ(must_import(files), 0);
    const auto standing = ledger::without_superseded(load());
    EXPECT_EQ(standing.labs.size(), 2U);
    EXPECT_EQ(standing.loads.size(), 3U);
    ASSERT_EQ(standing.beet_sheets.size(), 1U);
    EXPECT_EQ(standing.beet_sheets[0].beets.size(), 10U);
    EXPECT_EQ(load().loads.size(), 4U) << "what was corrected stays";
    // And a correction that is edited in its turn.
    auto& labs = files["labs.csv"];
    labs.replace(labs.find("17.9"), 4, "18.0");
    expect_refused(files, "labs.csv", 2, "pol", "edited in pol");
}

TEST_F(EditedRows, WithAnIdAreRefusedWithTheWayOut) {
    const std::string id = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
    auto files = folder();
    files["labs.csv"] = "id,field,at,pol [%]\n" + id + ",Long Acre,2031-10-04,17.5\n";
    must_import(files);
    files["labs.csv"] = "id,field,at,pol [%]\n" + id + ",Long Acre,2031-10-04,17.9\n";
    expect_refused(files, "labs.csv", 2, "pol",
                   "was imported before as 017f22e2-79b0 with other content: pol. put it back as "
                   "it was");
    files["labs.csv"] = "id,field,at,pol [%],supersedes\n" + id + ",Long Acre,2031-10-04,17.5,\n" +
                        ",Long Acre,2031-10-04,17.9,017f22e2-79b0\n";
    EXPECT_EQ(must_import(files), 1);
    EXPECT_EQ(ledger::without_superseded(load()).labs.size(), 1U);
}

const char* const kTerms =
    R"({"beetwright_terms": 1, "name": "Ours", "currency": "EUR", "base_price": "40 EUR/t"})";

TEST_F(EditedRows, ASeasonWithoutTermsComesBackWithout) {
    must_import(folder());
    EXPECT_FALSE(io::has_terms(load()));
    EXPECT_FALSE(io::write_season(load(), UnitSystem::metric).contains("terms.json"));
}

TEST_F(EditedRows, AnotherSeasonsFolderIsNotMixedIn) {
    must_import(folder());
    auto next = folder();
    auto& facts = next["season.json"];
    facts.replace(facts.find("2031"), 4, "2032");
    EXPECT_EQ(must_import(next), 0) << "the first day was set wrongly";
    facts.replace(facts.find("Trial"), 5, "Next ");
    facts.replace(facts.find("2032"), 4, "2033");
    expect_refused(next, "season.json", 0, "name", "import it into a season file of its own");
}

TEST_F(EditedRows, AFolderWithoutTermsLeavesThoseOfTheSeason) {
    auto files = folder();
    files["terms.json"] = kTerms;
    must_import(files);
    EXPECT_EQ(must_import(folder()), 0);
    EXPECT_EQ(load().terms.name, "Ours");
    EXPECT_NEAR(load().terms.base_price.si(), 0.040, 1e-15);
    auto dollars = folder();
    auto& facts = dollars["season.json"];
    facts.replace(facts.find("EUR"), 3, "USD");
    expect_refused(dollars, "season.json", 0, "currency",
                   "imported before, pay in EUR, and the folder says USD");
    dollars["terms.json"] =
        R"({"beetwright_terms": 1, "currency": "USD", "base_price": "45 USD/t"})";
    EXPECT_EQ(must_import(dollars), 0);
    EXPECT_EQ(load().terms.currency, "USD");
}

}  // namespace
}  // namespace beetwright::records
