// Sheets of counted beets that are known by their number: what a tablet sends, and what the season
// file must hold of it.
#pragma once

#include <array>
#include <cstdint>
#include <cstdio>
#include <string>

#include "check/sheet.hpp"
#include "http/client.hpp"
#include "ledger/season.hpp"

namespace beetwright::serve {

inline Uuid sheet_id(int number) {
    char text[40];
    std::snprintf(text, sizeof text, "01900000-0000-7000-8000-%012d", number);
    return Uuid::parse(text).value();
}

inline constexpr std::array<const char*, 3> kToppings{"correct", "too deep", "slanted"};
inline constexpr std::array kToppingsSeen{check::Topping::correct, check::Topping::too_deep,
                                          check::Topping::slanted};

// The content follows from the number, so that nothing needs to be remembered to be checked.
// Now and then a sheet is long, so that writing it takes a while.
inline int beets_of(int number) {
    return number % 100 == 0 ? 600 : 1 + number % 7;
}
inline std::size_t topping_of(int number, int beet) {
    return static_cast<std::size_t>(number + beet) % kToppings.size();
}

/// The body of a POST to /api/v1/observations.
inline std::string sheet_json(int number, const std::string& field) {
    std::string rows =
        "sheet,supersedes,field,machine,operator,at,seen_at,spot,topping,scar [cm],"
        "tip_break [cm],skin_damage [cm2],rot,frost\\n";
    for (int beet = 0; beet < beets_of(number); ++beet) {
        rows += sheet_id(number).text() + ",," + field + ",,,2031-10-05T09:00:00Z,tank," +
                std::to_string(1 + beet) + "," + kToppings[topping_of(number, beet)] +
                ",,2-4,,,\\n";
    }
    return R"({"beets.csv": ")" + rows + R"("})";
}

/// Whether a sheet of the season is, to the beet, what sheet_json(number) said.
inline bool is_sheet(const check::BeetSheet& sheet, int number, const std::string& field) {
    bool same = sheet.id == sheet_id(number) && sheet.field == field &&
                sheet.beets.size() == static_cast<std::size_t>(beets_of(number));
    for (int beet = 0; same && beet < beets_of(number); ++beet) {
        const auto& one = sheet.beets[static_cast<std::size_t>(beet)];
        same = one.spot == 1 + beet && one.topping == kToppingsSeen[topping_of(number, beet)];
    }
    return same;
}

inline std::string get(const std::string& target, const std::string& headers = {}) {
    return "GET " + target + " HTTP/1.1\r\nHost: 127.0.0.1\r\n" + headers + "\r\n";
}
inline std::string post(const std::string& target, const std::string& body) {
    return "POST " + target + " HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Beetwright: 1\r\n" +
           "Content-Length: " + std::to_string(body.size()) + "\r\n\r\n" + body;
}

/// The status of an answer; 0: there was none.
inline int status_of(const std::string& answer) {
    return answer.starts_with("HTTP/1.1 ") ? std::atoi(answer.c_str() + 9) : 0;
}

}  // namespace beetwright::serve
