// Observations as tablets send them: once, twice, at the same time, wrong, and while others read.
#include <gtest/gtest.h>

#include <atomic>
#include <latch>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "app/people_fixture.hpp"
#include "app/routes.hpp"
#include "demo_season/invent.hpp"
#include "io/season_folder.hpp"
#include "records/sqlite.hpp"

namespace beetwright::app {
namespace {

using Json = nlohmann::json;

constexpr const char* kHeader =
    "sheet,supersedes,field,machine,operator,at,seen_at,spot,topping,scar [cm],tip_break [cm],"
    "skin_damage [cm2],rot,frost\n";

/// One sheet with so many beets of one spot.
std::string sheet(const std::string& id, const std::string& field, int beets,
                  const std::string& supersedes = "", const std::string& topping = "correct") {
    std::string text;
    for (int i = 0; i < beets; ++i) {
        text += id + "," + supersedes + "," + field + ",,,2031-10-05T09:00:00Z,tank,1," + topping +
                ",,2-4,,,\n";
    }
    return text;
}

std::string id_of(int number) {
    char id[40];
    std::snprintf(id, sizeof id, "01900000-0000-7000-8000-%012d", number);
    return id;
}

class SyncTest : public SeasonOfPeople {
 protected:
    void SetUp() override {
        SeasonOfPeople::SetUp();
        auto file = records::SeasonFile::open(path(), records::OpenMode::create);
        ASSERT_TRUE(file.ok());
        const auto invented = demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{}));
        ASSERT_TRUE(file->import(invented.season).ok());
        auto keeper = SeasonKeeper::open(path());
        ASSERT_TRUE(keeper.ok());
        keeper_ = std::move(*keeper);
        add_every_route(access_, {.keeper = *keeper_,
                                  .files = files_,
                                  .people = nullptr,
                                  .clock = [] { return Instant(std::chrono::milliseconds(5)); },
                                  .metrics = metrics_,
                                  .connections = [] { return std::size_t{0}; }});
        field_ = (*keeper_->season())->season.fields.front().name;
        sheets_before_ = (*keeper_->season())->season.beet_sheets.size();
    }

    [[nodiscard]] http::Response ask(http::Method method, std::string_view target,
                                     std::string body = {},
                                     std::map<std::string, std::string> headers = {}) const {
        http::Request request;
        request.method = method;
        request.target = *http::parse_target(target);
        request.peer = "127.0.0.1";
        request.headers = std::move(headers);
        request.headers["host"] = "127.0.0.1:8080";
        request.headers["x-beetwright"] = "1";
        request.body = std::move(body);
        return access_.answer(request);
    }
    [[nodiscard]] http::Response send(const std::string& rows) const {
        return ask(http::Method::post, "/api/v1/observations",
                   Json{{"beets.csv", kHeader + rows}}.dump());
    }
    /// As `beetwright import` does while the server runs.
    void import_beside() const {
        auto file = records::SeasonFile::open(path(), records::OpenMode::existing);
        ASSERT_TRUE(file.ok());
        auto season = *file->load();
        season.fields.front().grower = "another grower";
        ASSERT_TRUE(file->import(season).ok());
    }
    [[nodiscard]] std::size_t new_sheets() const {
        return (*keeper_->season())->season.beet_sheets.size() - sheets_before_;
    }

    std::unique_ptr<SeasonKeeper> keeper_;
    AppFiles files_;
    Metrics metrics_;
    Access access_ = Access::open();
    std::string field_;
    std::size_t sheets_before_ = 0;
};

TEST_F(SyncTest, TheSameSentTwiceIsOne) {
    const auto rows = sheet(id_of(1), field_, 10);
    const auto first = send(rows);
    ASSERT_EQ(first.status, 200) << first.body;
    EXPECT_EQ(Json::parse(first.body), (Json{{"new", 1}, {"known", 0}}));
    EXPECT_EQ(Json::parse(send(rows).body), (Json{{"new", 0}, {"known", 1}}));
    EXPECT_EQ(new_sheets(), 1U);
    EXPECT_EQ(Json::parse(ask(http::Method::get, "/api/v1/received").body).size(), 1U);
}

