#include "io/harvester_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "io/control_text.hpp"
#include "io/estimate_json.hpp"
#include "io/json.hpp"
#include "io/machine_json.hpp"
#include "io/people_units.hpp"
#include "io/text_list.hpp"

namespace beetwright::io {
namespace {

using engine::ControlReading;
using harvester::Figure;
using harvester::Figures;

constexpr std::array kWords{"change", "look", "leave"};

Unit unit_of(Figure figure, UnitSystem system) {
    return figure_unit(harvester::traits(figure).unit_kind, system);
}

/// "31 L/ha", or with its interval "6.4 % (3.9 to 9.2)", all to the digits that the value bears.
std::string figure_text_of(Figure figure, const Estimate<double>& estimate, UnitSystem system) {
    const Unit unit = unit_of(figure, system);
    const double shown = unit.from_si(estimate.value);
    const int decimals = std::abs(shown) < 3.0 ? 2 : std::abs(shown) < 30.0 ? 1 : 0;
    const auto number = [&](double value) {
        return fmt::format("{:.{}f}", unit.from_si(value), decimals);
    };
    const std::string low = number(estimate.low);
    const std::string high = number(estimate.high);
    return fmt::format("{} {}{}", number(estimate.value),
                       unit.symbol == "cm2" ? "cm²" : unit.symbol,
                       low == high ? "" : " (" + low + " to " + high + ")");
}

std::string money_text(const Estimate<MoneyPerArea>& estimate, const PeopleUnits& people) {
    const Reading reading = people.read(estimate);
    const auto interval = interval_text(reading);
    return fmt::format("{} {}{}", value_text(reading), reading.unit,
                       interval.empty() ? "" : " (" + interval + ")");
}

std::string figures_text(const Figures& figures, const Figures* before, UnitSystem system) {
    std::string text;
    for (std::size_t f = 0; f < harvester::kFigures; ++f) {
        const auto figure = static_cast<Figure>(f);
        const std::string now = figure_text_of(figure, figures[f], system);
        const std::string then =
            before == nullptr ? "" : figure_text_of(figure, (*before)[f], system);
        if (before == nullptr || now != then) {
            text += fmt::format("    {:<30}{}{}\n", harvester::traits(figure).words,
                                before == nullptr ? "" : then + " to ", now);
        }
    }
    return text;
}

std::string way_text(const engine::OnTheWay& way, const PeopleUnits& people) {
    std::string text = fmt::format("Lifted {}, sliced {}: what faults cost there as things stand\n",
                                   to_text(way.lifted), to_text(way.sliced));
    for (const auto& cost : way.costs) {
        text += fmt::format("  {:<32}{}\n", harvester::traits(cost.figure).words,
                            money_text(cost.cost, people));
    }
    return text;
}

std::string change_text(const engine::ChangeTried& tried, const Figures& now,
                        const PeopleUnits& people) {
    std::string text;
    for (const auto& line : tried.changes) {
        for (std::size_t i = 0; i < line.from.size(); ++i) {
            text += fmt::format("  {}: {} to {}\n", line.from[i].words,
                                control_text(line.from[i], people.system()),
                                control_text(line.to[i], people.system()));
        }
    }
    text += fmt::format("  gains {}; {:.0f} % chance that it helps\n",
                        money_text(tried.gain, people), 100.0 * tried.chance_better);
    return text + figures_text(tried.figures, &now, people.system());
}

Json money_json(const Estimate<MoneyPerArea>& estimate) {
    return interval_json(estimate, unit::money_per_ha);
}

constexpr std::array kEvenness{"", "even", "fair", "uneven"};

Json conditions_json(const engine::SetupAnswer& answer) {
    const auto& conditions = answer.conditions;
    return {{"soil_in_hand", answer.soil},
            {"crown_height_cm", conditions.crowns.mean / unit::cm},
            {"crown_sd_cm", conditions.crowns.sd / unit::cm},
            {"evenness", kEvenness[static_cast<std::size_t>(answer.evenness)]},
            {"root_mass_kg", conditions.roots.mean_mass.si()},
            {"leaf_sick_percent", 100.0 * conditions.leaf.dead_share},
            {"leaf_frozen", conditions.leaf.frozen_share > 0.5}};
}

Json figures_json(const Figures& figures) {
    Json json = Json::object();
    for (std::size_t f = 0; f < harvester::kFigures; ++f) {
        const auto figure = static_cast<Figure>(f);
        const Unit unit = unit_of(figure, UnitSystem::metric);
        json[std::string(harvester::traits(figure).key)] = {
            {"words", harvester::traits(figure).words},
            {"value", unit.from_si(figures[f].value)},
            {"low", unit.from_si(figures[f].low)},
            {"high", unit.from_si(figures[f].high)},
            {"unit", unit.symbol}};
    }
    return json;
}

Json way_json(const engine::OnTheWay& way) {
    Json costs = Json::array();
    for (const auto& cost : way.costs) {
        costs.push_back({{"fault", harvester::traits(cost.figure).key},
                         {"words", harvester::traits(cost.figure).words},
                         {"cost_per_ha", money_json(cost.cost)}});
    }
    return {{"lifted", to_text(way.lifted)}, {"sliced", to_text(way.sliced)}, {"costs", costs}};
}

Json change_json(const engine::ChangeTried& tried) {
    Json changes = Json::array();
    for (const auto& line : tried.changes) {
        Json from = Json::array();
        Json to = Json::array();
        for (std::size_t i = 0; i < line.from.size(); ++i) {
            from.push_back(reading_json(line.from[i]));
            to.push_back(reading_json(line.to[i]));
        }
        changes.push_back({{"from", from}, {"to", to}, {"confirm", line.confirm}});
    }
    return {{"changes", changes},
            {"confirm", tried.confirm},
            {"gain_per_ha", money_json(tried.gain)},
            {"chance_better", tried.chance_better},
            {"figures", figures_json(tried.figures)}};
}

}  // namespace

std::string setup_text(const engine::SetupAnswer& answer, const std::string& currency,
                       UnitSystem units) {
    const PeopleUnits people(units, currency);
    std::string text =
        fmt::format("{} into {}: {} soil\n", answer.machine, answer.field, answer.soil);
    text += list_text("Seen", answer.seen);
    text += "Begin with\n";
    for (const auto& line : answer.lines) {
        text += fmt::format("  {:<46}{}\n", line.reading.words, control_text(line.reading, units));
        for (const auto& reason : line.reasons) {
            text += fmt::format("    {}{}\n", reason,
                                line.cost_of_usual.value > MoneyPerArea(0.0)
                                    ? "; usual " + line.usual_text + " would cost " +
                                          money_text(line.cost_of_usual, people)
                                    : "");
        }
    }
    text += fmt::format("Over the usual settings it gains {}\n", money_text(answer.gain, people));
    text += "  expected\n" + figures_text(answer.figures, nullptr, units);
    text += way_text(answer.on_the_way, people);
    text += list_text("Assumed", answer.assumptions);
    text += list_text("Before anybody leaves the cab", answer.cautions);
    return text;
}

std::string advice_text(const engine::AdviceAnswer& answer, const std::string& currency,
                        UnitSystem units) {
    const PeopleUnits people(units, currency);
    std::string text = fmt::format(
        "{} in {}: {} soil; {} checks here ({:.0f} beets), {} in other fields\n", answer.machine,
        answer.field, answer.soil, answer.checks_here, answer.beets_here, answer.checks_elsewhere);
    switch (answer.verdict) {
        case engine::Verdict::change: text += "Change\n"; break;
        case engine::Verdict::look:
            text += fmt::format("Look first: {}\n  worth {} by leading to a better change\n",
                                harvester::words(answer.looks.front().look),
                                money_text({answer.looks.front().worth, answer.looks.front().worth,
                                            answer.looks.front().worth},
                                           people));
            if (answer.change) {
                text += "Without a look, change\n";
            }
            break;
        case engine::Verdict::leave:
            text += "Leave it: nothing that was seen proves a change worth making\n";
            break;
    }
    if (answer.change) {
        text += change_text(*answer.change, answer.now, people);
        for (const auto& look : answer.change->confirm) {
            text += "  then look at " + look + "\n";
        }
    }
    if (!answer.others.empty()) {
        text += answer.change ? "What else was weighed\n" : "What was weighed\n";
        for (const auto& other : answer.others) {
            const auto& line = other.changes.front();
            text += fmt::format("  {}: {} to {}: {}, {:.0f} % chance that it helps\n",
                                line.from.size() > 1 ? line.from.front().words + " and its like"
                                                     : line.from.front().words,
                                control_text(line.from.front(), units),
                                control_text(line.to.front(), units),
                                money_text(other.gain, people), 100.0 * other.chance_better);
        }
    }
    text += way_text(answer.on_the_way, people);
    for (const auto& wear : answer.wear) {
        text += fmt::format("Wear suspected, {}: {}; {:.0f} % sure, since {}\n",
                            harvester::words(wear.stage), wear.what, 100.0 * wear.chance,
                            to_text(std::chrono::floor<std::chrono::days>(wear.since)));
    }
    text += list_text("Seen", answer.seen);
    text += list_text("Assumed", answer.assumptions);
    text += list_text("Before anybody leaves the cab", answer.cautions);
    return text;
}

std::string setup_json(const engine::SetupAnswer& answer, const std::string& currency) {
    Json lines = Json::array();
    for (const auto& line : answer.lines) {
        Json json = reading_json(line.reading);
        json["usual"] = line.usual;
        json["usual_text"] = line.usual_text;
        json["cost_of_usual_per_ha"] = money_json(line.cost_of_usual);
        json["reasons"] = line.reasons;
        lines.push_back(std::move(json));
    }
    const Json json{{"field", answer.field},
                    {"machine", answer.machine},
                    {"at", to_text(answer.at)},
                    {"soil", answer.soil},
                    {"currency", currency},
                    {"conditions", conditions_json(answer)},
                    {"seen", answer.seen},
                    {"settings", lines},
                    {"figures", figures_json(answer.figures)},
                    {"gain_per_ha", money_json(answer.gain)},
                    {"on_the_way", way_json(answer.on_the_way)},
                    {"checks_elsewhere", answer.checks_elsewhere},
                    {"assumptions", answer.assumptions},
                    {"cautions", answer.cautions}};
    return json.lines() + "\n";
}

std::string advice_json(const engine::AdviceAnswer& answer, const std::string& currency) {
    Json settings = Json::array();
    for (const auto& reading : answer.settings) {
        settings.push_back(reading_json(reading));
    }
    Json others = Json::array();
    for (const auto& other : answer.others) {
        others.push_back(change_json(other));
    }
    Json looks = Json::array();
    for (const auto& look : answer.looks) {
        looks.push_back({{"words", harvester::words(look.look)},
                         {"worth_per_ha", look.worth / unit::money_per_ha}});
    }
    const Json json{{"field", answer.field},
                    {"machine", answer.machine},
                    {"at", to_text(answer.at)},
                    {"soil", answer.soil},
                    {"currency", currency},
                    {"verdict", kWords[static_cast<std::size_t>(answer.verdict)]},
                    {"checks_here", answer.checks_here},
                    {"checks_elsewhere", answer.checks_elsewhere},
                    {"beets_here", answer.beets_here},
                    {"seen", answer.seen},
                    {"settings", settings},
                    {"set_at", answer.set_at ? Json(to_text(*answer.set_at)) : Json(nullptr)},
                    {"now", figures_json(answer.now)},
                    {"change", answer.change ? change_json(*answer.change) : Json(nullptr)},
                    {"others", others},
                    {"looks", looks},
                    {"on_the_way", way_json(answer.on_the_way)},
                    {"wear", wear_json(answer.wear)},
                    {"assumptions", answer.assumptions},
                    {"cautions", answer.cautions}};
    return json.lines() + "\n";
}

}  // namespace beetwright::io
