#include "io/constants_text.hpp"

#include <fmt/format.h>

#include "io/json.hpp"

namespace beetwright::io {
namespace {

template <class Visit>
void for_each_constant(std::string_view start, Visit&& visit) {
    for (unsigned c = 0; c < kConstantCount; ++c) {
        const auto& row = catalogue_rows()[c];
        if (row.id.substr(0, start.size()) == start) {
            visit(row, static_cast<ConstantId>(c));
        }
    }
}

}  // namespace

std::string constants_text(const Catalogue& catalogue, std::string_view start) {
    std::string text;
    for_each_constant(start, [&](const ConstantRow& row, ConstantId id) {
        text += fmt::format("{}\n    {:g} {}", row.id, catalogue.value_in_unit(id), row.unit);
        if (row.spread != Spread::fixed) {
            text += fmt::format(" (90 %: {:g} to {:g}, {})", catalogue.low_in_unit(id),
                                catalogue.high_in_unit(id), words(row.spread));
        }
        text += fmt::format(", {}{}\n    {}\n    {}\n", words(row.how),
                            catalogue.is_replaced(id) ? "; this season's own number" : "",
                            row.words, row.source);
    });
    return text;
}

std::string constants_json(const Catalogue& catalogue, std::string_view start) {
    auto rows = Json::array();
    for_each_constant(start, [&](const ConstantRow& row, ConstantId id) {
        rows.push_back({{"id", row.id},
                        {"value", catalogue.value_in_unit(id)},
                        {"low", catalogue.low_in_unit(id)},
                        {"high", catalogue.high_in_unit(id)},
                        {"unit", row.unit},
                        {"spread", words(row.spread)},
                        {"how_known", words(row.how)},
                        {"own_number", catalogue.is_replaced(id)},
                        {"words", row.words},
                        {"source", row.source}});
    });
    return rows.lines() + "\n";
}

}  // namespace beetwright::io