TEST_F(SyncTest, TwoTabletsOfOneFieldAddUp) {
    ASSERT_EQ(send(sheet(id_of(1), field_, 10)).status, 200);
    ASSERT_EQ(send(sheet(id_of(2), field_, 7)).status, 200);
    const auto season = (*keeper_->season())->season;
    EXPECT_EQ(new_sheets(), 2U);
    EXPECT_EQ(season.beet_sheets.back().beets.size(), 7U);
}

TEST_F(SyncTest, ALookAtAStandingCropGoesThereAndBack) {
    const auto before = (*keeper_->season())->season.standing.size();
    const auto look = [&](const std::string& crowns) {
        return Json{{"standing.csv", "id,field,at,leaf_sick [%],crowns [in]\n" + id_of(1) + "," +
                                         field_ + ",2031-09-05T09:00:00Z,10," + crowns + "\n"}}
            .dump();
    };
    const auto send_look = [&](const std::string& crowns) {
        return ask(http::Method::post, "/api/v1/observations", look(crowns));
    };
    EXPECT_EQ(Json::parse(send_look("2 1 -0.5").body), (Json{{"new", 1}, {"known", 0}}));
    EXPECT_EQ(Json::parse(send_look("2 1 -0.5").body), (Json{{"new", 0}, {"known", 1}}));
    EXPECT_EQ(send_look("2 1 0.5").status, 409);
    const auto wrong = send_look("1.5 two");
    EXPECT_EQ(wrong.status, 400);
    EXPECT_NE(wrong.body.find("number 2: 'two'"), std::string::npos) << wrong.body;
    EXPECT_EQ((*keeper_->season())->season.standing.size(), before + 1);
    const auto files = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    const auto text = files.at("standing.csv").get<std::string>();
    EXPECT_NE(text.find(id_of(1) + ",," + field_ +
                        ",2031-09-05T09:00:00.000Z,,,,,,,,10,,,,,,,5.08 2.54 -1.27\n"),
              std::string::npos)
        << text;
    EXPECT_TRUE(Json::parse(ask(http::Method::get, "/api/v1/received").body).contains(id_of(1)));
}

TEST_F(SyncTest, WhatIsEditedIsRefusedAndNothingIsLost) {
    ASSERT_EQ(send(sheet(id_of(1), field_, 10)).status, 200);
    const auto edited = send(sheet(id_of(1), field_, 9));
    EXPECT_EQ(edited.status, 409) << edited.body;
    EXPECT_EQ((*keeper_->season())->season.beet_sheets.back().beets.size(), 10U);
}

TEST_F(SyncTest, ACorrectionSupersedesOnceAndASecondIsTold) {
    ASSERT_EQ(send(sheet(id_of(1), field_, 10)).status, 200);
    EXPECT_EQ(send(sheet(id_of(2), field_, 9, id_of(1))).status, 200);
    const auto second = send(sheet(id_of(3), field_, 8, id_of(1)));
    EXPECT_EQ(second.status, 409) << second.body;
    EXPECT_NE(second.body.find("was corrected before"), std::string::npos);
    EXPECT_EQ(new_sheets(), 2U);
    // What nobody has cannot be corrected.
    EXPECT_EQ(send(sheet(id_of(4), field_, 8, id_of(99))).status, 400);
}

TEST_F(SyncTest, SayWhatIsWrongAndTakeNothing) {
    struct Case {
        std::string body;
        int status;
        const char* says;
    };
    const std::vector<Case> cases{
        {"", 400, "not JSON"},
        {"[1, 2]", 400, "not a JSON object"},
        {R"({"beets.csv": 3})", 400, "not text"},
        {R"({"fields.csv": "name"})", 400, "not a table of observations"},
        {Json{{"beets.csv", kHeader + sheet(id_of(1), "No Such Field", 1)}}.dump(), 400,
         "is not in fields.csv"},
        {Json{{"beets.csv", kHeader + sheet(id_of(1), field_, 1, "", "shaved")}}.dump(), 400,
         "topping"},
        {Json{{"beets.csv", std::string("\xff\xfe\x00\x01", 4)}}.dump(
             -1, ' ', false, Json::error_handler_t::replace),
         400, "problems"},
    };
    for (const auto& one : cases) {
        const auto response = ask(http::Method::post, "/api/v1/observations", one.body);
        EXPECT_EQ(response.status, one.status) << one.body << "\n" << response.body;
        EXPECT_NE(response.body.find(one.says), std::string::npos) << response.body;
    }
    EXPECT_EQ(new_sheets(), 0U);
}

