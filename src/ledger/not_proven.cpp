#include "ledger/not_proven.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/sorted.hpp"

namespace beetwright::ledger {
namespace {

struct Asked {
    Line line;
    std::string_view not_counted;  ///< what is missing when nothing was counted here
    std::string_view learned_from = "the machine's other fields";
};

constexpr std::array kAsked{
    Asked{Line::tails, "no broken tails were counted here"},
    Asked{Line::over_topping, "no crowns were judged here"},
    Asked{Line::whole_roots, "no strip was dug here"},
    Asked{Line::storage_skin_wounds, "nobody judged torn skin here"},
    Asked{Line::soil_and_tops, "no tare sample was taken here"},
    Asked{Line::molasses, "no laboratory sample was taken here", "the season's other fields"},
};

constexpr double kWideShare = 0.5;  ///< half-width over value beyond which a line proves little

double width(const Entry& entry) {
    return (entry.cost_at_slicing.high - entry.cost_at_slicing.low).si();
}

std::string capitalised(std::string_view text) {
    std::string out(text);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') {
        out[0] = static_cast<char>(out[0] - 'a' + 'A');
    }
    return out;
}

}  // namespace

std::vector<std::string> not_proven(const Account& account) {
    std::vector<const Entry*> entries;
    std::vector<std::string> sentences;
    for (const Asked& asked : kAsked) {
        entries.push_back(&account.entry(asked.line));
    }
    sort_list(entries, [](const Entry* a, const Entry* b) { return width(*a) > width(*b); });
    for (const Entry* entry : entries) {
        const auto asked = std::ranges::find(kAsked, entry->line, &Asked::line);
        const std::string name = capitalised(words(entry->line));
        if (entry->counted == RestsOn::measured) {
            const double value = std::abs(entry->money.value.si());
            const double half = 0.5 * (entry->money.high - entry->money.low).si();
            if (half > kWideShare * value && value > 0.0) {
                sentences.push_back(name + ": " + entry->evidence +
                                    " do not settle it; half the width of its interval is more "
                                    "than half its value.");
            }
            continue;
        }
        const std::string from =
            entry->counted == RestsOn::learned
                ? "the figure is learned from " + std::string(asked->learned_from)
                : "the figure is published elsewhere and may be far off";
        sentences.push_back(name + ": " + std::string(asked->not_counted) + "; " + from + ".");
    }
    return sentences;
}

}  // namespace beetwright::ledger
