#include "engine/crowns_question.hpp"

#include <algorithm>
#include <cmath>

#include "ledger/model.hpp"

namespace beetwright::engine {
namespace {

std::string words_of(const crop::CrownHeights& crowns) {
    const double chance = std::max({crowns.even, crowns.fair, crowns.uneven});
    // Never "100 %": a sample proves nothing altogether.
    const auto percent = std::min(std::lround(100.0 * chance), 99L);
    return "Likeliest " + std::string(crop::words(crowns.likeliest)) + ", with a chance of " +
           std::to_string(percent) + " %.";
}

}  // namespace

Result<CrownsAnswer> ask_crowns(const ledger::Season& season, const std::vector<Length>& heights) {
    const auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return catalogue.problems();
    }
    auto crowns = crop::crown_heights(heights, *catalogue);
    if (!crowns) {
        return crowns.problems();
    }
    CrownsAnswer answer;
    answer.crowns = *crowns;
    answer.words = words_of(answer.crowns);
    return answer;
}

}  // namespace beetwright::engine