TEST_F(SyncTest, ManyAtOnceAllArriveOnceWhileOthersRead) {
    constexpr int tablets = 8;
    constexpr int sheets_each = 20;
    std::latch start(tablets + 1);
    std::vector<std::jthread> senders;
    std::atomic<int> refused = 0;
    for (int tablet = 0; tablet < tablets; ++tablet) {
        senders.emplace_back([&, tablet] {
            start.arrive_and_wait();
            for (int i = 0; i < sheets_each; ++i) {
                const auto rows = sheet(id_of(1 + tablet * sheets_each + i), field_, 10);
                refused += send(rows).status == 200 ? 0 : 1;
                refused += send(rows).status == 200 ? 0 : 1;
            }
        });
    }
    start.arrive_and_wait();
    std::size_t last = 0;
    while (last < std::size_t{tablets} * sheets_each) {
        const auto now = new_sheets();
        EXPECT_GE(now, last);
        last = now;
        if (refused > 0) {
            break;
        }
    }
    senders.clear();
    EXPECT_EQ(refused, 0);
    EXPECT_EQ(new_sheets(), std::size_t{tablets} * sheets_each);
    // What was kept up with is what the file says.
    auto file = records::SeasonFile::open(path(), records::OpenMode::read_only);
    ASSERT_TRUE(file.ok());
    EXPECT_EQ(io::write_season(*file->load(), UnitSystem::metric),
              io::write_season((*keeper_->season())->season, UnitSystem::metric));
}

TEST_F(SyncTest, AnImportBesideTheServerIsSeenWithWhatWasSent) {
    ASSERT_EQ(send(sheet(id_of(1), field_, 10)).status, 200);
    import_beside();
    ASSERT_EQ(send(sheet(id_of(2), field_, 10)).status, 200);
    EXPECT_EQ((*keeper_->season())->season.fields.front().grower, "another grower");
    EXPECT_EQ(new_sheets(), 2U);
}

TEST_F(SyncTest, TheSeasonComesOnceForEachRevision) {
    const auto first = ask(http::Method::get, "/api/v1/season");
    ASSERT_EQ(first.status, 200);
    const auto tag_of = [](const http::Response& response) {
        for (const auto& [name, value] : response.headers) {
            if (name == "ETag") {
                return value;
            }
        }
        return std::string();
    };
    const auto again =
        ask(http::Method::get, "/api/v1/season", {}, {{"if-none-match", tag_of(first)}});
    EXPECT_EQ(again.status, 304);
    EXPECT_TRUE(again.body.empty());
    ASSERT_EQ(send(sheet(id_of(1), field_, 3)).status, 200);
    const auto changed =
        ask(http::Method::get, "/api/v1/season", {}, {{"if-none-match", tag_of(first)}});
    EXPECT_EQ(changed.status, 200);
    // As a folder, it reads back as the same season.
    std::map<std::string, std::string> files;
    const auto sent = Json::parse(changed.body);
    for (const auto& [name, text] : sent.items()) {
        files[name] = text;
    }
    const auto read = io::read_season(files);
    ASSERT_TRUE(read.ok()) << read.problems()[0].text();
    EXPECT_EQ(read->beet_sheets.size(), sheets_before_ + 1);
}

TEST_F(SyncTest, WhoHasAnEarlierRevisionGetsWhatWasAddedAlone) {
    const auto header = [](const http::Response& response, std::string_view wanted) {
        for (const auto& [name, value] : response.headers) {
            if (name == wanted) {
                return value;
            }
        }
        return std::string();
    };
    const auto since = [&](const std::string& tag) {
        return ask(http::Method::get, "/api/v1/season", {},
                   {{"if-none-match", tag}, {"x-beetwright-additions", "1"}});
    };
    const auto whole = ask(http::Method::get, "/api/v1/season");
    const auto first_tag = header(whole, "ETag");
    ASSERT_EQ(send(sheet(id_of(1), field_, 3)).status, 200);
    ASSERT_EQ(send(sheet(id_of(2), field_, 4)).status, 200);
    const auto added = since(first_tag);
    EXPECT_EQ(header(added, "X-Beetwright-Additions"), "1");
    const auto tables = Json::parse(added.body);
    ASSERT_EQ(tables.size(), 1U);
    // Put after what one has, it is the season whole.
    const auto now = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    auto put_together = Json::parse(whole.body);
    const std::string rows = tables.at("beets.csv");
    put_together["beets.csv"] =
        put_together.at("beets.csv").get<std::string>() + rows.substr(rows.find('\n') + 1);
    EXPECT_EQ(put_together, now);
    // Somebody else's import, another opening of the file, a tag that nobody gave: all of it.
    for (const char* tag : {"\"x.1\"", "7", ""}) {
        EXPECT_EQ(header(since(tag), "X-Beetwright-Additions"), "") << tag;
    }
    import_beside();
    EXPECT_EQ(header(since(first_tag), "X-Beetwright-Additions"), "");
    EXPECT_EQ(since(header(since(first_tag), "ETag")).status, 304);
}

