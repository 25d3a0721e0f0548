#include "io/pile_order_text.hpp"

#include <fmt/format.h>

#include "io/estimate_json.hpp"
#include "io/pile_writing.hpp"

namespace beetwright::io {
namespace {

using campaign::HeldBy;
using campaign::SlicedPart;

const engine::PilePart& part_at(const engine::PileOrderAnswer& answer,
                                const campaign::PartPlace& place) {
    return answer.parts[place.pile][place.part];
}

std::string_view held_key(HeldBy held) {
    switch (held) {
        case HeldBy::worth: return "worth";
        case HeldBy::pile: return "pile";
        case HeldBy::days: return "days";
        case HeldBy::end: return "end";
    }
    return "";
}

/// What putting a part off by one place would lose, or why that cannot be.
std::string later_text(const SlicedPart& part, const PileWriter& writer) {
    switch (part.held_by) {
        case HeldBy::worth: return writer.money(part.lost_if_later);
        case HeldBy::pile: return "the next lies behind it";
        case HeldBy::days: return "its days";
        case HeldBy::end: return "";
    }
    return "";
}

Json rote_json(const std::optional<campaign::OrderByRote>& rote) {
    if (!rote) {
        return nullptr;
    }
    return {{"worth", interval_json(rote->worth, unit::money)},
            {"less_than_found", interval_json(rote->less_than_found, unit::money)}};
}

void add_rote(std::string& text, std::string_view words,
              const std::optional<campaign::OrderByRote>& rote, const PileWriter& writer) {
    if (rote) {
        text +=
            fmt::format("  {} loses {} against it\n", words, writer.money(rote->less_than_found));
    }
}

}  // namespace

std::string pile_order_text(const engine::PileOrderAnswer& answer, const std::string& currency,
                            UnitSystem units) {
    const PileWriter writer(currency, units);
    std::string text = fmt::format("Order of slicing from {}, {} a day\n\n", to_text(answer.today),
                                   writer.mass(answer.a_day));
    Columns columns;
    columns.add({"pile", "part", "from", "to", "put off by one place it would lose"});
    for (const SlicedPart& part : answer.order.parts) {
        columns.add({answer.piles[part.place.pile], writer.stretch(part_at(answer, part.place)),
                     to_text(part.first_day), to_text(part.last_day), later_text(part, writer)});
    }
    text += columns.text();
    text += fmt::format("\nWorth {}", writer.money(answer.order.worth));
    if (answer.order.is_best) {
        text += "; no order is worth more\n";
    } else {
        const double gap = answer.order.bound.si() - answer.order.worth.value.si();
        text +=
            fmt::format("; no order is worth more by over {} {}\n", figure_text(gap, 0), currency);
    }
    add_rote(text, "first piled, first sliced", answer.order.first_piled_first, writer);
    add_rote(text, "the warmest first", answer.order.warmest_first, writer);
    for (const auto& why : answer.left_out) {
        text += fmt::format("Left out: {}\n", why);
    }
    for (const auto& assumption : answer.assumptions) {
        text += fmt::format("Assumed: {}\n", assumption);
    }
    return text;
}

std::string pile_order_json(const engine::PileOrderAnswer& answer, const std::string& currency) {
    Json parts = Json::array();
    for (const SlicedPart& part : answer.order.parts) {
        const auto& lies = part_at(answer, part.place);
        parts.push_back({{"pile", answer.piles[part.place.pile]},
                         {"from_m", lies.from.si()},
                         {"to_m", lies.to.si()},
                         {"mass_t", lies.mass().si() / 1000.0},
                         {"first_day", to_text(part.first_day)},
                         {"last_day", to_text(part.last_day)},
                         {"worth", interval_json(part.worth, unit::money)},
                         {"held_by", held_key(part.held_by)},
                         {"lost_if_later", part.held_by == HeldBy::worth
                                               ? interval_json(part.lost_if_later, unit::money)
                                               : Json(nullptr)}});
    }
    return Json{{"today", to_text(answer.today)},
                {"currency", currency},
                {"a_day_t", answer.a_day.si() / 1000.0},
                {"parts", parts},
                {"worth", interval_json(answer.order.worth, unit::money)},
                {"bound", answer.order.bound.si()},
                {"is_best", answer.order.is_best},
                {"loader_moves", answer.order.loader_moves},
                {"first_piled_first", rote_json(answer.order.first_piled_first)},
                {"warmest_first", rote_json(answer.order.warmest_first)},
                {"left_out", answer.left_out},
                {"assumptions", answer.assumptions}}
               .line() +
           "\n";
}

}  // namespace beetwright::io
