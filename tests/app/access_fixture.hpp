// Every route, asked as a browser on the farm's network asks.
#pragma once

#include <gtest/gtest.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "app/access.hpp"
#include "app/metrics.hpp"
#include "app/people_fixture.hpp"
#include "app/routes.hpp"
#include "demo_season/invent.hpp"

namespace beetwright::app {

using http::Method;
using Json = nlohmann::json;

inline std::string header_of(const http::Response& response, std::string_view name) {
    for (const auto& [header, value] : response.headers) {
        if (header == name) {
            return value;
        }
    }
    return "";
}

class AccessTest : public SeasonOfPeople {
 protected:
    void SetUp() override {
        SeasonOfPeople::SetUp();
        const auto season = demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{}));
        ASSERT_TRUE(records::SeasonFile::open(path(), records::OpenMode::existing)
                        .value()
                        .import(season.season)
                        .ok());
        people_ = open();
        keeper_ = std::move(SeasonKeeper::open(path()).value());
        photos_ = std::move(Photos::open(path()).value());
        grounds_ = std::move(Grounds::open(path()).value());
        add_every_route(access_ = make(Front::nothing));
    }
    std::unique_ptr<Access> make(Front front) { return std::make_unique<Access>(*people_, front); }
    void add_every_route(std::unique_ptr<Access>& access, bool with_people = true) {
        app::add_every_route(*access, {.keeper = *keeper_,
                                       .files = files_,
                                       .people = with_people ? people_.get() : nullptr,
                                       .clock = [this] { return now_.load(); },
                                       .metrics = metrics_,
                                       .connections = [] { return std::size_t{0}; },
                                       .photos = photos_.get(),
                                       .jobs = &jobs_,
                                       .job_bytes = 200'000'000,
                                       .grounds = grounds_.get()});
    }

    /// What a page of this server sends, from a browser on the farm's network.
    static http::Request request(Method method, std::string_view path, std::string body = "",
                                 const std::string& token = "") {
        http::Request request;
        request.method = method;
        request.target = *http::parse_target(path);
        request.body = std::move(body);
        request.peer = "192.168.1.7";
        request.headers = {{"host", "beets.example"}, {"x-beetwright", "1"}};
        if (!token.empty()) {
            request.headers["cookie"] = std::string(kSessionCookie) + "=" + token;
        }
        return request;
    }
    [[nodiscard]] http::Response ask(Method method, std::string_view path, std::string body = "",
                                     const std::string& token = "") const {
        return access_->answer(request(method, path, std::move(body), token));
    }

    std::unique_ptr<People> people_;
    std::unique_ptr<SeasonKeeper> keeper_;
    AppFiles files_;
    std::unique_ptr<Photos> photos_;
    std::unique_ptr<Grounds> grounds_;
    Metrics metrics_;
    Jobs jobs_{[this] { return now_.load(); }};
    std::unique_ptr<Access> access_;
};

}  // namespace beetwright::app