TEST_F(SyncTest, SoilsAreSetRowByRow) {
    const auto put = [&](const std::string& text) {
        return ask(http::Method::put, "/api/v1/season/soils.csv", text);
    };
    const auto before = (*keeper_->season())->season.soils.size();
    ASSERT_EQ(put("name,class,holds [in]\nmarsh,clay,2\nwet end,,\n").status, 200);
    ASSERT_EQ(put("name,class,rain_stop [mm]\nmarsh,silty clay,4\n").status, 200);
    const auto soils = (*keeper_->season())->season.soils;
    ASSERT_EQ(soils.size(), before + 2);
    EXPECT_EQ(soils[before].soil_class, weather::SoilClass::silty_clay);
    EXPECT_FALSE(soils[before].holds.is_known()) << "the row is the newest one's";
    EXPECT_EQ(ask(http::Method::put, "/api/v1/season/soils.csv/marsh", "fen").status, 200);
    EXPECT_EQ(ask(http::Method::remove, "/api/v1/season/soils.csv/fen").status, 200);
    EXPECT_EQ((*keeper_->season())->season.soils.size(), before + 1);
    const auto wrong = put("name,class\nmarsh,bog\n");
    EXPECT_EQ(wrong.status, 400);
    EXPECT_NE(wrong.body.find("sandy loam"), std::string::npos) << wrong.body;
}

TEST_F(SyncTest, ANoteOfSettingsGoesThereAndBack) {
    ASSERT_EQ(ask(http::Method::put, "/api/v1/season/machines.csv",
                  "name,build\nOld Six,turbines\nTopper,\n")
                  .status,
              200);
    const auto send_note = [&](const std::string& machine, const std::string& depth) {
        const std::string start = id_of(1) + ",2031-10-05T07:00:00Z," + machine + ",";
        const Json tables = {
            {"settings.csv", "id,at,machine,control,value,unit\n" + start + "share.depth," + depth +
                                 ",cm\n" + start + "turbine_1.guard,closed,\n"},
            {"parts.csv", "id,machine,at,stage,what\n" + id_of(2) + "," + machine +
                              ",2031-10-05T06:00:00Z,turbines,tines\n"}};
        return ask(http::Method::post, "/api/v1/observations", tables.dump());
    };
    EXPECT_EQ(Json::parse(send_note("Old Six", "7.5").body), (Json{{"new", 2}, {"known", 0}}));
    EXPECT_EQ(Json::parse(send_note("Old Six", "7.5").body), (Json{{"new", 0}, {"known", 2}}));
    EXPECT_EQ(send_note("Old Six", "7.6").status, 409);
    EXPECT_NE(send_note("Old Six", "30").body.find("outside what this machine can"),
              std::string::npos);
    EXPECT_NE(send_note("Topper", "7.5").body.find("has no build"), std::string::npos);
    const auto files = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    EXPECT_NE(
        files.at("settings.csv")
            .get<std::string>()
            .find(id_of(1) + ",,2031-10-05T07:00:00.000Z,Old Six,,,share.depth,75,mm\n" + id_of(1) +
                  ",,2031-10-05T07:00:00.000Z,Old Six,,,turbine_1.guard,closed,\n"),
        std::string::npos)
        << files.at("settings.csv");
    EXPECT_NE(files.at("parts.csv").get<std::string>().find("turbines,tines"), std::string::npos);
}

