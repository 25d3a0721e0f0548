// What people count, dig, weigh and have analysed in a field: the observations. They are never
// edited, only superseded by a later one that names the earlier.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::check {

/// How a crown came through topping. The six classes of the international assessment method, with
/// "crown untouched" for harvest by leaf removal alone, where no cut is wanted.
enum class Topping : std::uint8_t {
    not_judged,
    petioles_long,    ///< no cut, leaf stalks longer than 2 cm left
    petioles_short,   ///< no cut, leaf stalks up to 2 cm left
    correct,          ///< a level, smooth cut just under the leaf bases
    too_deep,         ///< cut into the root: over-topped
    slanted,          ///< cut at an angle
    crown_untouched,  ///< leaf off, crown whole
};
inline constexpr std::size_t kToppingClasses = 7;

/// The diameter of the break where the tail came off, known to lie in [from, to]. A measured
/// diameter has from == to; a class has its limits; a whole tail is [0, 0]. NaN: not judged.
struct TipBreak {
    Length from;
    Length to;
    [[nodiscard]] bool is_judged() const { return from.is_known(); }
    static TipBreak measured(Length diameter) { return {diameter, diameter}; }
};

enum class Seen : std::uint8_t { not_judged, no, yes };

struct CountedBeet {
    std::int32_t spot = 1;  ///< beets picked up at one place share a spot number
    Topping topping = Topping::not_judged;
    Length scar;  ///< diameter of the topping cut; NaN: not measured
    TipBreak tip;
    Area skin_damage;  ///< skin torn or abraded; NaN: not judged
    Seen rot = Seen::not_judged;
    Seen frost = Seen::not_judged;
};

/// Where on their way the beets were picked up. A fault is blamed by where it is first seen.
enum class SeenAt : std::uint8_t {
    tank,
    before_cleaning,
    pile,
    delivery,
    row,  ///< in the row, topped, before the shares: tails, skin and soil are not judged there
};

/// One sheet of counted beets.
struct BeetSheet {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string field;
    std::string machine;
    std::string operator_name;
    Instant at{};
    SeenAt seen_at = SeenAt::tank;
    std::vector<CountedBeet> beets;
};

/// A strip behind the harvester, searched and dug: what lay on and in that area.
struct DugStrip {
    Uuid id;
    Uuid supersedes;
    std::string field;
    std::string machine;
    Instant at{};
    Area area;
    CleanMass whole_roots;  ///< roots left in or thrown out, whole
    CleanMass pieces;       ///< broken pieces and cheeks
    CleanMass tails;        ///< tails found; the rest of them stays deeper than a search goes
};

/// A tare sample: what the weighed beets carried with them.
struct TareSample {
    Uuid id;
    Uuid supersedes;
    std::string field;
    Instant at{};
    MassWithSoil gross;
    Mass soil;
    Mass tops;  ///< leaf and crown that the buyer deducts; NaN: not determined
};

/// A laboratory's result on clean beet.
struct LabSample {
    Uuid id;
    Uuid supersedes;
    std::string field;
    Instant at{};
    SugarContent pol;
    AmountContent potassium;  ///< NaN: not determined, likewise the next two
    AmountContent sodium;
    AmountContent amino_nitrogen;
};

}  // namespace beetwright::check
