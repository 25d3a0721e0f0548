#include "ledger/account.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/random.hpp"
#include "ledger/contributors.hpp"
#include "ledger/quantiles.hpp"
#include "ledger/standing.hpp"
#include "ledger/without.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::size_t kBlock = 64;  ///< draws worked on at a time: their amounts stay in cache

constexpr std::array kLossLines{Line::over_topping,
                                Line::tails,
                                Line::whole_roots,
                                Line::pieces,
                                Line::storage_breathing,
                                Line::storage_tail_wounds,
                                Line::storage_crown_wounds,
                                Line::storage_skin_wounds,
                                Line::storage_leaf_and_soil,
                                Line::storage_rot_and_frost,
                                Line::molasses,
                                Line::crown_and_leaf,
                                Line::factory_loss,
                                Line::soil_and_tops};

double stored_days(const FieldQuestion& question) {
    return static_cast<double>((question.sliced - question.lifted).count());
}

/// What the last line gains without each loss.
void enter_costs(const Standing& standing, const pile::Exposure& exposure,
                 const pile::LumpConstants& constants, const worth::Price& price, Flow& costs) {
    const double paid = pay(deliver(standing, exposure, constants), price).total();
    for (const Line line : kLossLines) {
        pile::Exposure history = exposure;
        if (line == Line::storage_breathing) {
            history.breathing = 0.0;
        }
        const auto delivered = deliver(without(standing, line), history, constants);
        costs.money_of(line) = pay(delivered, price).total() - paid;
    }
}

class FieldDraws {
 public:
    FieldDraws(const Model& model, const FieldQuestion& question) {
        const std::uint64_t entity = stable_hash(question.field->name);
        for (std::size_t a = 0; a < kAmountCount; ++a) {
            // The open wound and the lost mass of a broken tail are one count: they vary together.
            const auto amount = static_cast<Amount>(a) == Amount::tail_break_area
                                    ? static_cast<std::size_t>(Amount::tail_moment)
                                    : a;
            scores_[a] = model.draws().field_scores(entity, static_cast<unsigned>(amount));
            quantiles_[a].emplace(question.amounts->amounts[a].number);
        }
    }

    /// Fills the amounts of draws [first, first + count).
    void block(std::size_t first, std::size_t count) {
        for (std::size_t a = 0; a < kAmountCount; ++a) {
            quantiles_[a]->fill(scores_[a].subspan(first, count), {values_[a].data(), count});
        }
    }
    [[nodiscard]] AmountDraw draw(std::size_t i) const {
        AmountDraw one;
        for (std::size_t a = 0; a < kAmountCount; ++a) {
            one[a] = values_[a][i];
        }
        return one;
    }

 private:
    std::array<std::span<const double>, kAmountCount> scores_;
    std::array<std::optional<num::UncertainQuantile>, kAmountCount> quantiles_;
    std::array<std::array<double, kBlock>, kAmountCount> values_;
};

template <class Q>
Estimate<Q> estimate(const Summary& s, double sign) {
    if (sign < 0.0) {
        return {Q(-s.mean), Q(-s.high), Q(-s.low)};
    }
    return {Q(s.mean), Q(s.low), Q(s.high)};
}

/// The largest |standing - losses - end| over all draws.
double largest_left_over(std::span<const double> lines, std::size_t draws, Line end,
                         std::vector<double>& left) {
    const auto line_of = [&](Line line) {
        return lines.subspan(static_cast<std::size_t>(line) * draws, draws);
    };
    const auto standing = line_of(Line::standing_crop);
    left.assign(standing.begin(), standing.end());
    const auto take_off = [&](Line line) {
        const auto values = line_of(line);
        for (std::size_t i = 0; i < draws; ++i) {
            left[i] -= values[i];
        }
    };
    for (std::size_t l = 0; l < kLineCount; ++l) {
        if (!is_balance(static_cast<Line>(l))) {
            take_off(static_cast<Line>(l));
        }
    }
    take_off(end);
    double largest = 0.0;
    for (const double value : left) {
        largest = std::max(largest, std::abs(value));
    }
    return largest;
}

}  // namespace

