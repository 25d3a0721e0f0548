#include "worth/settle.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "base/contract.hpp"
#include "base/sorted.hpp"
#include "worth/price.hpp"

namespace beetwright::worth {
namespace {

constexpr double kLeastPol = 0.05;
constexpr double kMostPol = 0.30;
constexpr CleanMass kMostClean{1e8};

Problems wrong_with(const Delivery& delivery) {
    Problems problems;
    const auto expect = [&](bool holds, const char* field, const char* what, const char* fix) {
        if (!holds) {
            problems.push_back({ProblemKind::input,
                                {.file = "", .line = 0, .field = delivery.ticket + " " + field},
                                what,
                                fix});
        }
    };
    // Each is said so that a number that is not known (NaN) fails too.
    const auto is_amount = [](double value, double most) { return value >= 0.0 && value <= most; };
    const double most_kg = kMostClean.si();
    expect(delivery.clean.si() > 0.0, "clean", "there is no clean beet in this load",
           "give gross, soil and tops");
    expect(!(delivery.clean > kMostClean), "clean", "no load is that heavy",
           "were kilograms taken for tonnes?");
    expect(delivery.pol.si() >= kLeastPol && delivery.pol.si() <= kMostPol, "pol",
           "this is not a sugar content of beet", "give 5 to 30 %");
    expect(is_amount(delivery.soil.si(), most_kg) && is_amount(delivery.tops.si(), most_kg), "tare",
           "the tare is negative or not known", "give soil and tops of 0 or more");
    expect(is_amount(delivery.molasses_loss.si(), kMostPol), "molasses_loss",
           "the molasses loss is negative or not known", "give 0 if the terms do not look at it");
    expect(!delivery.haul.is_known() || is_amount(delivery.haul.si(), kMostHaul.si()), "haul",
           "the way to the factory is negative or too long", "give it in km or mi");
    return problems;
}

std::string percent(double share) {
    const long hundredths = std::lround(share * 1e4);
    const std::string digits = std::to_string(hundredths % 100);
    return std::to_string(hundredths / 100) + "." + (digits.size() < 2 ? "0" : "") + digits + " %";
}

/// The terms by which beet beyond the contract is paid.
Terms terms_beyond(const Terms& terms) {
    Terms lower = terms;
    lower.recoverable.reset();
    lower.base_price = terms.quota->price_beyond;
    return lower;
}

bool allowance_needs_haul(const Terms& terms) {
    return !terms.haul_allowance.bands.empty() || !terms.haul_allowance_with_soil.bands.empty();
}
bool cost_needs_haul(const Terms& terms) {
    return terms.haul_cost.per_length.si() != 0.0;
}

/// The lines of one load; `beyond` of its clean mass is paid as beyond the quota.
SettledLoad settled(const Terms& terms, const Delivery& load, CleanMass beyond) {
    const Length haul = load.haul.is_known() ? load.haul : Length::zero();
    const Price price = price_on(terms, load.delivered, haul.si());
    const double pol = load.pol.si();
    const double molasses = load.molasses_loss.si();
    SettledLoad settled_load;
    settled_load.ticket = load.ticket;
    settled_load.within_quota = load.clean - beyond;
    settled_load.beyond_quota = beyond;
    const auto enter = [&](Part part, std::string words, double amount) {
        const Cents cents = to_cents(Money(amount));
        if (cents != 0) {
            settled_load.lines.push_back({std::move(words), cents, part});
        }
    };
    const auto enter_part = [&](Part part, double amount) {
        enter(part, std::string(words(part)), amount);
    };
    const double within_kg = (load.clean - beyond).si() * price.paid_share;
    enter(Part::beet, "beet at " + percent(pol) + " sugar", within_kg * price.base(pol, molasses));
    if (beyond.si() > 0.0) {
        const Price lower = price_on(terms_beyond(terms), load.delivered, haul.si());
        enter_part(Part::beet_beyond, beyond.si() * price.paid_share * lower.base(pol, molasses));
    }
    enter_part(Part::early_or_late, within_kg * price.date_terms(pol, molasses));
    enter_part(Part::soil, load.soil.si() * price.per_kg_soil);
    enter_part(Part::tops, load.tops.si() * price.per_kg_tops);
    const MassWithSoil as_loaded(load.clean.si() + load.soil.si() + load.tops.si());
    if (load.haul.is_known() || !allowance_needs_haul(terms)) {
        const Money allowance = load.clean * haul_allowance(terms.haul_allowance, haul) +
                                as_loaded * haul_allowance(terms.haul_allowance_with_soil, haul);
        enter_part(Part::haul_allowance, allowance.si());
    }
    if (load.haul.is_known() || !cost_needs_haul(terms)) {
        enter_part(Part::haul, -(as_loaded * haul_cost(terms.haul_cost, haul)).si());
    }
    return settled_load;
}

/// How much of each load is beyond the contract, as loads are settled one after another.
class Contract {
 public:
    Contract(const std::optional<Quota>& quota, Area grown) {
        if (!quota) {
            return;
        }
        if (quota->contracted.is_known()) {
            left_ = quota->contracted;
        }
        if (quota->contracted_area.is_known() && grown.si() > 0.0) {
            share_beyond_ = std::max(0.0, 1.0 - quota->contracted_area / grown);
        }
    }
    CleanMass take(CleanMass clean) {
        const CleanMass by_area = share_beyond_ * clean;
        const CleanMass within = std::min(clean - by_area, left_);
        left_ -= within;
        return clean - within;
    }

