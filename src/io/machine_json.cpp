#include "io/machine_json.hpp"

#include "io/estimate_json.hpp"

namespace beetwright::io {
namespace {

template <class Traits>
Json figure_json(const Traits& traits, const Estimate<double>& si) {
    const Unit unit = figure_unit(traits.unit_kind, UnitSystem::metric);
    Json json = interval_json(
        Estimate<double>{unit.from_si(si.value), unit.from_si(si.low), unit.from_si(si.high)});
    json["words"] = traits.words;
    json["unit"] = unit.symbol;
    return json;
}

Json control_json(const engine::StageControl& control) {
    Json json = reading_json(control.now);
    json["least"] = control.least;
    json["most"] = control.most;
    json["usual"] = control.usual;
    json["least_text"] = control.least_text;
    json["most_text"] = control.most_text;
    json["usual_text"] = control.usual_text;
    json["hands_off"] = control.hands_off;
    json["is_reckoned"] = control.is_reckoned;
    return json;
}

}  // namespace

Unit figure_unit(UnitKind kind, UnitSystem system) {
    const bool us = system == UnitSystem::us;
    const auto symbol = [&]() -> std::string_view {
        switch (kind) {
            case UnitKind::mass_per_area: return us ? "short ton/acre" : "t/ha";
            case UnitKind::area: return us ? "sq in" : "cm2";
            case UnitKind::area_per_time: return us ? "acre/h" : "ha/h";
            case UnitKind::volume_per_area: return us ? "gal/acre" : "L/ha";
            default: return "%";
        }
    };
    return *find_unit(symbol());
}

Json reading_json(const engine::ControlReading& reading) {
    const auto named = harvester::find_control_kind(reading.control);
    const auto& traits = harvester::traits(named->kind);
    const bool is_choice = traits.is_choice();
    Json json{{"control", reading.control},
              {"words", reading.words},
              {"value", reading.value},
              {"text", reading.text},
              {"unit", is_choice ? "" : traits.unit},
              {"amount", nullptr},
              {"display", nullptr}};
    if (!is_choice) {
        json["amount"] = find_unit(traits.unit)->from_si(reading.value);
    }
    if (reading.shown) {
        json["display"] = reading.shown->shown;
    }
    return json;
}

Json wear_json(const std::vector<engine::Wear>& all) {
    Json wear = Json::array();
    for (const auto& one : all) {
        wear.push_back({{"stage", harvester::words(one.stage)},
                        {"what", one.what},
                        {"since", to_text(one.since)},
                        {"chance", one.chance}});
    }
    return wear;
}

std::string machine_json(const engine::MachineAnswer& answer) {
    Json stages = Json::array();
    for (const auto& stage : answer.stages) {
        Json figures = Json::object();
        for (const auto& figure : stage.figures) {
            const auto& traits = engine::traits(figure.figure);
            figures[std::string(traits.key)] = figure_json(traits, figure.amount);
        }
        Json controls = Json::array();
        for (const auto& control : stage.controls) {
            controls.push_back(control_json(control));
        }
        stages.push_back({{"stage", harvester::words(stage.stage)},
                          {"figures", figures},
                          {"controls", controls}});
    }
    const Json json{{"field", answer.field},
                    {"machine", answer.machine},
                    {"at", to_text(answer.at)},
                    {"soil", answer.soil},
                    {"seen", answer.seen},
                    {"set_at", answer.set_at ? Json(to_text(*answer.set_at)) : Json(nullptr)},
                    {"stages", stages},
                    {"wear", wear_json(answer.wear)},
                    {"checks_here", answer.checks_here},
                    {"checks_elsewhere", answer.checks_elsewhere},
                    {"assumptions", answer.assumptions},
                    {"cautions", answer.cautions}};
    return json.lines() + "\n";
}

std::string response_json(const engine::ResponseAnswer& answer, const std::string& currency) {
    Json points = Json::array();
    for (const auto& point : answer.points) {
        Json figures = Json::object();
        for (std::size_t f = 0; f < harvester::kFigures; ++f) {
            const auto& traits = harvester::traits(static_cast<harvester::Figure>(f));
            figures[std::string(traits.key)] = figure_json(traits, point.figures[f]);
        }
        Json json = reading_json(point.reading);
        json["gain_per_ha"] = interval_json(point.gain, unit::money_per_ha);
        json["figures"] = figures;
        points.push_back(std::move(json));
    }
    const Json json{{"field", answer.field},
                    {"machine", answer.machine},
                    {"at", to_text(answer.at)},
                    {"currency", currency},
                    {"now", reading_json(answer.now)},
                    {"is_choice", answer.is_choice},
                    {"together", answer.together},
                    {"points", points},
                    {"checks_here", answer.checks_here},
                    {"checks_elsewhere", answer.checks_elsewhere}};
    return json.lines() + "\n";
}

}  // namespace beetwright::io