void LineDraws::add(const LineDraws& other) {
    const auto plus = [](std::vector<double>& to, const std::vector<double>& from) {
        std::ranges::transform(to, from, to.begin(), std::plus<>{});
    };
    plus(mass, other.mass);
    plus(sugar, other.sugar);
    plus(money, other.money);
    plus(cost, other.cost);
    area_m2 += other.area_m2;
    days_stored_m2 += other.days_stored_m2;
    fields += other.fields;
}

void draw_field(const Model& model, const FieldQuestion& question, Detail detail, LineDraws& out) {
    const auto& field = *question.field;
    const auto& amounts = *question.amounts;
    const std::size_t draws = model.draws().count();
    const auto& exposures = model.exposures(field.destination, question.lifted, question.sliced);
    const double haul_m = field.haul.is_known() ? field.haul.si() : 0.0;
    const worth::Price price = worth::price_on(model.season().terms, question.sliced, haul_m);
    const double central_exponent = model.catalogue().value(ConstantId::tip_exponent);
    const double area = field.area.si();

    FieldDraws field_draws(model, question);
    for (std::size_t first = 0; first < draws; first += kBlock) {
        const std::size_t count = std::min(kBlock, draws - first);
        field_draws.block(first, count);
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = first + k;
            const auto& constants = model.constants()[i];
            const Standing standing =
                standing_of(field_draws.draw(k), constants, amounts, central_exponent);
            const Flow flow = flow_of(standing, exposures[i], constants.lump, price);
            for (std::size_t l = 0; l < kLineCount; ++l) {
                out.mass[l * draws + i] = area * flow.mass[l];
                out.sugar[l * draws + i] = area * flow.sugar[l];
                out.money[l * draws + i] = area * flow.money[l];
            }
            if (detail == Detail::full) {
                Flow costs;
                enter_costs(standing, exposures[i], constants.lump, price, costs);
                for (const Line line : {Line::haul, Line::date_terms}) {
                    costs.money_of(line) = flow.money[static_cast<std::size_t>(line)];
                }
                for (std::size_t l = 0; l < kLineCount; ++l) {
                    out.cost[l * draws + i] = area * costs.money[l];
                }
            }
        }
    }
    out.area_m2 = area;
    out.days_stored_m2 = area * stored_days(question);
    out.fields = 1;
}

Account summarise(const Model& model, const std::string& name, const LineDraws& draws,
                  const std::optional<FieldQuestion>& question, Detail detail) {
    const std::size_t count = model.draws().count();
    const double per_m2 = 1.0 / draws.area_m2;
    Account account;
    account.name = name;
    account.area = Area(draws.area_m2);
    account.fields = draws.fields;
    account.days_stored = draws.days_stored_m2 * per_m2;
    if (question) {
        account.lifted = question->lifted;
        account.sliced = question->sliced;
    }
    Summariser summary;
    const auto of_line = [&](const std::vector<double>& values, std::size_t l) {
        Summary s = summary({&values[l * count], count});
        return Summary{s.mean * per_m2, s.low * per_m2, s.high * per_m2};
    };
    for (std::size_t l = 0; l < kLineCount; ++l) {
        Entry entry;
        entry.line = static_cast<Line>(l);
        const double sign = is_balance(entry.line) ? 1.0 : -1.0;
        entry.mass = estimate<CleanMassPerArea>(of_line(draws.mass, l), sign);
        entry.sugar = estimate<SugarPerArea>(of_line(draws.sugar, l), sign);
        entry.money = estimate<MoneyPerArea>(of_line(draws.money, l), sign);
        if (detail == Detail::full) {
            entry.cost_at_slicing = estimate<MoneyPerArea>(of_line(draws.cost, l), 1.0);
        }
        account.entries.push_back(std::move(entry));
    }
    std::vector<double> left;
    const auto left_over = [&](const std::vector<double>& lines, Line end) {
        return per_m2 * largest_left_over(lines, count, end, left);
    };
    account.mass_left_over = CleanMassPerArea(left_over(draws.mass, Line::recovered));
    account.sugar_left_over = SugarPerArea(left_over(draws.sugar, Line::recovered));
    account.money_left_over = MoneyPerArea(left_over(draws.money, Line::paid));
    if (question) {
        enter_footing(*question, account);
        if (detail == Detail::full) {
            enter_contributors(model, *question, draws, account);
        }
    }
    return account;
}

}  // namespace beetwright::ledger
