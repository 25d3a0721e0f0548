#include "io/pile_json.hpp"

#include <cmath>

#include "io/estimate_json.hpp"
#include "io/pile_probes_json.hpp"
#include "io/pile_words.hpp"
#include "io/problems_json.hpp"

namespace beetwright::io {
namespace {

/// To so many steps of one: pictures are many numbers, and show no more than that.
Json rounded(const std::vector<float>& values, double steps) {
    Json list = Json::array();
    for (const float value : values) {
        list.push_back(std::round(static_cast<double>(value) * steps) / steps);
    }
    return list;
}

Json percent_json(const Estimate<double>& share) {
    return interval_json(
        Estimate<double>{100.0 * share.value, 100.0 * share.low, 100.0 * share.high});
}

Json day_json(const engine::PileBandDay& day) {
    return {{"day", to_text(day.day)},
            {"mean_C", interval_json(day.mean_C)},
            {"warmest_C", interval_json(day.warmest_C)},
            {"coldest_C", interval_json(day.coldest_C)},
            {"sugar_lost_percent", percent_json(day.sugar_lost)},
            {"killed_percent", percent_json(day.killed)},
            {"rotting_percent", percent_json(day.rotting)}};
}

Json days_json(const std::vector<engine::PileBandDay>& days) {
    Json list = Json::array();
    for (const auto& day : days) {
        list.push_back(day_json(day));
    }
    return list;
}

Json hot_spot_json(const engine::HotSpot& spot) {
    return {{"along_m", spot.place.along.si()},
            {"across_m", spot.place.across.si()},
            {"height_m", spot.place.height.si()},
            {"day", to_text(spot.day)},
            {"celsius", interval_json(spot.celsius)},
            {"chance", spot.chance},
            {"days_until", spot.days_until ? interval_json(*spot.days_until) : Json(nullptr)}};
}

Json part_json(const engine::PartAnswer& answer, bool with_days) {
    const auto& part = answer.part;
    Json json{{"from_m", part.from.si()},
              {"to_m", part.to.si()},
              {"piled", to_text(part.piled())},
              {"mass_t", part.mass().si() / 1000.0},
              {"fields", answer.facts.fields},
              {"sliced", to_text(answer.facts.sliced)},
              {"removed", part.removed ? Json(to_text(*part.removed)) : Json(nullptr)},
              {"days_left", answer.days_left ? interval_json(*answer.days_left) : Json(nullptr)},
              {"chance_due", answer.chance_due},
              {"due_for", due_for_key(answer.due_for)},
              {"carbon_dioxide_percent", 100.0 * answer.carbon_dioxide},
              {"warmest", hot_spot_json(answer.warmest)}};
    if (with_days) {
        json["days"] = days_json(answer.days);
    } else if (!answer.days.empty()) {
        json["last"] = day_json(answer.days.back());
    }
    return json;
}

Json deed_json(const engine::DeedAnswer& answer) {
    const auto& deed = answer.deed;
    return {{"name", answer.name},
            {"words", answer.words},
            {"cover_on", deed.cover ? Json(to_text(deed.cover_on)) : Json(nullptr)},
            {"cover_off", deed.cover_off ? Json(to_text(*deed.cover_off)) : Json(nullptr)},
            {"gain", interval_json(answer.gain, unit::money)},
            {"cost", answer.cost.si()},
            {"sugar_kept_t", interval_json(Estimate<double>{answer.sugar_kept_kg.value / 1000.0,
                                                            answer.sugar_kept_kg.low / 1000.0,
                                                            answer.sugar_kept_kg.high / 1000.0})},
            {"sugar_lost_percent", percent_json(answer.sugar_lost)},
            {"warmest_C", interval_json(answer.warmest_C)},
            {"energy_kWh", answer.energy_kWh},
            {"chance_better", answer.chance_better}};
}

Json best_days_json(const engine::BestDays& best) {
    Json by_day = Json::array();
    for (const auto& [day, gain] : best.by_day) {
        by_day.push_back({{"day", to_text(day)}, {"gain", interval_json(gain, unit::money)}});
    }
    Json json = deed_json(best.best);
    json["earliest"] = to_text(best.earliest);
    json["latest"] = to_text(best.latest);
    json["by_day"] = by_day;
    return json;
}

Json picture_json(const engine::PilePicture& picture) {
    Json frames = Json::array();
    for (const auto& frame : picture.frames) {
        frames.push_back({{"day", to_text(frame.day)},
                          {"celsius", rounded(frame.mean.celsius, 10.0)},
                          {"low_C", rounded(frame.low_C, 10.0)},
                          {"high_C", rounded(frame.high_C, 10.0)},
                          {"sugar_left", rounded(frame.mean.sugar_left, 1e4)},
                          {"killed", rounded(frame.mean.killed, 1e3)},
                          {"air_across_m_s", rounded(frame.mean.air_across, 1e4)},
                          {"air_up_m_s", rounded(frame.mean.air_up, 1e4)}});
    }
    Json has_beet = Json::array();
    for (const bool has : picture.grid.has_beet) {
        has_beet.push_back(has ? 1 : 0);
    }
    return {{"part", picture.part},
            {"across", picture.grid.across},
            {"up", picture.grid.up},
            {"cell_across_m", picture.grid.cell_across.si()},
            {"cell_up_m", picture.grid.cell_up.si()},
            {"has_beet", has_beet},
            {"frames", frames}};
}

Json head_json(const engine::PileAnswer& answer, const std::string& currency, bool with_days) {
    Json parts = Json::array();
    for (const auto& part : answer.parts) {
        parts.push_back(part_json(part, with_days));
    }
    Json warnings = Json::array();
    for (const auto& warning : answer.warnings) {
        warnings.push_back({{"part", warning.part ? Json(*warning.part) : Json(nullptr)},
                            {"words", warning.words}});
    }
    const auto& site = answer.site;
    return {{"pile", answer.pile},
            {"at", to_text(answer.at)},
            {"today", to_text(answer.today)},
            {"until", to_text(answer.until)},
            {"currency", currency},
            {"members", answer.members},
            {"mass_t", answer.mass.si() / 1000.0},
            {"shape",
             {{"base_width_m", site.base_width.si()},
              {"top_width_m", site.top_width.si()},
              {"height_m", site.height.si()},
              {"length_m", site.length.si()}}},
            {"parts", parts},
            {"due_first", answer.due_first ? Json(*answer.due_first) : Json(nullptr)},
            {"sugar_lost_t", interval_json(Estimate<double>{answer.sugar_lost_kg.value / 1000.0,
                                                            answer.sugar_lost_kg.low / 1000.0,
                                                            answer.sugar_lost_kg.high / 1000.0})},
            {"sugar_lost_percent", percent_json(answer.sugar_lost)},
            {"money_lost", interval_json(answer.money_lost, unit::money)},
            {"warnings", warnings},
            {"assumptions", answer.assumptions},
            {"cautions", answer.cautions}};
}

}  // namespace

std::string pile_json(const engine::PileAnswer& answer, const std::string& currency) {
    Json json = head_json(answer, currency, true);
    json["days"] = days_json(answer.days);
    Json deeds = Json::array();
    for (const auto& deed : answer.deeds) {
        deeds.push_back(deed_json(deed));
    }
    json["deeds"] = deeds;
    json["best_days"] = answer.best_days ? best_days_json(*answer.best_days) : Json(nullptr);
    add_probes_json(answer, json);
    json["picture"] = answer.picture.frames.empty() ? Json(nullptr) : picture_json(answer.picture);
    return json.line() + "\n";
}

std::string piles_json(const std::vector<engine::PileLine>& lines, const std::string& currency) {
    Json piles = Json::array();
    for (const auto& line : lines) {
        Json problems = Json::array();
        for (const Problem& problem : line.problems) {
            problems.push_back(problem.text());
        }
        piles.push_back(
            {{"pile", line.pile},
             {"answer", line.answer ? head_json(*line.answer, currency, false) : Json(nullptr)},
             {"problems", problems}});
    }
    return Json{{"piles", piles}}.line() + "\n";
}

}  // namespace beetwright::io