TEST_F(SyncTest, AMachineIsDescribedFileByFile) {
    const auto put = [&](const std::string& file, const std::string& text) {
        return ask(http::Method::put, "/api/v1/season/" + file, text);
    };
    const auto machine = [&] { return (*keeper_->season())->season.machines.back(); };
    // The text is the whole file: that of the other machines comes first.
    const auto files = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    const std::string others = files.at("controls.csv");
    const std::string points = files.at("dials.csv");
    const auto depth_to = [&](const char* most) {
        return others + "Old Six,share.depth,,,mm,," + most + ",,,1\n";
    };
    ASSERT_EQ(put("machines.csv", "name,build\nOld Six,\n").status, 200);
    const auto too_soon = put("controls.csv", depth_to("110"));
    EXPECT_EQ(too_soon.status, 400);
    EXPECT_NE(too_soon.body.find("has no build"), std::string::npos) << too_soon.body;
    ASSERT_EQ(put("machines.csv", "name,build\nOld Six,turbines\n").status, 200);
    ASSERT_EQ(put("controls.csv", depth_to("110")).status, 200);
    ASSERT_EQ(put("dials.csv", points + "Old Six,share.depth,1,60,,\nOld Six,share.depth,5,100,,\n")
                  .status,
              200);
    ASSERT_EQ(machine().controls.size(), 1U);
    EXPECT_TRUE(machine().controls[0].has_dial());
    // Its row is set alone, and what stands in files of their own stays.
    ASSERT_EQ(put("machines.csv", "name,build,rows\nOld Six,turbines,9\n").status, 200);
    EXPECT_EQ(machine().rows, 9);
    EXPECT_TRUE(machine().controls.at(0).has_dial());
    EXPECT_EQ(put("controls.csv", depth_to("90")).status, 400) << "a point lies beyond";
    EXPECT_EQ(put("machines.csv", "name\nOld Six\n").status, 400) << "controls are said of it";

    ASSERT_EQ(ask(http::Method::put, "/api/v1/season/machines.csv/Old%20Six", "Older Six").status,
              200);
    EXPECT_TRUE(machine().controls.at(0).has_dial());
    ASSERT_EQ(put("dials.csv", points).status, 200);
    ASSERT_EQ(put("controls.csv", others).status, 200);
    EXPECT_TRUE(machine().controls.empty());
    EXPECT_EQ(ask(http::Method::remove, "/api/v1/season/machines.csv/Older%20Six").status, 200);
    EXPECT_EQ(Json::parse(ask(http::Method::get, "/api/v1/season").body), files);
}

TEST_F(SyncTest, APileIsLaidOutFileByFile) {
    const auto put = [&](const std::string& file, const std::string& text) {
        return ask(http::Method::put, "/api/v1/season/" + file, text);
    };
    const auto piles = [&] { return (*keeper_->season())->season.piles; };
    const auto files = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    // The text is the whole file: those of the other piles come first.
    const std::string others = files.at("piles.csv");
    const auto yard = [&](const char* height) {
        return others + "Yard,8,1," + height + ",60,,,\n";
    };
    const auto before = piles().size();
    const auto too_soon = put("piles.csv", yard("3"));
    EXPECT_EQ(too_soon.status, 400);
    EXPECT_NE(too_soon.body.find("is not in destinations.csv"), std::string::npos) << too_soon.body;
    ASSERT_EQ(put("destinations.csv", "name,kind\nYard,pile\n").status, 200);
    ASSERT_EQ(put("piles.csv", yard("3")).status, 200);
    ASSERT_EQ(piles().size(), before + 1);
    EXPECT_EQ(put("piles.csv", yard("8")).status, 400) << "too steep";
    const std::string fans = files.contains("fans.csv")
                                 ? files.at("fans.csv").get<std::string>()
                                 : "pile,from [m],to [m],flow [m3/h],pressure [Pa],power [kW],rule,"
                                   "difference [K],not_below [°C],only_below [°C]\n";
    ASSERT_EQ(put("fans.csv", fans + "Yard,5,50,20000,300,5.5,difference,2,0,\n").status, 200);
    EXPECT_EQ(piles().back().fans.size(), 1U);
    EXPECT_EQ(put("fans.csv", fans + "Yard,5,70,20000,300,5.5,off,,,\n").status, 400);
    // A destination's own row is set alone, and how it is laid out stays.
    ASSERT_EQ(put("destinations.csv", "name,kind\nYard,pile\n").status, 200);
    EXPECT_EQ(piles().back().fans.size(), 1U);
    EXPECT_EQ(put("destinations.csv", "name,kind\nYard,factory\n").status, 400);
    ASSERT_EQ(ask(http::Method::put, "/api/v1/season/destinations.csv/Yard", "Old yard").status,
              200);
    EXPECT_EQ(piles().back().name, "Old yard");
    EXPECT_EQ(piles().back().fans.size(), 1U);
    EXPECT_EQ(ask(http::Method::remove, "/api/v1/season/destinations.csv/Old%20yard").status, 200);
    EXPECT_EQ(Json::parse(ask(http::Method::get, "/api/v1/season").body), files);
}

