// What would come of settings, and what that is worth, over draws of what is known.
//
// The rooms do not know each other: what an outcome is worth at the end of the ledger is for
// whoever joins them to say. docs/methods/harvester_advice.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "base/result.hpp"
#include "base/unit.hpp"
#include "harvester/machine.hpp"
#include "harvester/outcome.hpp"
#include "harvester/parameter.hpp"
#include "harvester/settings.hpp"

namespace beetwright::harvester {

/// [money/m2] of one draw.
struct Earned {
    double paid = 0.0;  ///< for what is delivered, when it is sliced
    double fuel = 0.0;
    double time = 0.0;  ///< of machine and crew
    double risk = 0.0;  ///< that a buyer takes something off, or takes no load, for leaf

    [[nodiscard]] double total() const { return paid - fuel - time - risk; }
};
using Worth = std::function<Earned(const Outcome& outcome, std::size_t draw)>;

/// What people are told of an outcome.
enum class Figure : std::uint8_t {
    long_stalks,   ///< share of beets
    too_deep,      ///< share of beets
    tails_broken,  ///< share of beets, at over 2 cm
    whole_roots,   ///< [kg/m2]
    torn_skin,     ///< [m2] of a beet
    soil,          ///< [kg/kg clean]
    area_rate,     ///< [m2/s] of the field's time
    fuel,          ///< [m3/m2]
};
inline constexpr std::size_t kFigures = 8;
struct FigureTraits {
    std::string_view key;
    std::string_view words;
    UnitKind unit_kind;
};
const FigureTraits& traits(Figure figure);
double figure(const Outcome& outcome, Figure figure);
using Figures = std::array<Estimate<double>, kFigures>;

/// Mean and 5 and 95 % points. Where rare large draws carry the mean beyond a point, the interval
/// reaches to it, and holds more than nine in ten.
Estimate<double> summary(std::vector<double> draws);

/// Everything that settings are tried on.
struct Ground {
    const Machine& machine;
    const Conditions& conditions;
    const Catalogue& catalogue;
    std::span<const double> draws;  ///< of all parameters, kParameters each
    const Worth& worth;

    [[nodiscard]] std::size_t count() const { return draws.size() / kParameters; }
};

/// What settings come to, draw by draw.
struct Prospect {
    std::vector<Earned> earned;
    std::vector<Topped> topped;
};

/// `like`: of settings that top alike, whose topping need not be reckoned again; may be null.
Result<Prospect> prospect(const Settings& settings, const Ground& ground,
                          const Prospect* like = nullptr);

/// What people are told of settings, of whose prospect this is.
Figures figures(const Settings& settings, const Ground& ground, const Prospect& prospect);

/// Whether two settings meet crowns in the same way.
bool tops_alike(const Settings& one, const Settings& other, const Machine& machine);

}  // namespace beetwright::harvester
