#include "ledger/contributors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "base/random.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::size_t kMostAmounts = 4;

struct Footing {
    Line line;
    std::array<Amount, kMostAmounts> amounts;  ///< what was counted for it
    std::size_t count;
    bool on_published_rates;  ///< the line needs published storage rates besides
};

constexpr std::array<Footing, kLineCount> kFootings{{
    {Line::standing_crop, {Amount::beet_mass, Amount::pol}, 2, false},
    {Line::over_topping, {Amount::deep_share, Amount::slanted_share, Amount::deep_scars}, 3, false},
    {Line::tails, {Amount::tail_moment}, 1, false},
    {Line::whole_roots, {Amount::whole_roots}, 1, false},
    {Line::pieces, {Amount::pieces}, 1, false},
    {Line::storage_breathing, {}, 0, true},
    {Line::storage_tail_wounds, {Amount::tail_break_area}, 1, true},
    {Line::storage_crown_wounds, {Amount::scar_area}, 1, true},
    {Line::storage_skin_wounds, {Amount::skin_damage}, 1, true},
    {Line::storage_leaf_and_soil, {Amount::tops, Amount::soil}, 2, true},
    {Line::storage_rot_and_frost, {Amount::rotten, Amount::frosted}, 2, true},
    {Line::molasses, {Amount::potassium, Amount::sodium, Amount::amino_nitrogen}, 3, false},
    {Line::crown_and_leaf, {Amount::long_petioles, Amount::untouched}, 2, false},
    {Line::factory_loss, {}, 0, true},
    {Line::recovered, {Amount::beet_mass, Amount::pol}, 2, false},
    {Line::soil_and_tops, {Amount::soil, Amount::tops}, 2, false},
    {Line::haul, {Amount::beet_mass}, 1, false},
    {Line::date_terms, {Amount::beet_mass}, 1, false},
    {Line::paid, {Amount::beet_mass, Amount::pol}, 2, false},
}};

double squared_correlation(std::span<const double> a, std::span<const double> b) {
    const auto n = static_cast<double>(a.size());
    double sum_a = 0.0;
    double sum_b = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        sum_a += a[i];
        sum_b += b[i];
    }
    const double mean_a = sum_a / n;
    const double mean_b = sum_b / n;
    double aa = 0.0;
    double bb = 0.0;
    double ab = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        const double da = a[i] - mean_a;
        const double db = b[i] - mean_b;
        aa += da * da;
        bb += db * db;
        ab += da * db;
    }
    return aa > 0.0 && bb > 0.0 ? ab * ab / (aa * bb) : 0.0;
}

std::string described(const AmountEvidence& evidence, Amount amount) {
    std::string text(words(amount));
    if (!evidence.words.empty()) {
        text += " (" + evidence.words + ")";
    }
    return text;
}

/// The draws by which a line's uncertainty is judged: its sugar, or its money where it moves none.
std::span<const double> judged(const LineDraws& draws, Line line) {
    return draws.of(moves_sugar(line) ? Measure::sugar : Measure::money, line);
}

}  // namespace

void enter_footing(const FieldQuestion& question, Account& account) {
    for (const Footing& footing : kFootings) {
        Entry& entry = account.entries[static_cast<std::size_t>(footing.line)];
        RestsOn weakest = footing.count > 0 ? RestsOn::measured : RestsOn::published;
        std::string evidence;
        for (std::size_t k = 0; k < footing.count; ++k) {
            const auto& amount = question.amounts->of(footing.amounts[k]);
            if (footing.amounts[k] == Amount::deep_scars && amount.rests_on != RestsOn::measured) {
                continue;  // the judgement alone is a count too; its depth is a constant then
            }
            weakest = std::max(weakest, amount.rests_on);
            if (evidence.find(amount.words) == std::string::npos) {
                evidence += evidence.empty() ? "" : "; ";
                evidence += amount.words;
            }
        }
        if (footing.on_published_rates) {
            evidence += evidence.empty() ? "published rates" : "; published rates";
        }
        entry.counted = weakest;
        entry.rests_on = footing.on_published_rates ? RestsOn::published : weakest;
        entry.evidence = evidence;
    }
}

void enter_contributors(const Model& model, const FieldQuestion& question, const LineDraws& draws,
                        Account& account) {
    const std::uint64_t entity = stable_hash(question.field->name);
    for (std::size_t l = 0; l < kLineCount; ++l) {
        const auto line = judged(draws, static_cast<Line>(l));
        Contributor best;
        for (unsigned a = 0; a < kAmountCount; ++a) {
            const auto amount = static_cast<Amount>(a);
            if (amount == Amount::tail_break_area) {
                continue;  // shares its scores with the tail moment
            }
            const double share = squared_correlation(line, model.draws().field_scores(entity, a));
            if (share > best.share) {
                best = {described(question.amounts->of(amount), amount), share};
            }
        }
        for (unsigned c = 0; c < kConstantCount; ++c) {
            const auto scores = model.draws().scores_of(static_cast<ConstantId>(c));
            if (scores.empty()) {
                continue;
            }
            const double share = squared_correlation(line, scores);
            if (share > best.share) {
                best = {"constant " + std::string(catalogue_rows()[c].id) + ": " +
                            std::string(catalogue_rows()[c].words),
                        share};
            }
        }
        account.entries[l].contributor = best;
    }
}

}  // namespace beetwright::ledger