TEST_F(SyncTest, WhatWasSeenOfAPileGoesThereAndBack) {
    ASSERT_EQ(
        ask(http::Method::put, "/api/v1/season/destinations.csv", "name,kind\nYard,pile\n").status,
        200);
    const std::string at = ",,Yard,2031-11-20T07:00:00Z,";
    const auto send_log = [&](const std::string& fahrenheit) {
        const Json tables = {
            {"covers.csv",
             "id,supersedes,pile,at,from [ft],to [ft],cover\n" + id_of(1) + at + ",100,fleece\n"},
            {"probes.csv", "id,supersedes,pile,at,probe,along [ft],height [ft],temperature [°F]\n" +
                               id_of(2) + at + "1,50,4," + fahrenheit + "\n"},
            {"removals.csv",
             "id,supersedes,pile,at,gross [short ton]\n" + id_of(3) + at + "100\n"}};
        return ask(http::Method::post, "/api/v1/observations", tables.dump());
    };
    EXPECT_EQ(Json::parse(send_log("41").body), (Json{{"new", 3}, {"known", 0}}));
    EXPECT_EQ(Json::parse(send_log("41").body), (Json{{"new", 0}, {"known", 3}}));
    EXPECT_EQ(send_log("42").status, 409);
    const auto files = Json::parse(ask(http::Method::get, "/api/v1/season").body);
    const auto has = [&](const char* file, const std::string& row) {
        return files.at(file).get<std::string>().find(row) != std::string::npos;
    };
    const std::string seen = ",,Yard,2031-11-20T07:00:00.000Z,";
    EXPECT_TRUE(has("covers.csv", id_of(1) + seen + ",30.48,fleece\n")) << files.at("covers.csv");
    EXPECT_TRUE(has("probes.csv", id_of(2) + seen + "1,lance,15.24,0,1.2192,5\n"))
        << files.at("probes.csv");
    EXPECT_TRUE(has("removals.csv", id_of(3) + seen + ",,90.718474\n")) << files.at("removals.csv");
    const auto received = Json::parse(ask(http::Method::get, "/api/v1/received").body);
    EXPECT_TRUE(received.contains(id_of(2)));
    // Once it is laid out, what lies outside is refused, as is a shape that leaves out what was
    // seen.
    const auto lay_out = [&](const char* length) {
        const auto text =
            files.contains("piles.csv") ? files.at("piles.csv").get<std::string>() : std::string();
        return ask(http::Method::put, "/api/v1/season/piles.csv",
                   text + "Yard,8,1,3," + length + ",,,\n");
    };
    const auto short_of_it = lay_out("12");
    EXPECT_EQ(short_of_it.status, 400);
    EXPECT_NE(short_of_it.body.find("probes.csv"), std::string::npos) << short_of_it.body;
    ASSERT_EQ(lay_out("40").status, 200);
    const auto outside = ask(http::Method::post, "/api/v1/observations",
                             Json{{"probes.csv",
                                   "pile,at,probe,along [m],height [m],temperature [°C]\n"
                                   "Yard,2031-11-21T07:00:00Z,1,10,4,5\n"}}
                                 .dump());
    EXPECT_EQ(outside.status, 400);
    EXPECT_NE(outside.body.find("is above the pile"), std::string::npos) << outside.body;
}

