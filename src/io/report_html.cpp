#include "io/report_html.hpp"

#include <algorithm>

#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "base/sorted.hpp"
#include "io/falling_band.hpp"
#include "io/filled.hpp"
#include "io/report_style.hpp"
#include "io/report_text.hpp"

namespace beetwright::io {
namespace {

using engine::GroupBy;
using ledger::Account;
using ledger::Entry;
using ledger::Line;

std::string cell(const Reading& reading) {
    const bool moves = reading.value != 0.0 || reading.low != 0.0 || reading.high != 0.0;
    if (!moves) {
        return "<td></td>";
    }
    const auto interval = interval_text(reading);
    return filled("<td>{}{}</td>", escaped(value_text(reading)),
                  interval.empty() ? "" : "<small>" + escaped(interval) + "</small>");
}

std::string figure(std::string_view name, const Reading& reading) {
    return filled("<div><dt>{}</dt><dd>{} {}<small>{}</small></dd></div>", escaped(name),
                  escaped(value_text(reading)), escaped(reading.unit),
                  escaped(interval_text(reading)));
}

class Page {
 public:
    Page(const engine::ReportAnswer& report, const PeopleUnits& units)
        : report_(report), units_(units) {}

    std::string write() {
        head();
        season();
        recoverable();
        fields();
        groups();
        next();
        each_field();
        sources();
        cautions();
        html_ +=
            "</main><footer><p class=\"note\">Every figure is a mean with the interval that holds "
            "the "
            "truth nine times in ten, as far as counts and constants "
            "go.</p></footer></body></html>\n";
        return std::move(html_);
    }

 private:
    void head() {
        const auto name = escaped(report_.season_name);
        html_ += filled(
            "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta "
            "name=\"viewport\" "
            "content=\"width=device-width, initial-scale=1\"><title>{0}: where the sugar "
            "went</title>"
            "<style>{1}</style></head><body><header><h1>{0}</h1><p>Where the sugar went, what it "
            "was "
            "worth, and how sure that is. Per {2}, weighted by area.</p><nav aria-label=\"Parts of "
            "this "
            "page\"><ul><li><a href=\"#season\">Season</a></li><li><a href=\"#losses\">Losses to "
            "work on</a>"
            "</li><li><a href=\"#fields\">Fields</a></li><li><a href=\"#groups\">Machines and "
            "people</a></li>"
            "<li><a href=\"#next\">Count next</a></li><li><a "
            "href=\"#sources\">Sources</a></li></ul></nav>"
            "</header><main>",
            name, kReportStyle, units_.system() == UnitSystem::us ? "acre" : "hectare");
    }

    void heading(std::string_view id, std::string_view words) {
        html_ += filled("<h2 id=\"{}\">{}</h2>", id, escaped(words));
    }

    void key() {
        html_ +=
            "<ul class=\"key\"><li><span class=\"field\"></span>lost in the field</li><li><span "
            "class=\"storage\"></span>lost in storage</li><li><span class=\"factory\"></span>lost "
            "in the "
            "factory</li><li>The bracket beside each part spans its 90 % interval.</li></ul>";
    }

    void summary_figures(const Account& account) {
        html_ += "<dl class=\"figures-row\">";
        html_ += figure("Standing", units_.read(account.entry(Line::standing_crop).mass));
        html_ += figure("Sugar standing", units_.read(account.entry(Line::standing_crop).sugar));
        html_ += figure("Sugar recovered", units_.read(account.entry(Line::recovered).sugar));
        html_ += figure("Paid", units_.read(account.entry(Line::paid).money));
        html_ += "</dl>";
    }

    void season() {
        const Account& all = report_.ledger.season;
        heading("season", "The season");
        html_ += filled("<p>{}, {}, stored {} days on average.</p>",
                        counted(all.fields, "field", "fields"), escaped(units_.area(all.area)),
                        fixed_text(all.days_stored, 0));
        summary_figures(all);
        key();
        html_ += falling_band_svg(all, units_, "band-season");
        html_ += "<details><summary>Every line of the season's ledger</summary>";
        lines_table(all, "The season's ledger");
        html_ += "</details>";
        for (const auto& sentence : report_.ledger.assumptions) {
            html_ += "<p class=\"note\">Assumed: " + escaped(sentence) + "</p>";
        }
    }

