// Settles loads by the terms, line by line, each to the cent.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/time.hpp"
#include "worth/terms.hpp"

namespace beetwright::worth {

/// One load as the factory's laboratory sees it.
struct Delivery {
    std::string ticket;
    Day delivered{};
    CleanMass clean;
    Mass soil = Mass::zero();
    Mass tops = Mass::zero();
    SugarContent pol;
    SugarContent molasses_loss = SugarContent::zero();
    Length haul = Length::zero();
};

/// Money in hundredths of the currency's unit, exact.
using Cents = std::int64_t;

/// Rounded half away from zero.
Cents to_cents(Money money);

struct SettledLine {
    std::string words;  ///< "beet at 17.20 % sugar"
    Cents amount = 0;
};

struct SettledLoad {
    std::string ticket;
    std::vector<SettledLine> lines;
    [[nodiscard]] Cents total() const;
};

/// Problems: no clean mass, a sugar content that is not beet's.
Result<SettledLoad> settle(const Terms& terms, const Delivery& delivery);

struct SettledSeason {
    std::vector<SettledLoad> loads;  ///< in order of delivery
    CleanMass within_quota = CleanMass::zero();
    CleanMass beyond_quota = CleanMass::zero();
    [[nodiscard]] Cents total() const;
};

/// Settles a season's loads in order of delivery day (then as given). A load that crosses the quota
/// is paid in two parts.
Result<SettledSeason> settle_season(const Terms& terms, std::span<const Delivery> deliveries);

}  // namespace beetwright::worth
