#include "io/pile_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/pile_probes_text.hpp"
#include "io/pile_writing.hpp"

namespace beetwright::io {
namespace {

using engine::DueFor;

std::string days_left(const engine::PartAnswer& part) {
    if (part.part.removed) {
        return "taken away";
    }
    if (part.days_left->high < 1.0) {
        return "due now";
    }
    return with_interval(part.days_left.value()) + " days";
}

std::string_view why(DueFor due) {
    switch (due) {
        case DueFor::rot: return "rot grows";
        case DueFor::thaw: return "frosted beets thaw";
        case DueFor::nothing: return "nothing by then";
    }
    return "";
}

/// Some days of all: today, and then about eight to the last.
std::vector<const engine::PileBandDay*> some_days(const std::vector<engine::PileBandDay>& days,
                                                  Day today) {
    std::vector<const engine::PileBandDay*> some;
    constexpr std::size_t kAbout = 8;
    std::vector<const engine::PileBandDay*> ahead;
    for (const auto& day : days) {
        if (day.day >= today) {
            ahead.push_back(&day);
        }
    }
    const std::size_t step = std::max<std::size_t>(1, (ahead.size() + kAbout - 1) / kAbout);
    for (std::size_t i = 0; i < ahead.size(); i += step) {
        some.push_back(ahead[i]);
    }
    if (!ahead.empty() && some.back() != ahead.back()) {
        some.push_back(ahead.back());
    }
    return some;
}

void add_list(std::string& text, std::string_view head, const std::vector<std::string>& lines) {
    if (lines.empty()) {
        return;
    }
    text += fmt::format("\n{}\n", head);
    for (const auto& line : lines) {
        text += "- " + line + "\n";
    }
}

std::string best_days_text(const engine::BestDays& best, const PileWriter& writer) {
    std::string text =
        fmt::format("\nBest days: {}, put on {}", best.best.name, to_text(best.best.deed.cover_on));
    if (best.best.deed.cover_off) {
        text += ", taken off " + to_text(*best.best.deed.cover_off);
    }
    text += fmt::format(", {}", writer.money(best.best.gain));
    if (best.earliest != best.latest) {
        text += fmt::format("; any day from {} to {} may be as good", to_text(best.earliest),
                            to_text(best.latest));
    }
    return text + ".\n";
}

}  // namespace

std::string pile_text(const engine::PileAnswer& answer, const std::string& currency,
                      UnitSystem units) {
    const PileWriter writer(currency, units);
    std::string text =
        fmt::format("{}: {} of beets, {} to {}\n\n", answer.pile, writer.mass(answer.mass),
                    to_text(answer.today), to_text(answer.until));
    // Of the part that is due first, and of the pile; what more there are, the table of parts says.
    std::size_t more = 0;
    for (const auto& warning : answer.warnings) {
        if (!warning.part || warning.part == answer.due_first) {
            text += "! " + warning.words + "\n";
        } else {
            ++more;
        }
    }
    if (more > 0) {
        text += fmt::format("! {} more like these of other parts, as the table says\n", more);
    }
    if (!answer.warnings.empty()) {
        text += "\n";
    }
    Columns parts;
    parts.add({"part", "from", "days left", "for", "sugar lost by slicing", "warmest ahead"});
    for (std::size_t p = 0; p < answer.parts.size(); ++p) {
        const auto& part = answer.parts[p];
        std::string fields;
        for (const auto& field : part.facts.fields) {
            fields += (fields.empty() ? "" : ", ") + field;
        }
        const auto sliced =
            std::ranges::find(part.days, part.facts.sliced, &engine::PileBandDay::day);
        const auto& lost = sliced == part.days.end() ? part.days.back() : *sliced;
        parts.add({writer.stretch(part.part), fields, days_left(part),
                   std::string(part.part.removed ? "" : why(part.due_for)),
                   percent_text(lost.sugar_lost),
                   writer.celsius(part.warmest.celsius) + " on " + to_text(part.warmest.day) +
                       ", " + writer.length(part.warmest.place.height) + " up"});
    }
    text += parts.text();
    text += fmt::format("\nThe whole pile\n");
    Columns days;
    days.add({"day", "mean", "warmest", "coldest", "sugar lost", "killed by frost"});
    for (const auto* day : some_days(answer.days, answer.today)) {
        days.add({to_text(day->day), writer.celsius(day->mean_C), writer.celsius(day->warmest_C),
                  writer.celsius(day->coldest_C), percent_text(day->sugar_lost),
                  percent_text(day->killed)});
    }
    text += days.text();
    text += fmt::format("\nSugar lost by slicing: {}, {}; {}\n", writer.sugar(answer.sugar_lost_kg),
                        percent_text(answer.sugar_lost), writer.money(answer.money_lost));
    text += probes_text(answer, writer);
    if (!answer.deeds.empty()) {
        text += "\nAgainst leaving it as it is\n";
        Columns deeds;
        deeds.add({"what", "gain", "chance that it pays", "sugar kept", "cost"});
        for (const auto& deed : answer.deeds) {
            deeds.add({deed.name, writer.money(deed.gain),
                       fmt::format("{:.0f} %", 100.0 * deed.chance_better),
                       writer.sugar(deed.sugar_kept_kg),
                       figure_text(deed.cost.si(), 0) + " " + currency});
        }
        text += deeds.text();
    }
    if (answer.best_days) {
        text += best_days_text(*answer.best_days, writer);
    }
    add_list(
        text,
        fmt::format("In {} ways in which weather and beets may go, supposing that", answer.members),
        answer.assumptions);
    add_list(text, "Take care", answer.cautions);
    return text;
}

std::string piles_text(const std::vector<engine::PileLine>& lines, UnitSystem units) {
    const PileWriter writer("", units);
    std::string text;
    for (const auto& line : lines) {
        if (!line.answer) {
            for (const Problem& problem : line.problems) {
                text += fmt::format("{}: {}\n", line.pile, problem.text());
            }
            continue;
        }
        const auto& answer = *line.answer;
        text += fmt::format("{}: {}, ", answer.pile, writer.mass(answer.mass));
        if (answer.due_first) {
            const auto& part = answer.parts[*answer.due_first];
            text += fmt::format("{} first: {}", writer.stretch(part.part), days_left(part));
        } else {
            text += "nothing left of it";
        }
        text += fmt::format("; {} of its sugar lost by slicing\n", percent_text(answer.sugar_lost));
    }
    return text.empty() ? "the season has no piles\n" : text;
}

}  // namespace beetwright::io