    void lines_table(const Account& account, std::string_view caption) {
        const bool single = account.fields == 1;
        html_ += filled(
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
            "aria-label=\"{0}\"><table><caption "
            "class=\"note\">{0}</caption><thead><tr><th scope=\"col\" class=\"words\">line</th><th "
            "scope=\"col\">beet<br>{1}</th><th scope=\"col\">sugar<br>{2}</th><th "
            "scope=\"col\">money<br>{3}"
            "</th><th scope=\"col\">cost by the<br>slicing day</th>{4}</tr></thead><tbody>",
            escaped(caption), escaped(units_.beet_unit()), escaped(units_.sugar_unit()),
            escaped(units_.money_unit()),
            single ? "<th scope=\"col\" class=\"words\">rests on</th>" : "");
        for (const Entry& entry : account.entries) {
            html_ += filled("<tr{}><th scope=\"row\">{}</th>",
                            ledger::is_balance(entry.line) ? " class=\"balance\"" : "",
                            escaped(ledger::words(entry.line)));
            html_ += cell(units_.read(entry.mass)) + cell(units_.read(entry.sugar)) +
                     cell(units_.read(entry.money));
            html_ += can_be_helped(entry.line) ? cell(units_.read(entry.cost_at_slicing))
                                               : std::string("<td></td>");
            const bool moves = ledger::moves_sugar(entry.line) || entry.money.value.si() != 0.0;
            if (single && !moves) {
                html_ += "<td></td>";
            } else if (single) {
                html_ += filled("<td class=\"words\">{}<small>{}</small></td>",
                                escaped(words(entry.rests_on)), escaped(entry.evidence));
            }
            html_ += "</tr>";
        }
        const auto left_over = left_over_of(account, units_);
        html_ +=
            filled("<tr><th scope=\"row\">left over</th><td>{}</td><td>{}</td><td>{}</td><td></td>",
                   escaped(left_over.beet), escaped(left_over.sugar), escaped(left_over.money));
        html_ += single ? "<td></td></tr>" : "</tr>";
        html_ +=
            "</tbody></table></div><p class=\"note\">Cost by the slicing day is what would be "
            "gained "
            "without that loss alone, with all that follows from it until the beets are sliced. "
            "These "
            "overlap, so they do not add up.</p>";
    }

    void recoverable() {
        heading("losses", "Losses to work on");
        html_ +=
            "<p>What can be helped, the dearest first, reckoned to the day the beets are "
            "sliced.</p>";
        std::vector<const Entry*> losses;
        for (const Entry& entry : report_.ledger.season.entries) {
            if (can_be_helped(entry.line)) {
                losses.push_back(&entry);
            }
        }
        sort_list(losses, [](const Entry* a, const Entry* b) {
            return a->cost_at_slicing.value > b->cost_at_slicing.value;
        });
        html_ += filled(
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Losses to work "
            "on\"><table><thead>"
            "<tr><th scope=\"col\" class=\"words\">loss</th><th scope=\"col\">{}</th><th "
            "scope=\"col\">sugar {}"
            "</th></tr></thead><tbody>",
            escaped(units_.money_unit()), escaped(units_.sugar_unit()));
        for (const Entry* entry : losses) {
            html_ += filled("<tr><th scope=\"row\">{}</th>", escaped(ledger::words(entry->line)));
            html_ += cell(units_.read(entry->cost_at_slicing)) + cell(units_.read(entry->sugar)) +
                     "</tr>";
        }
        html_ += "</tbody></table></div>";
    }

    void accounts_table(const std::vector<Account>& accounts, std::string_view first,
                        std::string_view label, bool links) {
        html_ += filled(
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
            "aria-label=\"{0}\"><table><thead><tr><th "
            "scope=\"col\" class=\"words\">{1}</th><th scope=\"col\">area</th><th "
            "scope=\"col\">standing<br>{2}"
            "</th><th scope=\"col\">recovered<br>{3}</th><th scope=\"col\">paid<br>{4}</th><th "
            "scope=\"col\">tails"
            "<br>{4}</th><th scope=\"col\" class=\"words\">dearest loss that can be "
            "helped</th></tr></thead><tbody>",
            escaped(label), escaped(first), escaped(units_.beet_unit()),
            escaped(units_.sugar_unit()), escaped(units_.money_unit()));
        for (std::size_t i = 0; i < accounts.size(); ++i) {
            const Account& account = accounts[i];
            const Entry& loss = dearest_loss(account);
            const auto name = escaped(account.name);
            html_ += "<tr><th scope=\"row\">";
            html_ += links ? filled("<a href=\"#field-{}\">{}</a>", std::to_string(i), name) : name;
            html_ += filled("</th><td>{}</td>", escaped(units_.area(account.area)));
            html_ += cell(units_.read(account.entry(Line::standing_crop).mass));
            html_ += cell(units_.read(account.entry(Line::recovered).sugar));
            html_ += cell(units_.read(account.entry(Line::paid).money));
            html_ += cell(units_.read(account.entry(Line::tails).cost_at_slicing));
            html_ += filled("<td class=\"words\">{}<small>{}</small></td></tr>",
                            escaped(ledger::words(loss.line)),
                            escaped(value_text(units_.read(loss.cost_at_slicing))));
        }
        html_ += "</tbody></table></div>";
    }

    void fields() {
        heading("fields", "Fields");
        accounts_table(report_.ledger.fields, "field", "Fields", true);
    }

    void groups() {
        heading("groups", "Machines and people");
        html_ +=
            "<p>Fields differ in soil, weather and crop, so a difference between two rows need not "
            "be the "
            "machine's or the driver's. Where the intervals overlap, no difference is shown.</p>";
        for (const auto& group : report_.ledger.groups) {
            switch (group.by) {
                case GroupBy::machine: group_table(group, "By machine", "machine"); break;
                case GroupBy::operator_name: group_table(group, "By operator", "operator"); break;
                case GroupBy::destination:
                    group_table(group, "By destination", "destination");
                    break;
                default: break;
            }
        }
    }
    void group_table(const engine::LedgerGroup& group, std::string_view title,
                     std::string_view first) {
        html_ += filled("<h3>{}</h3>", escaped(title));
        accounts_table(group.accounts, first, title, false);
    }

