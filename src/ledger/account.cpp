#include "ledger/account.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "ledger/contributors.hpp"
#include "ledger/quantiles.hpp"
#include "ledger/standing.hpp"
#include "ledger/without.hpp"
#include "ledger/work.hpp"
#include "num/wide.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {
namespace {

constexpr bool is_stored(Measure measure, Line line) {
    switch (measure) {
        case Measure::mass: return moves_mass(line) && !is_storage(line);
        case Measure::sugar: return moves_sugar(line);
        case Measure::money: return moves_money(line);
        case Measure::cost: return !is_balance(line);
    }
    return false;
}

constexpr std::size_t kNotStored = kMeasureCount * kLineCount;

/// Where the series of each measure and line stands among those stored; their number at the end.
struct SeriesTable {
    std::array<std::array<std::size_t, kLineCount>, kMeasureCount> place{};
    std::size_t before_costs = 0;
    std::size_t count = 0;
};
constexpr SeriesTable kSeries = [] {
    SeriesTable table;
    for (std::size_t m = 0; m < kMeasureCount; ++m) {
        if (static_cast<Measure>(m) == Measure::cost) {
            table.before_costs = table.count;
        }
        for (std::size_t l = 0; l < kLineCount; ++l) {
            const bool stored = is_stored(static_cast<Measure>(m), static_cast<Line>(l));
            table.place[m][l] = stored ? table.count++ : kNotStored;
        }
    }
    return table;
}();

constexpr std::size_t place_of(Measure measure, Line line) {
    return kSeries.place[static_cast<std::size_t>(measure)][static_cast<std::size_t>(line)];
}

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

/// Writes the lines of one draw after another into their series.
class SeriesWriter {
 public:
    explicit SeriesWriter(LineDraws& out) {
        for (std::size_t m = 0; m < kMeasureCount; ++m) {
            for (std::size_t l = 0; l < kLineCount; ++l) {
                const auto draws = out.of(static_cast<Measure>(m), static_cast<Line>(l));
                if (!draws.empty()) {
                    series_[kSeries.place[m][l]] = draws.data();
                }
            }
        }
    }

    /// Lines per m2, of so much area. Unrolled, so that what is not stored is not worked out.
    template <Measure measure>
    void lines(const std::array<double, kLineCount>& values, double area, std::size_t i) const {
        [&]<std::size_t... l>(std::index_sequence<l...>) {
            (one<measure, static_cast<Line>(l)>(area * values[l], i), ...);
        }
        (std::make_index_sequence<kLineCount>{});
    }

 private:
    template <Measure measure, Line line>
    void one(double value, std::size_t i) const {
        if constexpr (is_stored(measure, line)) {
            series_[place_of(measure, line)][i] = value;
        }
    }

    std::array<double*, kSeries.count> series_{};
};

Summary scaled(const Summary& s, double factor) {
    return {s.mean * factor, s.low * factor, s.high * factor};
}

template <class Q>
Estimate<Q> estimate(const Summary& s, double sign) {
    if (sign < 0.0) {
        return {Q(-s.mean), Q(-s.high), Q(-s.low)};
    }
    return {Q(s.mean), Q(s.low), Q(s.high)};
}

BEETWRIGHT_WIDE void add_to(std::span<double> to, std::span<const double> more) {
    for (std::size_t i = 0; i < to.size(); ++i) {
        to[i] += more[i];
    }
}
BEETWRIGHT_WIDE void take_off(std::span<double> from, double factor, std::span<const double> less) {
    for (std::size_t i = 0; i < from.size(); ++i) {
        from[i] -= factor * less[i];
    }
}

/// The largest |standing - losses - end| over all draws.
double largest_left_over(const LineDraws& draws, Measure measure, Line end,
                         std::vector<double>& left) {
    const auto standing = draws.of(measure, Line::standing_crop);
    left.assign(standing.begin(), standing.end());
    for (std::size_t l = 0; l < kLineCount; ++l) {
        const auto line = static_cast<Line>(l);
        if (is_balance(line) && line != end) {
            continue;
        }
        if (measure == Measure::mass && is_storage(line)) {
            take_off(left, kMassLostPerSugar, draws.of(Measure::sugar, line));
        } else if (place_of(measure, line) != kNotStored) {
            take_off(left, 1.0, draws.of(measure, line));
        }
    }
    double largest = 0.0;
    for (const double value : left) {
        largest = std::max(largest, std::abs(value));
    }
    return largest;
}

/// The draws of several lines' sugar, added up draw by draw.
void sum_sugar(const LineDraws& draws, std::span<const Line> lines, std::vector<double>& sum) {
    sum.assign(draws.of(Measure::sugar, Line::standing_crop).size(), 0.0);
    for (const Line line : lines) {
        take_off(sum, -1.0, draws.of(Measure::sugar, line));
    }
}

constexpr std::array kLeftBehind{Line::whole_roots, Line::pieces};
constexpr std::array kInStorage{Line::storage_breathing,     Line::storage_tail_wounds,
                                Line::storage_crown_wounds,  Line::storage_skin_wounds,
                                Line::storage_leaf_and_soil, Line::storage_rot_and_frost};

}  // namespace

LineDraws::LineDraws(std::size_t draws, Detail detail)
    : count_(draws), values_(draws * bytes_of_a_draw(detail) / sizeof(double)) {}

std::size_t LineDraws::bytes_of_a_draw(Detail detail) {
    return sizeof(double) * (detail == Detail::full ? kSeries.count : kSeries.before_costs);
}

