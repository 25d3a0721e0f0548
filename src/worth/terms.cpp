#include "worth/terms.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/sorted.hpp"

namespace beetwright::worth {
namespace {

enum class Ends { may_meet, must_differ };

constexpr double kMostPol = 0.40;
constexpr double kMostChange = 100.0;  // of the price per unit of content: 100 % a point
constexpr double kMostPremium = 10.0;
constexpr double kMostFactor = 100.0;

class Checker {
 public:
    void expect(bool holds, std::string field, const char* what, const char* fix) {
        if (!holds) {
            problems_.push_back({ProblemKind::input,
                                 {.file = "", .line = 0, .field = std::move(field)},
                                 what,
                                 fix});
        }
    }

    template <class Amount>
    void expect_within(Amount amount, Amount most, std::string field) {
        const double size = std::abs(amount.si());
        expect(size <= most.si(), std::move(field), "the amount is missing or beyond all reason",
               "give it with its unit");
    }

    /// Rows [from, to] that start before they end and do not overlap.
    template <class Row>
    void expect_apart(const std::vector<Row>& rows, const std::string& name, Ends ends) {
        bool sound = true;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            // Said so that an end that is not known (NaN) fails too: it must not reach the sort.
            const bool ordered = rows[i].from <= rows[i].to;
            expect(ordered, path(name, i), "`from` or `to` is missing, or it ends before it starts",
                   "let `from` come before `to`");
            sound = sound && ordered;
        }
        if (!sound) {
            return;
        }
        std::vector<std::size_t> order(rows.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        sort_list(order, {}, [&](std::size_t i) { return rows[i].from; });
        for (std::size_t k = 1; k < order.size(); ++k) {
            const Row& last = rows[order[k - 1]];
            const Row& next = rows[order[k]];
            const bool apart = ends == Ends::may_meet ? last.to <= next.from : last.to < next.from;
            expect(apart, path(name, order[k]), "this overlaps another row",
                   ends == Ends::may_meet ? "let each start where another ends"
                                          : "let each start on the day after another ends");
        }
    }

    static std::string path(const std::string& name, std::size_t i) {
        return name + "[" + std::to_string(i) + "]";
    }

    Result<Done> result() && {
        if (problems_.empty()) {
            return Done{};
        }
        return std::move(problems_);
    }

