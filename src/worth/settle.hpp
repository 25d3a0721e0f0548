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
    Length haul = Length::zero();  ///< NaN: not known
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
    std::size_t place = 0;           ///< of its delivery among those that were given
    CleanMass within_quota = CleanMass::zero();
    CleanMass beyond_quota = CleanMass::zero();
    [[nodiscard]] Cents total() const;
};

/// Whether the terms pay or charge by the distance to the factory.
bool look_at_haul(const Terms& terms);

/// Settles one load as if no contract limited the season. Where the haul is not known, the lines
/// that need it, allowance and cost, are left out; look_at_haul() says whether the terms have any.
/// Problems: no clean mass, or more than a hundred thousand tonnes; a sugar content that is not
/// beet's; tare or molasses loss that are negative or not known; a haul that is negative.
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
/// is paid in two parts; what is beyond it gets no supplement or premium. The deliveries are all of
/// the season's, for earlier ones use up the contract. `grown` is the area that they come from, or
/// are still to come from; a contract by area needs it. Problems: as for one load, all loads' at
/// once.
Result<SettledSeason> settle_season(const Terms& terms, std::span<const Delivery> deliveries,
                                    Area grown = Area());

}  // namespace beetwright::worth