 private:
    CleanMass left_{HUGE_VAL};
    double share_beyond_ = 0.0;
};

}  // namespace

bool look_at_haul(const Terms& terms) {
    return allowance_needs_haul(terms) || cost_needs_haul(terms);
}

std::string_view words(Part part) {
    switch (part) {
        case Part::beet: return "beet";
        case Part::beet_beyond: return "beet beyond the contract";
        case Part::early_or_late: return "early or late delivery";
        case Part::soil: return "soil";
        case Part::tops: return "tops";
        case Part::haul_allowance: return "haul allowance";
        case Part::haul: return "haul";
    }
    return "";
}

Cents to_cents(Money money) {
    // A sum that is a whole number of cents but for rounding must not fall to the other side of a
    // half.
    const double cents = money.si() * 100.0;
    require(std::abs(cents) < 9e18, "an amount of money fits into whole cents");
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

Cents SettledSeason::total(Part part) const {
    Cents sum = 0;
    for (const auto& load : loads) {
        for (const auto& line : load.lines) {
            sum += line.part == part ? line.amount : 0;
        }
    }
    return sum;
}

Result<SettledLoad> settle(const Terms& terms, const Delivery& delivery) {
    if (auto problems = wrong_with(delivery); !problems.empty()) {
        return problems;
    }
    return settled(terms, delivery, CleanMass::zero());
}

Result<SettledSeason> settle_season(const Terms& terms, std::span<const Delivery> deliveries,
                                    Area grown) {
    std::vector<std::size_t> order(deliveries.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    sort_list(order, {}, [&](std::size_t i) { return deliveries[i].delivered; });
    Problems problems;
    if (terms.quota && terms.quota->contracted_area.is_known() && !(grown.si() > 0.0)) {
        problems.push_back({ProblemKind::missing,
                            {.file = "", .line = 0, .field = "area"},
                            "the contract is by area, and the area grown is not known",
                            "give the area of every field that the loads come from"});
    }
    for (const std::size_t i : order) {
        const auto found = wrong_with(deliveries[i]);
        problems.insert(problems.end(), found.begin(), found.end());
    }
    if (!problems.empty()) {
        return problems;
    }
    SettledSeason season;
    Contract contract(terms.quota, grown);
    for (const std::size_t i : order) {
        auto load = settled(terms, deliveries[i], contract.take(deliveries[i].clean));
        load.place = i;
        season.within_quota += load.within_quota;
        season.beyond_quota += load.beyond_quota;
        season.loads.push_back(std::move(load));
    }
    return season;
}

}  // namespace beetwright::worth
