// What a season keeps of its fields' ground, over HTTP, from the demo's receiver and border.
#include <chrono>
#include <thread>

#include "app/access_fixture.hpp"
#include "demo_season/receiver.hpp"

namespace beetwright::app {
namespace {

constexpr const char* kField = "?field=Hollow%20Oak";

class GroundRoutesTest : public AccessTest {
 protected:
    void SetUp() override {
        AccessTest::SetUp();
        owner_ = first_owner(*people_).token;
    }
    http::Response get(const std::string& path, const std::string& etag = "") {
        auto asks = request(Method::get, "/api/v1/ground" + path, "", owner_);
        if (!etag.empty()) {
            asks.headers["if-none-match"] = etag;
        }
        return access_->answer(asks);
    }
    http::Response put(const std::string& part, const std::string& body,
                       const std::string& file = "", const std::string& said = "") {
        return ask(Method::put,
                   "/api/v1/ground/" + part + kField + (file.empty() ? "" : "&file=" + file) + said,
                   body, owner_);
    }
    Json must(const http::Response& response) {
        EXPECT_EQ(response.status, 200) << response.body;
        return Json::parse(response.body);
    }
    /// What is kept of the field now.
    Json kept() {
        const auto fields = must(get("")).at("fields");
        return fields.empty() ? Json::object() : fields.at(0);
    }
    void bring_heights() { must(put("heights", demo::receivers_log(1), "hollow_oak.csv")); }
    void bring_border() { must(put("border", demo::field_border(), "hollow_oak.geojson")); }
    Json zones_worked_out() {
        const auto started =
            ask(Method::post, "/api/v1/jobs",
                R"({"question": "zones", "parameters": {"field": "Hollow Oak"}})", owner_);
        EXPECT_EQ(started.status, 202) << started.body;
        const auto path = "/api/v1/jobs/" + Json::parse(started.body).at("id").get<std::string>();
        while (true) {
            const auto job = must(ask(Method::get, path, "", owner_));
            const auto state = job.at("state").get<std::string>();
            if (state != "waiting" && state != "running") {
                break;
            }
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
        return must(ask(Method::get, path + "/result", "", owner_));
    }
    /// As a map sends what was worked out.
    static Json to_keep(const Json& answer) {
        Json zones = Json::array();
        for (const auto& outline : answer.at("outlines")) {
            auto zone = outline;
            zone["controls"] = Json::array();
            for (const auto& on : answer.at("settings")) {
                if (on.at("lie") == outline.at("lie") && outline.at("lie") != "level ground") {
                    for (const auto& control : on.at("controls")) {
                        zone["controls"].push_back(
                            {{"control", control.at("control")}, {"value", control.at("value")}});
                    }
                }
            }
            zones.push_back(zone);
        }
        return {{"at", answer.at("at")}, {"machine", answer.at("machine")}, {"zones", zones}};
    }
    static Json first_problem(const http::Response& response) {
        return Json::parse(response.body).at("problems")[0];
    }

    std::string owner_;
};

/// A square of GeoJSON, so many degrees wide, from its south-west corner.
std::string square(double longitude, double latitude, double degrees) {
    Json ring = Json::array();
    for (const auto& [east, north] :
         {std::pair{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.0, 1.0}, {0.0, 0.0}}) {
        ring.push_back({longitude + east * degrees, latitude + north * degrees});
    }
    return Json{{"type", "Polygon"}, {"coordinates", {ring}}}.dump();
}

TEST_F(GroundRoutesTest, KeepABorderWithItsSizeUntilItIsTakenOut) {
    EXPECT_TRUE(must(get("")).at("fields").empty());
    const auto before = header_of(get(""), "ETag");
    bring_border();
    EXPECT_EQ(get("", before).status, 200) << "there is something new";
    const auto field = kept();
    EXPECT_EQ(field.at("field"), "Hollow Oak");
    EXPECT_EQ(field.at("border").at("from"), "hollow_oak.geojson");
    // By the shoelace formula of the demo's corners in its own plane, in which 800 m lie.
    EXPECT_NEAR(field.at("border").at("area_ha").get<double>(), 39.59, 0.01);
    EXPECT_EQ(field.at("border").at("geometry").at("type"), "MultiPolygon");
    EXPECT_FALSE(field.contains("heights"));
    EXPECT_EQ(get("", header_of(get(""), "ETag")).status, 304);
    ASSERT_EQ(ask(Method::remove, std::string("/api/v1/ground/border") + kField, "", owner_).status,
              200);
    EXPECT_TRUE(must(get("")).at("fields").empty());
    const auto again =
        ask(Method::remove, std::string("/api/v1/ground/border") + kField, "", owner_);
    EXPECT_EQ(again.status, 404);
}

TEST_F(GroundRoutesTest, ShowTheReliefOfALog) {
    EXPECT_EQ(get(std::string("/relief") + kField).status, 404);
    bring_heights();
    bring_border();
    const auto answer = get(std::string("/relief") + kField);
    const auto relief = must(answer);
    const auto columns = relief.at("columns").get<std::size_t>();
    const auto rows = relief.at("rows").get<std::size_t>();
    ASSERT_EQ(relief.at("heights_cm").size(), columns * rows);
    EXPECT_EQ(relief.at("corners").size(), 4U);
    std::size_t known = 0;
    for (const auto& height : relief.at("heights_cm")) {
        known += height.is_null() ? 0U : 1U;
    }
    const double cell_m = relief.at("cell_m").get<double>();
    EXPECT_NEAR(static_cast<double>(known) * cell_m * cell_m, 395'900.0, 4'000.0)
        << "what lies within the border, and no more";
    // A wide hollow of 1.7 m and a knoll of 2.1 m on ground that falls by 6.4 m over 800 m.
    EXPECT_NEAR(relief.at("high_m").get<double>() - relief.at("low_m").get<double>(), 8.0, 0.6);
    EXPECT_EQ(get(std::string("/relief") + kField, header_of(answer, "ETag")).status, 304);
}

TEST_F(GroundRoutesTest, ZonesAreWorkedOutKeptAndGoOutInEveryForm) {
    bring_heights();
    bring_border();
    const auto answer = zones_worked_out();
    ASSERT_EQ(answer.at("outlines").size(), answer.at("zones").size());
    ASSERT_EQ(answer.at("outlines").size(), 2U);
    must(put("zones", to_keep(answer).dump()));
    const auto zones = kept().at("zones");
    EXPECT_EQ(zones.at("machine"), answer.at("machine"));
    ASSERT_EQ(zones.at("zones").size(), 2U);
    const auto& hollow = zones.at("zones").at(1);
    EXPECT_EQ(hollow.at("lie"), "hollow");
    EXPECT_NEAR(hollow.at("area_ha").get<double>(),
                answer.at("zones").at(1).at("area_ha").get<double>(), 0.01);
    double together = 0.0;
    for (const auto& zone : zones.at("zones")) {
        together += zone.at("area_ha").get<double>();
    }
    EXPECT_NEAR(together, 39.59, 0.01) << "they part the field without rest";
    ASSERT_FALSE(hollow.at("controls").empty());
    for (const auto& control : hollow.at("controls")) {
        EXPECT_FALSE(control.at("words").get<std::string>().empty());
        EXPECT_TRUE(control.at("value").is_number());
    }
    const auto out = [&](const std::string& form) {
        return get(std::string("/zones") + kField + "&as=" + form);
    };
    EXPECT_EQ(must(out("geojson")).at("features").size(), 3U) << "the border and two zones";
    EXPECT_EQ(out("geojson").type, "application/geo+json");
    EXPECT_EQ(out("kml").body.substr(0, 5), "<?xml");
    EXPECT_EQ(out("gpx").body.substr(0, 5), "<?xml");
    EXPECT_EQ(out("taskdata").body.substr(0, 2), "PK");
    EXPECT_EQ(header_of(out("taskdata"), "Content-Disposition"),
              "attachment; filename=\"Hollow_Oak_zones.zip\"");
    EXPECT_EQ(out("page").type, "text/html; charset=utf-8");
    EXPECT_NE(out("page").body.find("Hollow Oak"), std::string::npos);
    EXPECT_NE(out("page&units=us").body, out("page").body);
    EXPECT_EQ(out("page&units=ell").status, 400);
    EXPECT_EQ(out("shout").status, 400);
    // What went out comes in as a border.
    EXPECT_EQ(put("border", out("taskdata").body, "zones.zip").status, 200);
}

TEST_F(GroundRoutesTest, ZonesDrawnByHandAreFittedIntoTheField) {
    bring_border();
    const auto machine = keeper_->season().value()->season.machines.front().name;
    const auto zone = [](int number, const std::string& lie, const std::string& outline) {
        return Json{{"number", number},
                    {"lie", lie},
                    {"geometry", Json::parse(outline)},
                    {"controls", {{{"control", "share.depth"}, {"value", 0.06}}}}};
    };
    // The second hangs out of the field in the west, the third lies half over it.
    const Json wish{{"at", "2031-11-20T08:00:00Z"},
                    {"machine", machine},
                    {"zones",
                     {zone(1, "level ground", square(6.0, 53.0, 0.001)),
                      zone(2, "knoll", square(6.9926, 53.9995, 0.002)),
                      zone(3, "hollow", square(6.9936, 53.9995, 0.002))}}};
    const auto answer = must(put("zones", wish.dump()));
    const auto notes = answer.at("notes").dump();
    EXPECT_NE(notes.find("zone 2: "), std::string::npos) << notes;
    EXPECT_NE(notes.find("outside the field"), std::string::npos) << notes;
    EXPECT_NE(notes.find("zone 3: "), std::string::npos) << notes;
    EXPECT_NE(notes.find("that another zone covers"), std::string::npos) << notes;
    double together = 0.0;
    for (const auto& one : answer.at("field").at("zones").at("zones")) {
        together += one.at("area_ha").get<double>();
    }
    EXPECT_NEAR(together, 39.59, 0.01) << "the field at large is what the others leave";
}

TEST_F(GroundRoutesTest, SayWhatIsWrongAndKeepNothing) {
    const auto kind_of = [&](const http::Response& response, int status) {
        EXPECT_EQ(response.status, status) << response.body;
        return first_problem(response);
    };
    EXPECT_NE(kind_of(put("border",
                          R"({"type": "Polygon", "coordinates":
                              [[[7, 54], [7.01, 54.01], [7.01, 54], [7, 54.01], [7, 54]]]})",
                          "x.geojson"),
                      400)
                  .at("what")
                  .get<std::string>()
                  .find("crosses itself"),
              std::string::npos);
    EXPECT_EQ(kind_of(put("heights", "no map at all", "x.csv"), 400).at("file"), "x.csv");
    EXPECT_EQ(kind_of(put("fences", "", "x"), 404).at("field"), "part");
    EXPECT_EQ(kind_of(put("border", demo::field_border(), "x", "&colour=red"), 400).at("field"),
              "colour");
    EXPECT_EQ(kind_of(ask(Method::put, "/api/v1/ground/border", "", owner_), 400).at("field"),
              "field");
    EXPECT_EQ(kind_of(ask(Method::put, "/api/v1/ground/border?field=Nowhere", demo::field_border(),
                          owner_),
                      404)
                  .at("field"),
              "field");
    EXPECT_EQ(kind_of(put("heights", demo::receivers_log(1), "x.csv", "&first_day=soon"), 400)
                  .at("field"),
              "first_day");
    EXPECT_TRUE(must(get("")).at("fields").empty());