std::span<const double> LineDraws::of(Measure measure, Line line) const {
    const std::size_t place = place_of(measure, line);
    if (place * count_ >= values_.size()) {
        return {};
    }
    return {&values_[place * count_], count_};
}

std::span<double> LineDraws::of(Measure measure, Line line) {
    const auto draws = std::as_const(*this).of(measure, line);
    return {const_cast<double*>(draws.data()), draws.size()};
}

void LineDraws::add(const LineDraws& other) {
    require(values_.size() == other.values_.size(), "draws that are summed are alike");
    add_to(values_, other.values_);
    area_m2 += other.area_m2;
    days_stored_m2 += other.days_stored_m2;
    fields += other.fields;
}

void draw_field(const Model& model, const FieldQuestion& question, Detail detail, LineDraws& out,
                Steps* steps) {
    const auto& field = *question.field;
    const auto& amounts = *question.amounts;
    const std::size_t draws = model.draws().count();
    const auto& exposures = model.exposures(stay_of(question));
    const double haul_m = field.haul.is_known() ? field.haul.si() : 0.0;
    const worth::Price price = worth::price_on(model.season().terms, question.sliced, haul_m);
    const double central_exponent = model.catalogue().value(ConstantId::tip_exponent);
    const double area = field.area.si();

    const SeriesWriter write(out);
    FieldDraws field_draws(model, question);
    for (std::size_t first = 0; first < draws; first += kBlock) {
        const std::size_t count = std::min(kBlock, draws - first);
        if (steps != nullptr && !steps->done(work::kField * static_cast<double>(count))) {
            return;
        }
        field_draws.block(first, count);
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t i = first + k;
            const auto& constants = model.constants()[i];
            const Standing standing =
                standing_of(field_draws.draw(k), constants, amounts, central_exponent);
            const Flow flow = flow_of(standing, exposures[i], constants.lump, price);
            write.lines<Measure::mass>(flow.mass, area, i);
            write.lines<Measure::sugar>(flow.sugar, area, i);
            write.lines<Measure::money>(flow.money, area, i);
            if (detail == Detail::full) {
                Flow costs;
                enter_costs(standing, exposures[i], constants.lump, price, costs);
                for (const Line line : {Line::haul, Line::date_terms}) {
                    costs.money_of(line) = flow.money[static_cast<std::size_t>(line)];
                }
                write.lines<Measure::cost>(costs.money, area, i);
            }
        }
    }
    out.area_m2 = area;
    out.days_stored_m2 = area * stored_days(question);
    out.fields = 1;
}

Account summarise(const Model& model, const std::string& name, const LineDraws& draws,
                  const std::optional<FieldQuestion>& question, Detail detail, Steps* steps) {
    const double per_m2 = 1.0 / draws.area_m2;
    Account account;
    account.name = name;
    account.area = Area(draws.area_m2);
    account.fields = draws.fields;
    account.days_stored = draws.days_stored_m2 * per_m2;
    if (question) {
        account.lifting = question->field->lifted ? Lifting::lifted : Lifting::not_yet;
        account.lifted = question->lifted;
        account.sliced = question->sliced;
    }
    Summariser summary;
    const auto per_area = [&](Measure measure, Line line) {
        const auto values = draws.of(measure, line);
        return values.empty() ? Summary{} : scaled(summary(values), per_m2);
    };
    const double work_for_a_line =
        work::kSummary * static_cast<double>(model.draws().count()) / kLineCount;
    for (std::size_t l = 0; l < kLineCount; ++l) {
        Entry entry;
        entry.line = static_cast<Line>(l);
        if (steps != nullptr && !steps->done(work_for_a_line)) {
            return account;
        }
        const double sign = is_balance(entry.line) ? 1.0 : -1.0;
        const Summary sugar = per_area(Measure::sugar, entry.line);
        const Summary mass = is_storage(entry.line) ? scaled(sugar, kMassLostPerSugar)
                                                    : per_area(Measure::mass, entry.line);
        entry.mass = estimate<CleanMassPerArea>(mass, sign);
        entry.sugar = estimate<SugarPerArea>(sugar, sign);
        entry.money = estimate<MoneyPerArea>(per_area(Measure::money, entry.line), sign);
        entry.cost_at_slicing = estimate<MoneyPerArea>(per_area(Measure::cost, entry.line), 1.0);
        account.entries.push_back(std::move(entry));
    }
    std::vector<double> left;
    if (detail == Detail::full) {
        const auto together = [&](std::span<const Line> lines) {
            sum_sugar(draws, lines, left);
            return estimate<SugarPerArea>(scaled(summary(left), per_m2), -1.0);
        };
        account.left_behind = together(kLeftBehind);
        account.in_storage = together(kInStorage);
    }
    const auto left_over = [&](Measure measure, Line end) {
        return per_m2 * largest_left_over(draws, measure, end, left);
    };
    account.mass_left_over = CleanMassPerArea(left_over(Measure::mass, Line::recovered));
    account.sugar_left_over = SugarPerArea(left_over(Measure::sugar, Line::recovered));
    account.money_left_over = MoneyPerArea(left_over(Measure::money, Line::paid));
    if (question) {
        enter_footing(*question, account);
        if (detail == Detail::full) {
            enter_contributors(model, *question, draws, account, steps);
        }
    }
    return account;
}

}  // namespace beetwright::ledger
