#include "io/settle_text.hpp"

#include <fmt/format.h>

#include <map>

#include "base/counted.hpp"
#include "io/json.hpp"
#include "io/people_units.hpp"

namespace beetwright::io {
namespace {

std::string right(const std::string& text, std::size_t width) {
    const std::size_t shown = width_of(text);
    return std::string(width > shown ? width - shown : 0, ' ') + text;
}

constexpr std::size_t kMoneyWidth = 16;

}  // namespace

std::string cents_text(worth::Cents cents) {
    return figure_text(static_cast<double>(cents) / 100.0, 2);
}

std::string settle_text(const engine::SettleAnswer& answer, const std::string& currency) {
    std::string text;
    for (const auto& load : answer.settled.loads) {
        text += fmt::format("{}\n", load.ticket);
        for (const auto& line : load.lines) {
            text += fmt::format("    {:<30}{}\n", line.words,
                                right(cents_text(line.amount), kMoneyWidth));
        }
        text +=
            fmt::format("    {:<30}{}\n", "together", right(cents_text(load.total()), kMoneyWidth));
    }
    text += fmt::format("{}, {:.1f} t of clean beet",
                        counted(answer.settled.loads.size(), "load", "loads"),
                        in_tonnes(answer.settled.within_quota + answer.settled.beyond_quota));
    if (answer.settled.beyond_quota.si() > 0.0) {
        text += fmt::format(", {:.1f} t of it beyond the contract",
                            in_tonnes(answer.settled.beyond_quota));
    }
    text += fmt::format("\n{} {}\n", cents_text(answer.settled.total()), currency);
    for (const auto& sentence : answer.assumptions) {
        text += "Assumed: " + sentence + "\n";
    }
    return text;
}

std::string settle_json(const engine::SettleAnswer& answer, const std::string& currency) {
    Json object = {{"currency", currency}, {"loads", Json::array()}};
    for (std::size_t i = 0; i < answer.settled.loads.size(); ++i) {
        const auto& load = answer.settled.loads[i];
        Json lines = Json::array();
        for (const auto& line : load.lines) {
            lines.push_back({{"words", line.words}, {"cents", line.amount}});
        }
        object["loads"].push_back({{"ticket", load.ticket},
                                   {"field", answer.fields[i]},
                                   {"clean_t", in_tonnes(load.within_quota + load.beyond_quota)},
                                   {"lines", lines},
                                   {"total_cents", load.total()}});
    }
    object["clean_t"] = in_tonnes(answer.settled.within_quota + answer.settled.beyond_quota);
    object["beyond_contract_t"] = in_tonnes(answer.settled.beyond_quota);
    object["total_cents"] = answer.settled.total();
    object["assumptions"] = answer.assumptions;
    return object.lines() + "\n";
}

}  // namespace beetwright::io
