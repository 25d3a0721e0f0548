#include "io/check_text.hpp"

#include <fmt/format.h>

#include "base/counted.hpp"
#include "io/estimate_json.hpp"
#include "io/json.hpp"

namespace beetwright::io {
namespace {

std::string_view words(check::Verdict verdict) {
    switch (verdict) {
        case check::Verdict::met: return "met";
        case check::Verdict::missed: return "missed";
        case check::Verdict::not_settled: return "not settled by this count";
    }
    return "";
}

std::string_view words(check::Change change) {
    switch (change) {
        case check::Change::none_shown: return "none shown";
        case check::Change::rise: return "rise";
        case check::Change::fall: return "fall";
    }
    return "";
}

std::string standing(const check::RunningCount& count) {
    switch (count.sure) {
        case check::Sure::fine: return "surely nearer 5 % than 10 %";
        case check::Sure::too_much: return "surely nearer 10 % or more than 5 %";
        case check::Sure::not_yet:
            return fmt::format("5 or 10 %? about {} more beets if it is 5, {} if it is 10",
                               count.more_if_fine, count.more_if_too_much);
    }
    return {};
}

}  // namespace

std::string check_text(const engine::CheckAnswer& answer) {
    std::string text = fmt::format("{}: {} at {} on {}\n", answer.field,
                                   counted(static_cast<std::size_t>(answer.beets), "beet", "beets"),
                                   counted(static_cast<std::size_t>(answer.spots), "spot", "spots"),
                                   counted(answer.sheets, "sheet", "sheets"));
    text += fmt::format("{:<30}{:>7}  {:<15}{:>11}\n", "", "share", "90 %", "worth beets");
    for (const auto& share : answer.shares) {
        const auto& e = share.estimate;
        text += fmt::format(
            "{:<30}{:>6.1f}%  {:<15}{:>11.0f}   {}\n", share.words, 100.0 * e.share.value,
            fmt::format("{:.1f} to {:.1f} %", 100.0 * e.share.low, 100.0 * e.share.high),
            e.effective_beets(), standing(share.towards_five_per_cent));
    }
    text += "\nSince the check before\n";
    bool compared = false;
    for (const auto& share : answer.shares) {
        for (const auto& sentence : share.change) {
            text += fmt::format("  {}: {}\n", share.words, sentence);
            compared = true;
        }
    }
    if (!compared) {
        text += "  there was none to compare with\n";
    }
    text += "\nPublished targets\n";
    for (const auto& target : answer.targets) {
        text += fmt::format("  {:<62} {} (chance that it is met {:.0f} %)\n", target.words,
                            words(target.judgement.verdict), 100.0 * target.judgement.chance_met);
    }
    return text;
}

std::string check_json(const engine::CheckAnswer& answer) {
    Json object = {{"field", answer.field},
                   {"beets", answer.beets},
                   {"spots", answer.spots},
                   {"sheets", answer.sheets}};
    object["shares"] = Json::array();
    for (const auto& share : answer.shares) {
        const auto& e = share.estimate;
        object["shares"].push_back(
            {{"of", share.words},
             {"share", interval_json(e.share)},
             {"beets", e.beets},
             {"hits", e.hits},
             {"spots", e.spots},
             {"design_effect", e.design_effect},
             {"change", share.change},
             {"more_beets_if_5_percent", share.towards_five_per_cent.more_if_fine},
             {"more_beets_if_10_percent", share.towards_five_per_cent.more_if_too_much}});
    }
    object["targets"] = Json::array();
    for (const auto& target : answer.targets) {
        object["targets"].push_back({{"target", target.words},
                                     {"most_share", target.most_share},
                                     {"verdict", words(target.judgement.verdict)},
                                     {"chance_met", target.judgement.chance_met},
                                     {"source", target.source}});
    }
    return object.lines() + "\n";
}

std::string enough_json(const engine::EnoughAnswer& answer) {
    const auto& e = answer.estimate;
    const auto key = [](check::Sure sure) {
        switch (sure) {
            case check::Sure::fine: return "fine";
            case check::Sure::too_much: return "too_much";
            case check::Sure::not_yet: break;
        }
        return "not_yet";
    };
    const Json object = {{"share", interval_json(e.share)},
                         {"beets", e.beets},
                         {"hits", e.hits},
                         {"spots", e.spots},
                         {"design_effect", e.design_effect},
                         {"sure", key(answer.standing.sure)},
                         {"meter", answer.standing.meter},
                         {"more_beets_if_5_percent", answer.standing.more_if_fine},
                         {"more_beets_if_10_percent", answer.standing.more_if_too_much},
                         {"words", answer.words}};
    return object.lines() + "\n";
}

std::string crowns_json(const engine::CrownsAnswer& answer) {
    const auto& c = answer.crowns;
    const auto in_cm = [](const Estimate<Length>& e) { return interval_json(e, unit::cm); };
    const Json object = {{"beets", c.beets},
                         {"mean_cm", in_cm(c.mean)},
                         {"spread_cm", in_cm(c.sd)},
                         {"even", c.even},
                         {"fair", c.fair},
                         {"uneven", c.uneven},
                         {"likeliest", crop::words(c.likeliest)},
                         {"words", answer.words}};
    return object.lines() + "\n";
}

std::string change_json(const check::ChangeAnswer& answer) {
    const Json object = {{"change", words(answer.verdict)},
                         {"earlier_share", answer.earlier_share},
                         {"later_share", answer.later_share},
                         {"chance_if_unchanged", answer.chance_if_unchanged},
                         {"chance_of_rise", answer.chance_of_rise},
                         {"chance_of_missing", answer.chance_of_missing},
                         {"beets_each_to_tell", answer.beets_each_to_tell},
                         {"more_beets_now", answer.more_beets_now}};
    return object.lines() + "\n";
}

}  // namespace beetwright::io