TEST_F(SyncTest, OwnConstantsAreSetAndWithdrawn) {
    const auto put = [&](const std::string& text) {
        return ask(http::Method::put, "/api/v1/season/constants.csv", text);
    };
    const auto count = [&] { return (*keeper_->season())->season.replacements.size(); };
    const std::string header = "id,value,low,high,why\n";
    const auto set = put(header + "tip.exponent,2.3,2.1,2.5,measured here\n");
    ASSERT_EQ(set.status, 200) << set.body;
    EXPECT_EQ(count(), 1U);
    const auto told = ask(http::Method::get, "/api/v1/constants?start=tip.exponent");
    EXPECT_EQ(Json::parse(told.body).at(0).at("value"), 2.3);
    EXPECT_EQ(Json::parse(told.body).at(0).at("own_number"), true);
    EXPECT_EQ(put(header).status, 200);
    EXPECT_EQ(count(), 0U);
    EXPECT_EQ(ask(http::Method::put, "/api/v1/season/beets.csv", "").status, 404);
    EXPECT_EQ(put("nonsense").status, 400);
}

// A file that is set and the note of who set it stand together or not at all.
TEST_F(SyncTest, WhatCannotBeNotedIsNotSet) {
    const auto database = records::Database::open(path(), records::Access::write);
    ASSERT_TRUE(database.ok());
    const auto noted = [&] { return database->integer("SELECT count(*) FROM audit").value(); };
    const auto set = [&] {
        return ask(http::Method::put, "/api/v1/season/constants.csv",
                   "id,value,low,high,why\ntip.exponent,2.3,2.1,2.5,measured here\n");
    };
    const auto before = *keeper_->season();
    ASSERT_TRUE(database
                    ->execute("CREATE TRIGGER no_audit BEFORE INSERT ON audit "
                              "BEGIN SELECT RAISE(ABORT, 'as asked'); END")
                    .ok());
    const auto refused = set();
    EXPECT_GE(refused.status, 400) << refused.body;
    EXPECT_EQ(*keeper_->season(), before) << "not even another revision";
    EXPECT_EQ(noted(), 0);
    ASSERT_TRUE(database->execute("DROP TRIGGER no_audit").ok());
    EXPECT_EQ(set().status, 200);
    EXPECT_EQ((*keeper_->season())->season.replacements.size(), 1U);
    EXPECT_EQ((*keeper_->season())->revision, before->revision + 1);
    EXPECT_EQ(noted(), 1);
}

TEST_F(SyncTest, RowsOfNamesJoinThoseThatAreThere) {
    const auto put = [&](const char* file, const std::string& text) {
        return ask(http::Method::put, "/api/v1/season/" + std::string(file), text);
    };
    const auto before = (*keeper_->season())->season;
    ASSERT_EQ(put("machines.csv", "name,kind,rows\nNew One,hired,6\n").status, 200);
    ASSERT_EQ(put("fields.csv",
                  "name,area [ha],machine\nNew Corner,7.5,New One\n" + field_ + ",3,New One\n")
                  .status,
              200);
    ASSERT_EQ(put("destinations.csv",
                  "name,kind\n" + before.destinations.front().name + ",pile\nYard,pile\n")
                  .status,
              200);
    const auto after = (*keeper_->season())->season;
    EXPECT_EQ(after.machines.size(), before.machines.size() + 1);
    EXPECT_EQ(after.fields.size(), before.fields.size() + 1);
    EXPECT_EQ(after.fields.front().machine, "New One");
    EXPECT_EQ(after.fields[1].area.si(), before.fields[1].area.si());
    EXPECT_EQ(after.destinations.front().temperatures.size(),
              before.destinations.front().temperatures.size());
    EXPECT_EQ(after.destinations.back().name, "Yard");
    // A name that no table introduces.
    const auto refused = put("fields.csv", "name,area [ha],machine\nNew Corner,7.5,New Won\n");
    EXPECT_EQ(refused.status, 400);
    EXPECT_NE(refused.body.find("did you mean \\\"New One"), std::string::npos) << refused.body;
}

TEST_F(SyncTest, TemperaturesTakeThePlaceOfAllThatWereThere) {
    const auto& pile = (*keeper_->season())->season.destinations.back();
    ASSERT_GT(pile.temperatures.size(), 2U);
    const auto name = pile.name;
    const auto put = [&](const std::string& rows) {
        return ask(http::Method::put, "/api/v1/season/temperatures.csv",
                   "destination,day,mean [°C]\n" + rows);
    };
    ASSERT_EQ(put(name + ",2031-10-01,8\n" + name + ",2031-10-02,7\n").status, 200);
    const auto days = [&] {
        return (*keeper_->season())->season.destinations.back().temperatures.size();
    };
    EXPECT_EQ(days(), 2U);
    ASSERT_EQ(put(name + ",2031-10-01,8\n").status, 200);
    EXPECT_EQ(days(), 1U) << "a day that is left out is gone";
    EXPECT_EQ(put(name + ",2031-10-01,8\n" + name + ",2031-10-03,7\n").status, 400) << "a gap";
    EXPECT_EQ(days(), 1U);
}

