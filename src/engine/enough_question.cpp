#include "engine/enough_question.hpp"

#include <algorithm>
#include <cmath>

#include "base/counted.hpp"
#include "engine/out_of_bounds.hpp"
#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

std::string words_of(const check::RunningCount& standing, const check::TwoShares& shares) {
    switch (standing.sure) {
        case check::Sure::fine: return "Enough: it is fine.";
        case check::Sure::too_much: return "Enough: it is too much.";
        case check::Sure::not_yet: break;
    }
    const int more = standing.meter < 0.5 ? standing.more_if_fine : standing.more_if_too_much;
    const auto percent = [](double share) { return std::to_string(std::lround(100.0 * share)); };
    return "Not yet: about " +
           counted(static_cast<std::size_t>(std::max(more, 1)), "more beet", "more beets") +
           " would tell " + percent(shares.fine) + " % from " + percent(shares.too_much) + " %.";
}

}  // namespace

Result<EnoughAnswer> ask_enough(const ledger::Season& season, const std::vector<SpotCount>& spots) {
    const bool sound = !spots.empty() && std::ranges::all_of(spots, [](const SpotCount& spot) {
        return spot.hits >= 0 && spot.beets >= 1 && spot.hits <= spot.beets;
    });
    if (!sound) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = "spots"},
                       "these are not counts of beets at spots",
                       "write hits/beets for each spot, such as 1/10,0/10,2/7"};
    }
    auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    std::vector<check::SpotSum> sums;
    for (const auto& spot : spots) {
        const double hits = spot.hits;
        sums.push_back({.n = static_cast<double>(spot.beets),
                        .sum = hits,
                        .sum_squares = hits,
                        .positive = hits});
    }
    const auto all = check::total(sums);
    constexpr double most_beets = 1e6;
    if (all.n > most_beets) {
        return out_of_bounds("spots", "these are more than a million beets",
                             "see that a spot was not typed twice, or a digit too many");
    }
    const check::TwoShares shares;
    EnoughAnswer answer;
    answer.estimate = check::share_estimate(sums, *catalogue);
    answer.standing = check::where_it_stands({static_cast<int>(all.sum), static_cast<int>(all.n),
                                              check::design_effect(sums, *catalogue).effect},
                                             shares);
    answer.words = words_of(answer.standing, shares);
    return answer;
}

}  // namespace beetwright::engine