    // Heights and a border that do not belong together.
    bring_heights();
    const auto apart = kind_of(put("border", square(17.0, 54.0, 0.005), "x.geojson"), 409);
    EXPECT_NE(apart.at("what").get<std::string>().find("go together"), std::string::npos);
    EXPECT_FALSE(kept().contains("border"));

    // Zones: no text, no machine of the season, a control that it has not, a value out of reach.
    const auto zones = [&](const std::string& machine, const std::string& control, double value) {
        const Json wish{{"at", "2031-11-20T08:00:00Z"},
                        {"machine", machine},
                        {"zones",
                         {{{"number", 1},
                           {"lie", "knoll"},
                           {"geometry", Json::parse(square(7.0, 54.0, 0.001))},
                           {"controls", {{{"control", control}, {"value", value}}}}}}}};
        return put("zones", wish.dump());
    };
    const auto machine = keeper_->season().value()->season.machines.front().name;
    EXPECT_EQ(zones(machine, "share.depth", 0.06).status, 200);
    EXPECT_EQ(kind_of(zones(machine, "sails.height", 0.06), 400).at("field"),
              "zones[0].controls[0].control");
    EXPECT_EQ(kind_of(zones(machine, "share.depth", 6.0), 400).at("field"), "zones[0].controls[0]");
    EXPECT_EQ(kind_of(put("zones", "zones"), 400).at("kind"), "input");
    EXPECT_EQ(kept().at("zones").at("zones").size(), 1U) << "what was there stays";
}

TEST_F(GroundRoutesTest, FollowAFieldThatIsRenamed) {
    bring_border();
    // What was seen in a field keeps its name; a new one has nothing seen.
    const auto before = header_of(get(""), "ETag");
    auto file = records::SeasonFile::open(path(), records::OpenMode::existing).value();
    const auto season = keeper_->season().value();
    auto with_one_more = season->season;
    auto field = with_one_more.fields.front();
    field.name = "New Piece";
    with_one_more.fields.push_back(field);
    ASSERT_TRUE(file.set(with_one_more,
                         {.at = now_.load(), .person = {}, .what = "set", .about = "fields.csv"})
                    .ok());
    ASSERT_EQ(ask(Method::put, "/api/v1/ground/border?field=New%20Piece", square(7.1, 54.0, 0.005),
                  owner_)
                  .status,
              200);
    ASSERT_TRUE(keeper_->rename("fields.csv", "New Piece", "Old Piece", Uuid(), now_.load()).ok());
    const auto fields = must(get("")).at("fields");
    ASSERT_EQ(fields.size(), 2U);
    EXPECT_EQ(fields.at(1).at("field"), "Old Piece");
    EXPECT_EQ(get("", before).status, 200);
    ASSERT_TRUE(keeper_->remove("fields.csv", "Old Piece", Uuid(), now_.load()).ok());
    EXPECT_EQ(must(get("")).at("fields").size(), 1U);
}

}  // namespace
}  // namespace beetwright::app
