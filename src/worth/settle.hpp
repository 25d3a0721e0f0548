// Settles loads by the terms, line by line, each to the cent.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
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

/// What a line of a settlement is for, in the order in which they stand.
enum class Part : std::uint8_t {
    beet,
    beet_beyond,
    early_or_late,
    soil,
    tops,
    haul_allowance,
    haul,
};
inline constexpr std::size_t kParts = 7;
std::string_view words(Part part);

struct SettledLine {
    std::string words;  ///< "beet at 17.20 % sugar"
    Cents amount = 0;
    Part part = Part::beet;
};

struct SettledLoad {
    std::string ticket;
    std::vector<SettledLine> lines;  ///< those that are not zero
    [[nodiscard]] Cents total() const;
};

/// Settles one load as if no contract limited the season. Problems: no clean mass, or more than a
/// hundred thousand tonnes; a sugar content that is not beet's; tare, molasses loss or haul that
/// are negative or not known.
Result<SettledLoad> settle(const Terms& terms, const Delivery& delivery);

struct SettledSeason {
    std::vector<SettledLoad> loads;  ///< in order of delivery
    CleanMass within_quota = CleanMass::zero();
    CleanMass beyond_quota = CleanMass::zero();
    [[nodiscard]] Cents total() const;
    /// The sum of one part's lines, such as all supplements.
    [[nodiscard]] Cents total(Part part) const;
};

/// Settles a season's loads in order of delivery day (then as given). A load that crosses the quota
/// is paid in two parts; what is beyond it gets no supplement or premium. `grown` is the area that
/// the loads come from; a contract by area needs it. Problems: as for one load, all loads' at once.
Result<SettledSeason> settle_season(const Terms& terms, std::span<const Delivery> deliveries,
                                    Area grown = Area());

}  // namespace beetwright::worth
