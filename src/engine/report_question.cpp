#include "engine/report_question.hpp"

#include <algorithm>
#include <array>

#include "base/sorted.hpp"
#include "ledger/evidence.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

using ledger::Line;

constexpr std::size_t kMostCounts = 8;

struct Countable {
    Line line;
    const char* what;
};

constexpr std::array kCountable{
    Countable{Line::tails, "count ten beets at each of ten spots"},
    Countable{Line::over_topping, "judge the crowns of ten beets at each of ten spots"},
    Countable{Line::whole_roots, "dig and glean two or three strips"},
    Countable{Line::storage_skin_wounds, "judge torn skin on the counted beets"},
    Countable{Line::soil_and_tops, "take four tare samples"},
    Countable{Line::crown_and_leaf, "judge leaf stalks on the counted beets"},
};

std::string why(const ledger::Entry& entry) {
    std::string text(ledger::words(entry.line));
    text += ": ";
    text += entry.counted == RestsOn::measured
                ? "so far " + entry.evidence
                : "nobody looked here; the figure is " + std::string(words(entry.counted));
    return text;
}

}  // namespace

std::vector<NextCount> next_counts(const std::vector<ledger::Account>& fields, std::size_t most) {
    std::vector<NextCount> all;
    for (const auto& field : fields) {
        for (const auto& [line, what] : kCountable) {
            const auto& entry = field.entry(line);
            const MoneyPerArea width = entry.cost_at_slicing.high - entry.cost_at_slicing.low;
            all.push_back({field.name, what, why(entry), width * field.area});
        }
    }
    sort_list(all, [](const NextCount& a, const NextCount& b) { return a.at_stake > b.at_stake; });
    all.resize(std::min(all.size(), most));
    return all;
}

Result<ReportAnswer> ask_report(const ledger::Season& season, const ReportQuestion& asked,
                                WorkerPool& pool, Progress* progress) {
    LedgerQuestion question;
    question.slice_after_days = asked.slice_after_days;
    question.draws = asked.draws;
    question.most_bytes = asked.most_bytes;
    question.groups = {GroupBy::machine, GroupBy::operator_name, GroupBy::destination,
                       GroupBy::day};
    auto ledger = ask(season, question, pool, progress);
    if (!ledger) {
        return ledger.problems();
    }
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    ReportAnswer answer;
    answer.season_name = season.name;
    answer.next = next_counts(ledger->fields, kMostCounts);
    answer.ledger = std::move(*ledger);
    answer.catalogue = std::move(*catalogue);
    return answer;
}

}  // namespace beetwright::engine
