// Photographs as tablets send them, and who set and sent what.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "app/access_fixture.hpp"

namespace beetwright::app {
namespace {

using namespace std::string_literals;

// A whole JPEG of one grey component (ITU-T T.81 annex B), with a comment before its frame.
const std::string kStart = "\xFF\xD8"s;
const std::string kComment = "\xFF\xFE\x00\x09"s + "at home";
const std::string kPicture =
    "\xFF\xC0\x00\x0B\x08\x00\x02\x00\x03\x01\x01\x11\x00\xFF\xDA\x00\x08\x01\x01\x00\x00\x3F\x00"s +
    "beet\xFF\xD9";

constexpr const char* kPhoto = "01900000-0000-7000-8000-000000000001";
constexpr const char* kSheet = "01900000-0000-7000-8000-000000000002";

class PhotoRoutesTest : public AccessTest {
 protected:
    void SetUp() override {
        AccessTest::SetUp();
        anna_ = first_owner(*people_);
        bert_ = join(*people_, "Bert", Role::operator_, anna_.person);
        field_ = (*keeper_->season())->season.fields.front().name;
        for (const char letter : field_) {
            query_field_ += letter == ' ' ? "+" : std::string(1, letter);
        }
    }
    [[nodiscard]] std::string target(const std::string& id = kPhoto,
                                     const std::string& more = "") const {
        return "/api/v1/photos?id=" + id + "&observation=" + kSheet + "&field=" + query_field_ +
               more;
    }
    [[nodiscard]] http::Response send(const std::string& where, const std::string& body,
                                      const std::string& type = "image/jpeg") const {
        auto asks = request(Method::post, where, body, bert_.token);
        asks.headers["content-type"] = type;
        return access_->answer(asks);
    }
    [[nodiscard]] http::Response show(const std::string& id = kPhoto) const {
        return ask(Method::get, "/api/v1/photos/" + id, "", bert_.token);
    }
    Json audit() {
        return Json::parse(ask(Method::get, "/api/v1/audit", "", anna_.token).body).at("audit");
    }

