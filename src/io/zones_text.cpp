#include "io/zones_text.hpp"

#include <fmt/format.h>

#include "base/counted.hpp"
#include "io/control_text.hpp"
#include "io/estimate_json.hpp"
#include "io/ground_words.hpp"
#include "io/json.hpp"
#include "io/machine_json.hpp"
#include "io/people_units.hpp"
#include "io/pile_writing.hpp"
#include "io/text_list.hpp"

namespace beetwright::io {
namespace {

using engine::ZoneFound;

std::string money_text(const Estimate<Money>& money, const std::string& currency) {
    return with_interval({money.value.si(), money.low.si(), money.high.si()}, currency);
}

std::string zone_text(const ZoneFound& zone, const std::string& currency,
                      const PeopleUnits& people) {
    if (zone.lie == ground::Lie::level) {
        return fmt::format("  zone {}: the field at large, {}\n", zone.number,
                           people.area(zone.area));
    }
    std::string text = zone.number > 0 ? fmt::format("  zone {}: ", zone.number) : "  ";
    text +=
        fmt::format("{}, {}, {} {} what is around it, at {}\n", ground::words(zone.lie),
                    people.area(zone.area), relief_text(zone.stands_out_m, people.system()),
                    zone.lie == ground::Lie::knoll ? "over" : "under", compass_text(zone.middle));
    if (!zone.why.empty()) {
        text += fmt::format("    {}\n", zone.why);
    }
    text +=
        fmt::format("    {} {} by settings of its own, {} paid for; {:.0f} % chance of a gain\n",
                    zone.why.empty() ? "gains" : "would gain", money_text(zone.gain, currency),
                    counted(zone.switches, "switch", "switches"), 100.0 * zone.chance_better);
    return text;
}

std::string reason_text(const engine::ZonesAnswer& answer, const PeopleUnits& people) {
    switch (answer.reason) {
        case engine::ZonesReason::some_pay:
            return counted(answer.zones.size() - 1, "piece of ground pays",
                           "pieces of ground pay") +
                   " for a setting of its own; switching is reckoned with";
        case engine::ZonesReason::none_pays:
            return fmt::format(
                "one setting for all: of {} out none gains by a setting of its own what switching "
                "costs",
                counted(answer.left_out.size(), "piece of ground that stands",
                        "pieces of ground that stand"));
        case engine::ZonesReason::none_stands_out:
            return fmt::format(
                "one setting for all: nothing stands out from the ground around it by more than "
                "{} and is wide enough to work in; the most is {}",
                relief_text(answer.least_relief.si(), people.system()),
                relief_text(answer.most_relief.si(), people.system()));
    }
    return "";
}

/// What is taken to be so on a lie, from the catalogue.
std::string expected_text(ground::Lie lie, const engine::LieExpected& expected,
                          const PeopleUnits& people) {
    const auto percent = [](const Estimate<double>& share) {
        return fmt::format("{:.0f} ({:.0f} to {:.0f}) %", 100.0 * share.value, 100.0 * share.low,
                           100.0 * share.high);
    };
    const std::string footing =
        expected.seen.empty() ? "assumed" : "assumed, and by what was seen here";
    switch (lie) {
        case ground::Lie::level: return "";
        case ground::Lie::knoll: {
            const bool us = people.system() == UnitSystem::us;
            const Unit unit = *find_unit(us ? "in" : "mm");
            const auto shown = [&](Length length) {
                return fmt::format("{:.{}f}", unit.from_si(length.si()), us ? 1 : 0);
            };
            const auto& crowns = expected.crowns_higher;
            return fmt::format(
                "  crowns stand {} ({} to {}) {} higher, and a beet weighs {} of what it does in "
                "the field at large: {}\n",
                shown(crowns.value), shown(crowns.low), shown(crowns.high), unit.symbol,
                percent(expected.beet_share), footing);
        }
        case ground::Lie::hollow:
            return "  soil feels one step wetter with a chance of " +
                   percent(expected.wetter_chance) + ": " + footing + "\n";
    }
    return "";
}

Json zone_json(const ZoneFound& zone) {
    Json json{{"number", zone.number},
              {"lie", ground::words(zone.lie)},
              {"latitude", zone.middle.latitude_deg},
              {"longitude", zone.middle.longitude_deg},
              {"area_ha", zone.area.si() / 1e4},
              {"switches", zone.switches}};
    if (zone.lie != ground::Lie::level) {
        json["stands_out_m"] = zone.stands_out_m;
        json["gain"] = interval_json(zone.gain, Money(1.0));
        json["chance_better"] = zone.chance_better;
    }
    if (!zone.why.empty()) {
        json["why_not"] = zone.why;
    }
    return json;
}

Json zones_list(const std::vector<ZoneFound>& zones) {
    Json list = Json::array();
    for (const auto& zone : zones) {
        list.push_back(zone_json(zone));
    }
    return list;
}

}  // namespace

std::string zones_text(const engine::ZonesAnswer& answer, const std::string& currency,
                       UnitSystem units) {
    const PeopleUnits people(units, currency);
    std::string text =
        fmt::format("{} in {}: {} of ground, {} wide\n", answer.machine, answer.field,
                    people.area(answer.known), people.length(answer.width));
    text +=
        fmt::format("Heights are known to {} (standard deviation)\n", people.length(answer.unsure));
    text += reason_text(answer, people) + "\n";
    text += "Zones\n";
    for (const auto& zone : answer.zones) {
        text += zone_text(zone, currency, people);
    }
    if (answer.zones.size() > 1) {
        text += fmt::format("  all together gain {} over one setting for all\n",
                            money_text(answer.gain, currency));
    }
    if (!answer.left_out.empty()) {
        text += "Looked at, and no zone\n";
        for (const auto& zone : answer.left_out) {
            text += zone_text(zone, currency, people);
        }
    }
    for (const auto& on : answer.settings) {
        if (on.lie == ground::Lie::level) {
            continue;
        }
        text += fmt::format("On a {}\n", ground::words(on.lie));
        text += expected_text(on.lie, answer.expected, people);
        for (std::size_t i = 0; i < on.readings.size(); ++i) {
            auto field = on.readings[i];
            field.text = on.controls[i].text(on.field_values[i]);
            field.value = on.field_values[i];
            field.shown.reset();
            text += fmt::format("  {:<44}{}, not {}\n", on.readings[i].words,
                                control_text(on.readings[i], units), control_text(field, units));
        }
    }
    if (!answer.lanes.transitions.empty()) {
        text += fmt::format("{} on {} passes\n",
                            counted(answer.lanes.transitions.size(), "switch", "switches"),
                            answer.lanes.stretches.back().lane + 1);
    }
    text += list_text("Seen here", answer.expected.seen);
    text += list_text("Of the log", answer.notes);
    text += list_text("Assumed", answer.assumptions);
    text += list_text("Before anybody leaves the cab", answer.cautions);
    return text;
}

Json zones_answer_json(const engine::ZonesAnswer& answer, const std::string& currency) {
    Json settings = Json::array();
    for (const auto& on : answer.settings) {
        Json readings = Json::array();
        for (std::size_t i = 0; i < on.readings.size(); ++i) {
            Json reading = reading_json(on.readings[i]);
            reading["field_text"] = on.controls[i].text(on.field_values[i]);
            readings.push_back(std::move(reading));
        }
        settings.push_back({{"lie", ground::words(on.lie)}, {"controls", std::move(readings)}});
    }
    Json transitions = Json::array();
    for (const auto& transition : answer.lanes.transitions) {
        transitions.push_back({{"pass", transition.lane + 1},
                               {"east_m", transition.at.east_m},
                               {"north_m", transition.at.north_m},
                               {"from", transition.from},
                               {"to", transition.to}});
    }
    return {{"field", answer.field},
            {"machine", answer.machine},
            {"at", to_text(answer.at)},
            {"currency", currency},
            {"width_m", answer.width.si()},
            {"area_ha", answer.known.si() / 1e4},
            {"height_sd_m", answer.unsure.si()},
            {"least_relief_m", answer.least_relief.si()},
            {"most_relief_m", answer.most_relief.si()},
            {"reason", reason_text(answer, PeopleUnits(UnitSystem::metric, currency))},
            {"expected",
             {{"crowns_higher_mm", interval_json(answer.expected.crowns_higher, unit::mm)},
              {"beet_share", interval_json(answer.expected.beet_share)},
              {"wetter_chance", interval_json(answer.expected.wetter_chance)},
              {"seen", answer.expected.seen}}},
            {"zones", zones_list(answer.zones)},
            {"left_out", zones_list(answer.left_out)},
            {"gain", interval_json(answer.gain, Money(1.0))},
            {"settings", std::move(settings)},
            {"transitions", std::move(transitions)},
            {"notes", answer.notes},
            {"assumptions", answer.assumptions},
            {"cautions", answer.cautions}};
}

std::string zones_json(const engine::ZonesAnswer& answer, const std::string& currency) {
    return zones_answer_json(answer, currency).lines() + "\n";
}

}  // namespace beetwright::io