TEST_F(SyncTest, NamesThatSomethingSeenUsesStay) {
    const auto before = (*keeper_->season())->season;
    const auto machine = before.beet_sheets.front().machine;
    const auto at = [](const char* file, const std::string& name) {
        std::string path = "/api/v1/season/" + std::string(file) + "/";
        for (const char c : name) {
            path += c == ' ' ? std::string("%20") : std::string(1, c);
        }
        return path;
    };
    for (const auto& path : {at("machines.csv", machine), at("fields.csv", field_),
                             at("destinations.csv", before.loads.front().destination)}) {
        const auto removed = ask(http::Method::remove, path);
        EXPECT_EQ(removed.status, 409) << removed.body;
        EXPECT_NE(removed.body.find("is named by"), std::string::npos) << removed.body;
        const auto renamed = ask(http::Method::put, path, "Another");
        EXPECT_EQ(renamed.status, 409) << renamed.body;
        EXPECT_NE(renamed.body.find("what was seen is not edited"), std::string::npos);
    }
    // Until then a name can change, and fields follow.
    ASSERT_EQ(ask(http::Method::put, "/api/v1/season/machines.csv", "name\nNew One\n").status, 200);
    ASSERT_EQ(ask(http::Method::put, "/api/v1/season/fields.csv",
                  "name,area [ha],machine\nNew Corner,7.5,New One\n")
                  .status,
              200);
    const auto new_one = at("machines.csv", "New One");
    EXPECT_EQ(ask(http::Method::put, new_one, machine).status, 409) << "taken";
    EXPECT_EQ(ask(http::Method::put, new_one, " ").status, 400);
    EXPECT_EQ(ask(http::Method::put, new_one, "Hired").status, 200);
    EXPECT_EQ((*keeper_->season())->season.fields.back().machine, "Hired");
    const auto in_use = ask(http::Method::remove, at("machines.csv", "Hired"));
    EXPECT_EQ(in_use.status, 409);
    EXPECT_NE(in_use.body.find("give it another machine first"), std::string::npos) << in_use.body;
    EXPECT_EQ(ask(http::Method::remove, at("fields.csv", "New Corner")).status, 200);
    EXPECT_EQ(ask(http::Method::remove, at("machines.csv", "Hired")).status, 200);
    EXPECT_EQ(ask(http::Method::remove, at("machines.csv", "Hired")).status, 404);
    EXPECT_EQ(ask(http::Method::remove, at("beets.csv", "x")).status, 404);
    const auto after = (*keeper_->season())->season;
    EXPECT_EQ(after.fields.size(), before.fields.size());
    EXPECT_EQ(after.machines.size(), before.machines.size());
}

TEST_F(SyncTest, TheSeasonsNameMayChangeAndItsCurrencyUntilThereAreTerms) {
    const auto put = [&](const Json& facts) {
        return ask(http::Method::put, "/api/v1/season/season.json", facts.dump());
    };
    const auto before = (*keeper_->season())->season;
    Json facts{{"beetwright_season", 1},
               {"name", "Another name"},
               {"currency", before.currency},
               {"units", "us"},
               {"first_day", "2031-09-20"}};
    ASSERT_EQ(put(facts).status, 200);
    const auto after = (*keeper_->season())->season;
    EXPECT_EQ(after.name, "Another name");
    EXPECT_EQ(after.units, UnitSystem::us);
    EXPECT_EQ(to_text(after.first_day), "2031-09-20");
    EXPECT_EQ(after.seed, before.seed) << "no figure moves";
    EXPECT_EQ(after.fields.size(), before.fields.size());
    facts["currency"] = "USD";
    const auto refused = put(facts);
    EXPECT_EQ(refused.status, 409) << refused.body;
    EXPECT_NE(refused.body.find("money is not converted"), std::string::npos);
    facts.erase("name");
    EXPECT_EQ(put(facts).status, 400);
}

}  // namespace
}  // namespace beetwright::app
