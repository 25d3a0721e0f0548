#include "engine/enough_question.hpp"

#include <algorithm>

#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

std::string beets(int count) {
    return std::to_string(count) + (count == 1 ? " more beet" : " more beets");
}

std::string words_of(const check::RunningCount& standing, const check::TwoShares& shares) {
    switch (standing.sure) {
        case check::Sure::fine: return "Enough: it is fine.";
        case check::Sure::too_much: return "Enough: it is too much.";
        case check::Sure::not_yet: break;
    }
    const double middle = 0.5;
    const int more = standing.meter < middle ? standing.more_if_fine : standing.more_if_too_much;
    const int percent_fine = static_cast<int>(100.0 * shares.fine + middle);
    const int percent_too_much = static_cast<int>(100.0 * shares.too_much + middle);
    return "Not yet: about " + beets(std::max(more, 1)) + " would tell " +
           std::to_string(percent_fine) + " % from " + std::to_string(percent_too_much) + " %.";
}

}  // namespace

Result<EnoughAnswer> ask_enough(const ledger::Season& season, const std::vector<SpotCount>& spots) {
    constexpr int most_beets = 1'000'000;
    const bool sound = !spots.empty() && std::ranges::all_of(spots, [](const SpotCount& spot) {
        return spot.hits >= 0 && spot.beets >= 1 && spot.beets <= most_beets &&
               spot.hits <= spot.beets;
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
        sums.push_back({.n = double(spot.beets),
                        .sum = double(spot.hits),
                        .sum_squares = double(spot.hits),
                        .positive = double(spot.hits)});
    }
    const auto all = check::total(sums);
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
