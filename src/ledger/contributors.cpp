#include "ledger/contributors.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <span>
#include <vector>

#include "base/random.hpp"
#include "ledger/work.hpp"
#include "num/wide.hpp"

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

constexpr std::size_t kColumns = (kLineCount + num::kPack - 1) / num::kPack * num::kPack;
using Columns = std::array<double, kColumns>;

double mean_of(std::span<const double> values) {
    double sum = 0.0;
    for (const double value : values) {
        sum += value;
    }
    return sum / static_cast<double>(values.size());
}

/// For every line, the sum over the draws of its deviation times another's: all lines at once, each
/// in the order of the draws.
BEETWRIGHT_WIDE void sum_products(std::span<const Columns> lines, std::span<const double> other,
                                  double mean, Columns& sums, double& squares) {
    std::array<num::Pack, kColumns / num::kPack> packs{};
    double own = 0.0;
    for (std::size_t i = 0; i < other.size(); ++i) {
        const double deviation = other[i] - mean;
        own += deviation * deviation;
        for (std::size_t p = 0; p < packs.size(); ++p) {
            num::Pack line;
            num::load(line, &lines[i][p * num::kPack]);
            packs[p] += line * deviation;
        }
    }
    std::memcpy(sums.data(), packs.data(), sizeof sums);
    squares = own;
}

/// The squared correlations of all lines with one quantity after another.
class Correlations {
 public:
    explicit Correlations(const std::array<std::span<const double>, kLineCount>& lines)
        : deviations_(lines.front().size()) {
        for (std::size_t l = 0; l < kLineCount; ++l) {
            const double mean = mean_of(lines[l]);
            for (std::size_t i = 0; i < lines[l].size(); ++i) {
                const double deviation = lines[l][i] - mean;
                deviations_[i][l] = deviation;
                squares_[l] += deviation * deviation;
            }
        }
    }
    [[nodiscard]] Columns with(std::span<const double> other) const {
        Columns products{};
        double squares = 0.0;
        sum_products(deviations_, other, mean_of(other), products, squares);
        for (std::size_t l = 0; l < kLineCount; ++l) {
            const double both = squares_[l] * squares;
            products[l] =
                squares_[l] > 0.0 && squares > 0.0 ? products[l] * products[l] / both : 0.0;
        }
        return products;
    }

 private:
    std::vector<Columns> deviations_;  ///< draw after draw
    std::array<double, kLineCount> squares_{};
};

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
                        Account& account, Steps* steps) {
    const std::uint64_t entity = stable_hash(question.field->name);
    std::array<std::span<const double>, kLineCount> lines;
    for (std::size_t l = 0; l < kLineCount; ++l) {
        lines[l] = judged(draws, static_cast<Line>(l));
    }
    const Correlations correlations(lines);
    const double work_for_scores = work::kContributors *
                                   static_cast<double>(model.draws().count()) /
                                   (kAmountCount + kPlaces.count);
    const auto weigh = [&](std::span<const double> scores, auto&& words) {
        if (steps != nullptr && !steps->done(work_for_scores)) {
            return;
        }
        const auto shares = correlations.with(scores);
        for (std::size_t l = 0; l < kLineCount; ++l) {
            auto& best = account.entries[l].contributor;
            if (shares[l] > best.share) {
                best = {words(), shares[l]};
            }
        }
    };
    for (unsigned a = 0; a < kAmountCount; ++a) {
        const auto amount = static_cast<Amount>(a);
        if (amount == Amount::tail_break_area) {
            continue;  // shares its scores with the tail moment
        }
        weigh(model.draws().field_scores(entity, a),
              [&] { return described(question.amounts->of(amount), amount); });
    }
    for (unsigned c = 0; c < kConstantCount; ++c) {
        const auto scores = model.draws().scores_of(static_cast<ConstantId>(c));
        if (!scores.empty()) {
            weigh(scores, [&] {
                return "constant " + std::string(catalogue_rows()[c].id) + ": " +
                       std::string(catalogue_rows()[c].words);
            });
        }
    }
}

}  // namespace beetwright::ledger