 private:
    Problems problems_;
};

bool is_between(double value, double least, double most) {
    return value >= least && value <= most;
}

void check_price(const Terms& terms, Checker& checker) {
    checker.expect(is_between(terms.reference_pol.si(), 0.05, 0.30), "reference_pol",
                   "the reference sugar content is not one of beet", "give it in %, such as 16");
    checker.expect(terms.pay(), "base_price", "nothing is paid",
                   "give a base price, or a price of recoverable sugar");
    checker.expect_within(terms.base_price, kMostPrice, "base_price");
    checker.expect(terms.base_price.si() >= 0.0, "base_price", "the price is negative",
                   "give what is paid for clean beet");
    if (terms.recoverable) {
        const auto& by_sugar = *terms.recoverable;
        checker.expect(terms.base_price.si() == 0.0 && terms.slide.empty(), "recoverable",
                       "beet is paid by recoverable sugar and by a base price or slide as well",
                       "leave out the one or the other");
        checker.expect_within(by_sugar.price, MoneyPerSugar(kMostPrice.si()), "recoverable.price");
        checker.expect_within(by_sugar.charge, kMostPrice, "recoverable.charge");
        checker.expect(is_between(by_sugar.fixed_loss.si(), 0.0, 0.10), "recoverable.fixed_loss",
                       "this is not a loss of sugar in processing", "give it in %, such as 0.6");
    }
}

void check_slide(const Terms& terms, Checker& checker) {
    checker.expect(terms.slide.size() <= kMostSlideSteps, "slide", "more than 16 steps",
                   "join steps of the same change");
    checker.expect_apart(terms.slide, "slide", Ends::may_meet);
    for (std::size_t i = 0; i < terms.slide.size(); ++i) {
        const auto& step = terms.slide[i];
        const auto path = Checker::path("slide", i);
        checker.expect(is_between(step.from.si(), 0.0, kMostPol) && !(step.to.si() > kMostPol),
                       path, "a step is outside the sugar contents of beet",
                       "give `from` and `to` in %, such as 16");
        checker.expect(is_between(step.change_per_content, -kMostChange, kMostChange), path,
                       "the price changes by more than 100 % a point",
                       "give per cent of the base price per point: 0.9 % a tenth is 9");
    }
}

void check_dates(const Terms& terms, Checker& checker) {
    checker.expect_apart(terms.supplements, "supplements", Ends::must_differ);
    checker.expect_apart(terms.premiums, "premiums", Ends::must_differ);
    for (std::size_t i = 0; i < terms.supplements.size(); ++i) {
        const auto& row = terms.supplements[i];
        const auto path = Checker::path("supplements", i);
        checker.expect_within(row.at_from, kMostPrice, path + ".at_from");
        const double days = static_cast<double>((row.to - row.from).count());
        checker.expect_within(row.at_from + days * row.per_day, kMostPrice, path + ".per_day");
    }
    for (std::size_t i = 0; i < terms.premiums.size(); ++i) {
        checker.expect(is_between(terms.premiums[i].share, -1.0, kMostPremium),
                       Checker::path("premiums", i) + ".share",
                       "the premium is not a share of the base payment",
                       "give it in %, between -100 and 1000");
    }
}

template <class PerMass>
void check_haul_tariff(const HaulTariff<PerMass>& tariff, Checker& checker) {
    checker.expect_apart(tariff.bands, "haul_allowance.bands", Ends::may_meet);
    checker.expect_within(tariff.fixed, PerMass(kMostPrice.si()), "haul_allowance.fixed");
    checker.expect(is_between(tariff.factor, 0.0, kMostFactor), "haul_allowance.factor",
                   "the factor is out of bounds", "give a number such as 1.15");
    for (std::size_t i = 0; i < tariff.bands.size(); ++i) {
        const auto& band = tariff.bands[i];
        const auto path = Checker::path("haul_allowance.bands", i);
        checker.expect(is_between(band.from.si(), 0.0, kMostHaul.si()), path,
                       "the band starts at no distance of a road", "give `from` in km or mi");
        checker.expect_within(kMostHaul * band.rate, PerMass(kMostPrice.si()), path + ".rate");
    }
}

void check_tare_and_quota(const Terms& terms, Checker& checker) {
    checker.expect(is_between(terms.fixed_crown_tare, 0.0, 1.0), "fixed_crown_tare",
                   "the crown tare is not a share", "give it in %, such as 6.61");
    constexpr MoneyPerMass most(kMostPrice.si());
    checker.expect_within(terms.soil_charge, most, "soil_charge");
    checker.expect_within(terms.tops_charge, most, "tops_charge");
    constexpr MoneyPerMassWithSoil most_haul(kMostPrice.si());
    checker.expect_within(terms.haul_cost.fixed, most_haul, "haul_cost.fixed");
    checker.expect_within(kMostHaul * terms.haul_cost.per_length, most_haul,
                          "haul_cost.per_length");
    if (!terms.quota) {
        return;
    }
    const Quota& quota = *terms.quota;
    checker.expect_within(quota.price_beyond, kMostPrice, "quota.price_beyond");
    checker.expect(quota.contracted.is_known() || quota.contracted_area.is_known(), "quota",
                   "nothing limits the contract", "give `contracted` or `contracted_area`");
    checker.expect(!(quota.contracted.si() < 0.0), "quota.contracted",
                   "the contracted mass is negative", "give clean beet in t");
    checker.expect(!(quota.contracted_area.si() < 0.0), "quota.contracted_area",
                   "the contracted area is negative", "give it in ha");
}

}  // namespace

Result<Done> check(const Terms& terms) {
    Checker checker;
    check_price(terms, checker);
    check_slide(terms, checker);
    check_dates(terms, checker);
    check_haul_tariff(terms.haul_allowance, checker);
    check_haul_tariff(terms.haul_allowance_with_soil, checker);
    check_tare_and_quota(terms, checker);
    return std::move(checker).result();
}

}  // namespace beetwright::worth
