// The season's weather over HTTP.
#include "app/access_fixture.hpp"
#include "io/text_map.hpp"
#include "io/weather_season.hpp"

namespace beetwright::app {
namespace {

class WeatherRoutesTest : public AccessTest {
 protected:
    void SetUp() override {
        AccessTest::SetUp();
        owner_ = first_owner(*people_).token;
    }
    http::Response get(std::string_view etag = "") {
        auto asks = request(Method::get, "/api/v1/weather", "", owner_);
        if (!etag.empty()) {
            asks.headers["if-none-match"] = etag;
        }
        return access_->answer(asks);
    }
    http::Response put(const std::string& path, const std::string& body) {
        return ask(Method::put, "/api/v1/weather/" + path, body, owner_);
    }
    static Json first_problem(const http::Response& response) {
        return Json::parse(response.body).at("problems")[0];
    }
    std::size_t observed_hours() {
        const auto season = *keeper_->season();
        return season->season.weather->observed->hours.size();
    }

    std::string owner_;
};

/// Hours that go on from 5 o'clock on 4 December, where the demo's measured ones end.
std::string hours_from(int from, int count) {
    std::string text =
        "# latitude: 54\n# longitude: 7\n# elevation: 2\n# clock: +01:00\n"
        "hour_beginning,temperature [°C],humidity [%],wind [m/s],rain [mm],cloud "
        "[%]\n";
    for (int k = from; k < from + count; ++k) {
        text += "2031-12-04T" + std::string(k < 10 ? "0" : "") + std::to_string(k) +
                ":00:00Z,5,90,3,0,50\n";
    }
    return text;
}

TEST_F(WeatherRoutesTest, AreTheFilesOfAFolder) {
    const auto answer = get();
    ASSERT_EQ(answer.status, 200);
    const auto files = io::read_text_map(answer.body, "weather");
    ASSERT_TRUE(files.ok());
    EXPECT_EQ(files->size(), 3U);
    const auto known = io::read_known_weather(*files);
    ASSERT_TRUE(known.ok());
    EXPECT_EQ(known->forecast.size(), 30U);
    EXPECT_EQ(get(header_of(answer, "ETag")).status, 304);
    // Not among the season's other files, which change more often.
    const auto season = ask(Method::get, "/api/v1/season", "", owner_);
    EXPECT_EQ(season.body.find("weather_observed"), std::string::npos);
}

TEST_F(WeatherRoutesTest, TakeAFileInThePlaceOfWhatWasThere) {
    const auto before = header_of(get(), "ETag");
    const auto answer = put("observed?file=pump%20house.csv", hours_from(0, 20));
    ASSERT_EQ(answer.status, 200) << answer.body;
    const auto read = Json::parse(answer.body);
    EXPECT_EQ(read.at("hours"), 20);
    EXPECT_EQ(read.at("filled"), 0);
    EXPECT_EQ(read.at("begin"), "2031-12-04T00:00:00.000Z");
    EXPECT_EQ(read.at("days").size(), 1U);
    EXPECT_EQ(read.at("days")[0].at("mean_c"), 5.0);
    EXPECT_EQ(observed_hours(), 20U);
    EXPECT_EQ(get(before).status, 200);
}

TEST_F(WeatherRoutesTest, AddHoursToThoseThatAreThere) {
    const auto had = observed_hours();
    ASSERT_EQ(put("observed?then=extend", hours_from(5, 10)).status, 200);
    EXPECT_EQ(observed_hours(), had + 10);
    const auto late = put("observed?then=extend&file=late.csv", hours_from(20, 3));
    EXPECT_EQ(late.status, 409);
    EXPECT_EQ(first_problem(late).at("file"), "late.csv");
    EXPECT_NE(first_problem(late).at("what").get<std::string>().find("5 h are missing"),
              std::string::npos)
        << late.body;
    EXPECT_EQ(observed_hours(), had + 10);
}

TEST_F(WeatherRoutesTest, RefuseWhatIsNoWeather) {
    const auto had = observed_hours();
    EXPECT_EQ(put("observed", "temperature\n5\n").status, 400);
    EXPECT_EQ(put("observed?latitude=100", hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("observed?then=perhaps", hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("usual?then=extend", hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("observed?colour=grey", hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("observed?file=" + std::string(300, 'x'), hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("observed?file=a%0Ab", hours_from(0, 5)).status, 400);
    EXPECT_EQ(put("tomorrow", hours_from(0, 5)).status, 404);
    EXPECT_EQ(observed_hours(), had);
}

TEST_F(WeatherRoutesTest, TakeAPartOutOnce) {
    EXPECT_EQ(ask(Method::remove, "/api/v1/weather/usual", "", owner_).status, 200);
    EXPECT_EQ(ask(Method::remove, "/api/v1/weather/usual", "", owner_).status, 404);
    EXPECT_EQ(io::read_text_map(get().body, "weather")->size(), 2U);
}

TEST_F(WeatherRoutesTest, AnswerWhatTheSkyBringsAndWhatStands) {
    const auto sky = ask(Method::get, "/api/v1/sky?days=5", "", owner_);
    ASSERT_EQ(sky.status, 200) << sky.body;
    const auto days = Json::parse(sky.body).at("days");
    ASSERT_EQ(days.size(), 5U);
    EXPECT_EQ(days[0].at("day"), "2031-12-04");
    EXPECT_EQ(days[0].at("hours"), 18);
    EXPECT_EQ(days[1].at("hours"), 24);
    const auto field = ask(Method::get, "/api/v1/standing?field=Cuckoo%20Pen&wait=2w", "", owner_);
    ASSERT_EQ(field.status, 200) << field.body;
    EXPECT_EQ(Json::parse(field.body).at("wait").at("days"), 14);
    EXPECT_EQ(ask(Method::get, "/api/v1/standing?field=Nowhere", "", owner_).status, 404);
    EXPECT_EQ(ask(Method::get, "/api/v1/sky?at=noon", "", owner_).status, 400);
}

}  // namespace
}  // namespace beetwright::app
