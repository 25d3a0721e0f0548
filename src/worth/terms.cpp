#include "worth/terms.hpp"

#include <algorithm>

namespace beetwright::worth {
namespace {

class Checker {
 public:
    void expect(bool holds, const char* field, const char* what, const char* fix) {
        if (!holds) {
            problems_.push_back(
                {ProblemKind::input, {.file = "", .line = 0, .field = field}, what, fix});
        }
    }
    /// Spans in order and apart; from and to are members of Row.
    template <class Row>
    void expect_apart(std::vector<Row> rows, const char* field, bool ends_may_meet) {
        std::ranges::sort(rows, {}, &Row::from);
        for (std::size_t i = 0; i < rows.size(); ++i) {
            expect(rows[i].from <= rows[i].to, field, "a row ends before it starts",
                   "let `from` come before `to`");
            if (i > 0) {
                const bool apart =
                    ends_may_meet ? rows[i - 1].to <= rows[i].from : rows[i - 1].to < rows[i].from;
                expect(apart, field, "two rows overlap", "let each start where the last one ends");
            }
        }
    }
    Result<Done> result() {
        if (problems_.empty()) {
            return Done{};
        }
        return problems_;
    }

 private:
    Problems problems_;
};

bool is_share(double value) {
    return value >= 0.0 && value <= 1.0;
}

/// Every amount that a row cannot do without is there.
void expect_known(const Terms& terms, Checker& checker) {
    const auto known = [&](const auto& amount, const char* field) {
        checker.expect(amount.is_known(), field, "an amount is missing", "give it with its unit");
    };
    for (const auto& row : terms.supplements) {
        known(row.at_from, "supplements.at_from");
    }
    for (const auto& band : terms.haul_allowance.bands) {
        known(band.rate, "haul_allowance.bands.rate");
    }
    if (terms.recoverable) {
        known(terms.recoverable->price, "recoverable.price");
    }
    if (terms.quota) {
        known(terms.quota->contracted, "quota.contracted");
        known(terms.quota->price_beyond, "quota.price_beyond");
    }
}

}  // namespace

Result<Done> check(const Terms& terms) {
    Checker checker;
    const double reference = terms.reference_pol.si();
    checker.expect(reference > 0.05 && reference < 0.30, "reference_pol",
                   "the reference sugar content is not one of beet", "give it in %, such as 16");
    checker.expect(terms.recoverable || terms.base_price.si() > 0.0, "base_price",
                   "nothing is paid", "give a base price, or a price of recoverable sugar");
    checker.expect(terms.slide.size() <= kMostSlideSteps, "slide", "more than 16 steps",
                   "join steps of the same change");
    checker.expect_apart(terms.slide, "slide", true);
    checker.expect_apart(terms.haul_allowance.bands, "haul_allowance.bands", true);
    checker.expect_apart(terms.supplements, "supplements", false);
    checker.expect_apart(terms.premiums, "premiums", false);
    checker.expect(is_share(terms.fixed_crown_tare), "fixed_crown_tare",
                   "the crown tare is not a share", "give it in %, such as 6.61");
    expect_known(terms, checker);
    if (terms.quota) {
        checker.expect(terms.quota->contracted.si() >= 0.0, "quota.contracted",
                       "the contracted mass is negative", "give clean beet in t");
    }
    return checker.result();
}

}  // namespace beetwright::worth