    void next() {
        heading("next", "What to count next");
        html_ +=
            "<p>These counts would settle most money. The figure is how far apart the ends of the "
            "loss's "
            "interval lie, over the whole field.</p>";
        html_ +=
            "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"What to count "
            "next\"><table>"
            "<thead><tr><th scope=\"col\" class=\"words\">field</th><th scope=\"col\" "
            "class=\"words\">do this"
            "</th><th scope=\"col\">" +
            escaped(units_.currency()) +
            "</th><th scope=\"col\" class=\"words\">because</th></tr></thead><tbody>";
        for (const auto& count : report_.next) {
            html_ += filled(
                "<tr><th scope=\"row\">{}</th><td class=\"words\">{}</td><td>{}</td><td "
                "class=\"words\">{}</td></tr>",
                escaped(count.field), escaped(count.what),
                escaped(figure_text(count.at_stake.si(), 0)), escaped(count.why));
        }
        html_ += "</tbody></table></div>";
    }

    void each_field() {
        heading("each-field", "Field by field");
        for (std::size_t i = 0; i < report_.ledger.fields.size(); ++i) {
            const Account& account = report_.ledger.fields[i];
            html_ += filled("<h3 id=\"field-{}\">{}</h3><p>{}; {}.</p>", std::to_string(i),
                            escaped(account.name), escaped(units_.area(account.area)),
                            days_words(account));
            summary_figures(account);
            html_ += falling_band_svg(account, units_, "band-" + std::to_string(i));
            html_ += "<details><summary>Every line, and what it rests on</summary>";
            lines_table(account, account.name);
            const auto& from = account.entry(Line::paid).contributor;
            if (!from.what.empty()) {
                html_ += filled("<p>{} % of what is unsure about the money comes from {}.</p>",
                                fixed_text(100.0 * from.share, 0), escaped(from.what));
            }
            html_ += "</details>";
            if (!account.not_proven.empty()) {
                html_ += "<p>Not proven yet:</p><ul>";
                for (const auto& sentence : account.not_proven) {
                    html_ += "<li>" + escaped(sentence) + "</li>";
                }
                html_ += "</ul>";
            }
        }
    }

    void sources() {
        heading("sources", "Sources");
        html_ +=
            "<p>Every number that the ledger borrows. A source marked [V] was seen in the text "
            "named, [C] or "
            "[D] worked out from such, [M] is from memory.</p><details><summary>The "
            "constants</summary><div "
            "class=\"scroll\" tabindex=\"0\" role=\"region\" "
            "aria-label=\"Constants\"><table><thead><tr><th "
            "scope=\"col\" class=\"words\">constant</th><th scope=\"col\">value</th><th "
            "scope=\"col\">90 %</th>"
            "<th scope=\"col\" class=\"words\">known by</th><th scope=\"col\" "
            "class=\"words\">source</th></tr>"
            "</thead><tbody>";
        constexpr int kDigits = 6;
        for (unsigned c = 0; c < kConstantCount; ++c) {
            const auto& row = catalogue_rows()[c];
            const auto id = static_cast<ConstantId>(c);
            const auto& catalogue = report_.catalogue;
            html_ += filled(
                "<tr><th scope=\"row\">{}<br><small>{}</small></th><td>{} {}</td><td>{}</td><td "
                "class=\"words\">{}</td><td class=\"words\">{}</td></tr>",
                escaped(row.words), escaped(row.id),
                general_text(catalogue.value_in_unit(id), kDigits), escaped(row.unit),
                row.spread == Spread::fixed
                    ? std::string()
                    : general_text(catalogue.low_in_unit(id), kDigits) + " to " +
                          general_text(catalogue.high_in_unit(id), kDigits),
                catalogue.is_replaced(id) ? "your own number" : escaped(words(row.how)),
                escaped(row.source));
        }
        html_ += "</tbody></table></div></details>";
    }

    void cautions() {
        heading("cautions", "Take care");
        html_ +=
            "<div class=\"caution\"><ul><li>Before reaching into a machine: stop the engine, "
            "remove the key and "
            "wait until nothing moves.</li><li>Stay off the edges of piles and out of drop "
            "zones.</li><li>Carbon "
            "dioxide gathers in closed and ducted stores.</li><li>Mind mud on roads and power "
            "lines.</li><li>The "
            "maker's manual, local law and licensed practice come before anything on this "
            "page.</li></ul></div>";
    }

    const engine::ReportAnswer& report_;
    const PeopleUnits& units_;
    std::string html_;
};

}  // namespace

std::string report_html(const engine::ReportAnswer& report, const PeopleUnits& units) {
    return Page(report, units).write();
}

}  // namespace beetwright::io