    SignedIn anna_;
    SignedIn bert_;
    std::string field_;
    std::string query_field_;
};

TEST_F(PhotoRoutesTest, AreKeptOnceWithoutWhatTheCameraWrote) {
    const auto first = send(target(), kStart + kComment + kPicture);
    ASSERT_EQ(first.status, 200) << first.body;
    EXPECT_EQ(Json::parse(first.body), (Json{{"new", 1}, {"known", 0}}));
    EXPECT_EQ(Json::parse(send(target(), kStart + kComment + kPicture).body),
              (Json{{"new", 0}, {"known", 1}}));
    EXPECT_EQ(send(target(), kStart + kComment + kPicture + "x").status, 200)
        << "what stands behind the picture is not of it";
    auto other = kPicture;
    other[other.size() - 3] = 'x';
    EXPECT_EQ(send(target(), kStart + other).status, 409);

    const auto shown = show();
    EXPECT_EQ(shown.status, 200);
    EXPECT_EQ(shown.body, kStart + kPicture);
    EXPECT_EQ(shown.type, "image/jpeg");
    EXPECT_EQ(header_of(shown, "Cache-Control"), "private, max-age=31536000, immutable");
    EXPECT_TRUE(header_of(shown, "Content-Security-Policy").starts_with("default-src 'none'; "));
    EXPECT_NE(header_of(shown, "Content-Security-Policy").find("sandbox"), std::string::npos);
    EXPECT_EQ(header_of(shown, "Cross-Origin-Resource-Policy"), "same-origin");

    const auto list = ask(Method::get, "/api/v1/photos?field=" + query_field_, "", bert_.token);
    EXPECT_EQ(Json::parse(list.body), (Json{{"photos",
                                             {{{"id", kPhoto},
                                               {"observation", kSheet},
                                               {"field", field_},
                                               {"at", to_text(now_.load())},
                                               {"by", "Bert"},
                                               {"type", "image/jpeg"},
                                               {"bytes", (kStart + kPicture).size()}}}}}));
    EXPECT_EQ(ask(Method::get, "/api/v1/photos?field=x", "", bert_.token).body,
              "{\"photos\":[]}\n");
    EXPECT_EQ(ask(Method::get, "/api/v1/photos?feld=x", "", bert_.token).status, 400);
}

TEST_F(PhotoRoutesTest, APictureGoesAsItIsToWhoeverTakesWhatIsCompressed) {
    auto picture = kStart + kPicture;
    picture.insert(picture.size() - 2, std::string(4000, 'b'));
    ASSERT_EQ(send(target(), picture).status, 200);
    auto asks = request(Method::get, std::string("/api/v1/photos/") + kPhoto, "", bert_.token);
    asks.headers["accept-encoding"] = "gzip";
    const auto shown = access_->answer(asks);
    EXPECT_EQ(shown.body, picture);
    EXPECT_EQ(header_of(shown, "Content-Encoding"), "");
}

TEST_F(PhotoRoutesTest, WhoWantsAllOfItKeepsAll) {
    ASSERT_EQ(send(target(kPhoto, "&keep_metadata=1"), kStart + kComment + kPicture).status, 200);
    EXPECT_EQ(show().body, kStart + kComment + kPicture);
}

TEST_F(PhotoRoutesTest, WhatIsWrongIsToldAndNothingIsKept) {
    const std::string good = kStart + kPicture;
    EXPECT_EQ(send(target(), good, "image/png").status, 415);
    EXPECT_EQ(send(target(), good, "").status, 415);
    EXPECT_EQ(send(target(), good + std::string(3'000'001 - good.size(), 'x')).status, 413);
    EXPECT_EQ(send(target(), "<svg/>").status, 400);
    EXPECT_EQ(send(target(), good.substr(0, good.size() - 2)).status, 400) << "it breaks off";
    EXPECT_EQ(send(target("7"), good).status, 400);
    EXPECT_EQ(send(target("00000000-0000-0000-0000-000000000000"), good).status, 400);
    EXPECT_EQ(send(target(kPhoto, "&keep_metadata=yes"), good).status, 400);
    EXPECT_EQ(send(target(kPhoto, "&colour=green"), good).status, 400);
    EXPECT_EQ(
        send("/api/v1/photos?id="s + kPhoto + "&observation=" + kSheet + "&field=Nowhere", good)
            .status,
        404);
    EXPECT_EQ(send("/api/v1/photos", good).status, 400);
    EXPECT_EQ(show().status, 404);
    EXPECT_EQ(show("x").status, 404);
    EXPECT_EQ(send(target(), good, "image/jpeg; q=1").status, 200);
}

TEST_F(PhotoRoutesTest, WhoSetAndSentWhatIsKept) {
    const auto before = audit().size();
    ASSERT_EQ(send(target(), kStart + kPicture).status, 200);
    ASSERT_EQ(send(target(), kStart + kPicture).status, 200);
    const std::string constants = "id,value,low,high,why\ntip.exponent,2.3,2.1,2.5,measured\n";
    ASSERT_EQ(ask(Method::put, "/api/v1/season/constants.csv", constants, anna_.token).status, 200);
    EXPECT_EQ(ask(Method::put, "/api/v1/season/constants.csv", "nonsense", anna_.token).status,
              400);
    const auto entries = audit();
    ASSERT_EQ(entries.size(), before + 2);
    EXPECT_EQ(entries[0], (Json{{"at", to_text(now_.load())},
                                {"person", "Anna"},
                                {"what", "set"},
                                {"about", "constants.csv"}}));
    EXPECT_EQ(entries[1], (Json{{"at", to_text(now_.load())},
                                {"person", "Bert"},
                                {"what", "added a photograph"},
                                {"about", field_ + ": " + kPhoto}}));
}

}  // namespace
}  // namespace beetwright::app
