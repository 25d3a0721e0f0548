#include "maps/zone_page.hpp"

#include <algorithm>
#include <functional>

#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "ground/local_plane.hpp"
#include "ground/plane_area.hpp"
#include "io/control_text.hpp"
#include "io/falling_band.hpp"
#include "io/filled.hpp"
#include "io/ground_words.hpp"
#include "io/people_units.hpp"
#include "io/report_style.hpp"
#include "maps/xml_text.hpp"
#include "maps/zone_hatches.hpp"
#include "maps/zone_map.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

using io::filled;

// Ink on white, so that a printer without colours loses nothing.
constexpr std::string_view kStyle = R"css(
@page { margin: 12mm; }
.zone-map { display: block; width: 100%; height: auto; margin: 12px 0 4px; }
.zone-map .ground, .swatch .ground { fill: #f7ecd0; }
.zone-map .zone { stroke: var(--ink); stroke-width: 1.6; }
.zone-map .border { fill: none; stroke: var(--ink); stroke-width: 3; }
.hatch { stroke: var(--ink); stroke-width: 1.3; fill: none; }
.zone-map .relief { fill: none; stroke: #6d675b; stroke-width: 0.8; stroke-dasharray: 5 3; }
.zone-map .frame { fill: none; stroke: var(--ink); stroke-width: 1; }
.zone-map .tick { stroke: var(--ink); stroke-width: 1; }
.zone-map .bar { fill: #fff; stroke: var(--ink); stroke-width: 1; }
.zone-map .half { fill: var(--ink); }
.zone-map circle.number { fill: #fff; stroke: var(--ink); stroke-width: 2; }
.zone-map text.number { font-size: 16px; font-weight: 700; text-anchor: middle; }
.zone-map text.height { font-size: 12px; text-anchor: middle; paint-order: stroke; stroke: #fff;
  stroke-width: 3px; }
.zone-map text.latitude { font-size: 14px; text-anchor: end; }
.zone-map text.longitude { font-size: 14px; text-anchor: middle; }
.zone-map text.bar-end { font-size: 15px; text-anchor: middle; }
.zone-map path.north { fill: var(--ink); }
.zone-map text.north { font-size: 20px; font-weight: 700; text-anchor: middle; }
.swatch { display: block; width: 44px; height: 22px; margin: 0 0 4px auto; }
.swatch .zone { stroke: var(--ink); stroke-width: 1.5; }
tbody th[scope="row"] { font-weight: 400; }
td.other { font-weight: 700; }
td.other small { font-weight: 400; }
@media print {
  body { font-size: 10pt; } header, main, footer { max-width: none; padding: 0; } h1 { margin: 0; }
  h2 { margin: 12px 0 4px; padding-top: 6px; font-size: 1.2rem; }
  th, td { padding: 3px 6px; } th[scope="row"], th.words { min-width: 8rem; } .scroll { margin: 4px 0; }
  table { font-size: 9.5pt; line-height: 1.3; } thead th { white-space: normal; }
  p { margin: 4px 0; max-width: none; } ul { margin: 4px 0; padding-left: 20px; }
  .zone-map { margin: 6px 0 0; max-height: 104mm; }
}
)css";

/// Any text as it may stand in a page that is XML.
std::string escaped(std::string_view text) {
    return io::escaped(xml_text(text));
}

/// "2031-10-04 07:45 UTC"
std::string instant_text(Instant at) {
    const auto text = to_text(at);
    constexpr std::size_t kDay = 10;
    constexpr std::size_t kTime = 5;
    return text.substr(0, kDay) + " " + text.substr(kDay + 1, kTime) + " UTC";
}

class Page {
 public:
    Page(const ZonePlan& plan, const ZonePageFacts& facts)
        : plan_(plan), facts_(facts), people_(facts.units, facts.currency) {}

    std::string write() {
        head();
        map();
        constexpr std::size_t kInATable = 6;
        for (std::size_t first = 0; first < plan_.zones.size(); first += kInATable) {
            table(first, std::min(first + kInATable, plan_.zones.size()));
        }
        cautions();
        assumptions();
        html_ += "</main></body></html>\n";
        return std::move(html_);
    }

 private:
    void head() {
        html_ += filled(
            "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/><meta "
            "name=\"viewport\" content=\"width=device-width, initial-scale=1\"/><title>{0}: "
            "zones</title><style>{1}{2}</style></head><body><header><h1>{0}</h1>",
            escaped(plan_name(plan_)), io::kReportStyle, kStyle);
        html_ += filled("<p>{}{}, {}. Worked out {}.</p></header><main>",
                        facts_.machine.empty() ? "" : escaped(facts_.machine) + ": ",
                        counted(plan_.zones.size(), "zone", "zones"),
                        people_.area(size_of(plan_.boundary)), instant_text(facts_.at));
    }

    [[nodiscard]] static Area size_of(const ground::Area& area) {
        if (area.empty() || area.front().outer.empty()) {
            return Area(0.0);
        }
        const ground::LocalPlane plane(ground::middle_of(area));
        return Area(ground::size_m2(plane.to_plane(area)));
    }

    void map() {
        const auto middle = middle_of_plan(plan_);
        if (!middle) {
            html_ += "<p>Nothing is drawn: no border and no zone has a place.</p>";
            return;
        }
        html_ += zone_map_svg(plan_, facts_.relief, facts_.units);
        html_ += filled("<p class=\"note\">Middle of the field: {}, WGS 84.{}</p>",
                        io::compass_text(*middle), relief_words());
    }

    [[nodiscard]] std::string relief_words() const {
        if (facts_.relief.lines.empty()) {
            return {};
        }
        return " Broken lines join equal heights, " +
               io::relief_text(facts_.relief.step_m, facts_.units) +
               " apart, as the log or grid counts them.";
    }

    [[nodiscard]] const engine::ZoneFound* found(const PlannedZone& zone) const {
        const auto at = std::ranges::find(facts_.found, zone.number, &engine::ZoneFound::number);
        return at == facts_.found.end() ? nullptr : &*at;
    }

    using CellOf = std::function<std::string(const PlannedZone&)>;

    void row(std::string_view head, std::size_t first, std::size_t end, const CellOf& cell) {
        html_ += filled("<tr><th scope=\"row\">{}</th>", head);
        for (std::size_t k = first; k < end; ++k) {
            html_ += cell(plan_.zones[k]);
        }
        html_ += "</tr>";
    }

    /// Zones beside each other: a row for what each is, and for each control.
    void table(std::size_t first, std::size_t end) {
        html_ +=
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Zones and their "
            "settings\"><table><thead><tr><th scope=\"col\" class=\"words\">Zone</th>";
        for (std::size_t k = first; k < end; ++k) {
            html_ += filled("<th scope=\"col\">{}{}<small> {}</small></th>", hatch_swatch(k),
                            std::to_string(plan_.zones[k].number), escaped(plan_.zones[k].words));
        }
        html_ += "</tr></thead><tbody>";
        row("ground", first, end, [&](const PlannedZone& zone) {
            return "<td>" + people_.area(size_of(zone.area)) + "</td>";
        });
        pays(first, end);
        const auto controls = all_controls();
        for (const auto& control : controls) {
            row(escaped(control.words()), first, end,
                [&](const PlannedZone& zone) { return setting(zone, control.id()); });
        }
        html_ += "</tbody></table></div>";
        if (controls.empty()) {
            html_ += "<p>Every zone is set as the field at large is.</p>";
        } else if (plan_.zones.size() > 1) {
            html_ += filled("<p class=\"note\">Bold is set otherwise than in zone {}.</p>",
                            std::to_string(plan_.zones.front().number));
        }
    }

    void pays(std::size_t first, std::size_t end) {
        const auto pays = [&](const PlannedZone& zone) {
            const auto* is = found(zone);
            return is != nullptr && is->lie != ground::Lie::level ? is : nullptr;
        };
        if (std::ranges::none_of(plan_.zones, pays)) {
            return;
        }
        row("gain by its own setting, switches paid for", first, end,
            [&](const PlannedZone& zone) -> std::string {
                const auto* is = pays(zone);
                if (is == nullptr) {
                    return "<td></td>";
                }
                const io::Reading gain{is->gain.value.si(), is->gain.low.si(), is->gain.high.si(),
                                       people_.currency()};
                return filled("<td>{} {}<small>{}</small></td>", io::value_text(gain),
                              escaped(people_.currency()), io::interval_text(gain));
            });
        row("chance of a gain", first, end, [&](const PlannedZone& zone) -> std::string {
            const auto* is = pays(zone);
            return is == nullptr ? "<td></td>"
                                 : "<td>" + fixed_text(100.0 * is->chance_better, 0) + " %</td>";
        });
    }

    /// In the order in which zones name them.
    [[nodiscard]] std::vector<harvester::Control> all_controls() const {
        std::vector<harvester::Control> controls;
        for (const auto& zone : plan_.zones) {
            for (const auto& setting : zone.settings) {
                const auto is_it = [&](const harvester::Control& control) {
                    return control.id() == setting.control.id();
                };
                if (std::ranges::none_of(controls, is_it)) {
                    controls.push_back(setting.control);
                }
            }
        }
        return controls;
    }

    [[nodiscard]] static const PlannedControl* find(const PlannedZone& zone,
                                                    const std::string& control) {
        const auto at = std::ranges::find_if(zone.settings, [&](const PlannedControl& setting) {
            return setting.control.id() == control;
        });
        return at == zone.settings.end() ? nullptr : &*at;
    }

    /// What the display shows comes first: it is what a hand in the cab can set.
    [[nodiscard]] std::string setting(const PlannedZone& zone, const std::string& control) const {
        const auto* is = find(zone, control);
        if (is == nullptr) {
            return "<td>–</td>";
        }
        const auto* at_large = find(plan_.zones.front(), control);
        const bool is_other = at_large == nullptr || at_large->value != is->value;
        const auto amount = escaped(io::control_text({.control = control,
                                                      .words = {},
                                                      .value = is->value,
                                                      .text = is->control.text(is->value),
                                                      .shown = std::nullopt},
                                                     facts_.units));
        const auto words = is->shown ? filled("display {}<small>{}</small>",
                                              general_text(*is->shown, kDisplayDigits), amount)
                                     : amount;
        return filled("<td{}>{}</td>", is_other ? " class=\"other\"" : "", words);
    }

    void cautions() {
        if (facts_.cautions.empty()) {
            return;
        }
        html_ += "<h2>Take care</h2><div class=\"caution\"><ul>";
        for (const auto& caution : facts_.cautions) {
            html_ += "<li>" + escaped(caution) + "</li>";
        }
        html_ += "</ul></div>";
    }

    void assumptions() {
        std::string sentences;
        for (const auto& assumption : facts_.assumptions) {
            sentences += (sentences.empty() ? "" : "; ") + escaped(assumption);
        }
        if (!sentences.empty()) {
            html_ += filled("<p class=\"note\">{}.</p>", sentences);
        }
    }

    const ZonePlan& plan_;
    const ZonePageFacts& facts_;
    io::PeopleUnits people_;
    std::string html_;
};

}  // namespace

ZonePageFacts page_facts(const engine::ZonesAnswer& answer, const ground::Surface& surface,
                         const std::string& currency, UnitSystem units) {
    return {.units = units,
            .currency = currency,
            .machine = answer.machine,
            .at = answer.at,
            .found = answer.zones,
            .cautions = answer.cautions,
            .assumptions = answer.assumptions,
            .relief = relief_lines(surface, units)};
}

std::string zone_page(const ZonePlan& plan, const ZonePageFacts& facts) {
    return Page(plan, facts).write();
}

}  // namespace beetwright::maps
