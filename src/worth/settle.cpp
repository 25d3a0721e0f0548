#include "worth/settle.hpp"

#include <algorithm>
#include <cmath>

#include "worth/price.hpp"

namespace beetwright::worth {
namespace {

constexpr double kLeastPol = 0.05;
constexpr double kMostPol = 0.30;

Problems wrong_with(const Delivery& delivery) {
    Problems problems;
    const auto add = [&](const char* field, const char* what, const char* fix) {
        problems.push_back({ProblemKind::input,
                            {.file = "", .line = 0, .field = delivery.ticket + " " + field},
                            what,
                            fix});
    };
    if (!(delivery.clean.si() > 0.0)) {
        add("clean", "there is no clean beet in this load", "give gross, soil and tops");
    }
    if (!(delivery.pol.si() >= kLeastPol && delivery.pol.si() <= kMostPol)) {
        add("pol", "this is not a sugar content of beet", "give 5 to 30 %");
    }
    if (!(delivery.soil.si() >= 0.0) || !(delivery.tops.si() >= 0.0)) {
        add("tare", "the tare is negative or not known", "give soil and tops of 0 or more");
    }
    return problems;
}

std::string percent(double share) {
    const auto hundredths = static_cast<long>(std::lround(share * 1e4));
    const std::string digits = std::to_string(hundredths % 100);
    return std::to_string(hundredths / 100) + "." + (digits.size() < 2 ? "0" : "") + digits + " %";
}

/// The lines of one load; `beyond` of its clean mass is paid as beyond the quota.
SettledLoad settled(const Terms& terms, const Delivery& load, CleanMass beyond) {
    const Price price = price_on(terms, load.delivered, load.haul.si());
    const double pol = load.pol.si();
    const double molasses = load.molasses_loss.si();
    SettledLoad settled_load{load.ticket, {}};
    const auto enter = [&](std::string words, double amount) {
        const Cents cents = to_cents(Money(amount));
        if (cents != 0) {
            settled_load.lines.push_back({std::move(words), cents});
        }
    };
    const double within_kg = (load.clean - beyond).si() * price.paid_share;
    enter("beet at " + percent(pol) + " sugar", within_kg * price.base(pol, molasses));
    if (beyond.si() > 0.0 && terms.quota) {
        Terms lower = terms;
        lower.base_price = terms.quota->price_beyond;
        const Price beyond_price = price_on(lower, load.delivered, load.haul.si());
        enter("beet beyond the contract",
              beyond.si() * price.paid_share * beyond_price.base(pol, molasses));
    }
    enter("early or late delivery", within_kg * price.date_terms(pol, molasses));
    enter("soil", load.soil.si() * price.per_kg_soil);
    enter("tops", load.tops.si() * price.per_kg_tops);
    enter("haul allowance", load.clean.si() * price.haul_per_kg_clean);
    const double with_soil = load.clean.si() + load.soil.si() + load.tops.si();
    enter("haul", with_soil * price.haul_per_kg_with_soil);
    return settled_load;
}

}  // namespace

Cents to_cents(Money money) {
    // A sum that is a whole number of cents but for rounding must not fall to the other side of a
    // half.
    const double cents = money.si() * 100.0;
    const double nudge = std::abs(cents) * 1e-12;
    return static_cast<Cents>(std::llround(cents < 0.0 ? cents - nudge : cents + nudge));
}

Cents SettledLoad::total() const {
    Cents sum = 0;
    for (const auto& line : lines) {
        sum += line.amount;
    }
    return sum;
}

Cents SettledSeason::total() const {
    Cents sum = 0;
    for (const auto& load : loads) {
        sum += load.total();
    }
    return sum;
}

Result<SettledLoad> settle(const Terms& terms, const Delivery& delivery) {
    if (auto problems = wrong_with(delivery); !problems.empty()) {
        return problems;
    }
    return settled(terms, delivery, CleanMass::zero());
}

Result<SettledSeason> settle_season(const Terms& terms, std::span<const Delivery> deliveries) {
    std::vector<Delivery> in_order(deliveries.begin(), deliveries.end());
    std::ranges::stable_sort(in_order, {}, &Delivery::delivered);
    Problems problems;
    for (const auto& delivery : in_order) {
        const auto found = wrong_with(delivery);
        problems.insert(problems.end(), found.begin(), found.end());
    }
    if (!problems.empty()) {
        return problems;
    }
    SettledSeason season;
    for (const auto& delivery : in_order) {
        CleanMass beyond = CleanMass::zero();
        if (terms.quota) {
            const CleanMass left =
                std::max(CleanMass::zero(), terms.quota->contracted - season.within_quota);
            beyond = std::max(CleanMass::zero(), delivery.clean - left);
        }
        season.within_quota += delivery.clean - beyond;
        season.beyond_quota += beyond;
        season.loads.push_back(settled(terms, delivery, beyond));
    }
    return season;
}

}  // namespace beetwright::worth
