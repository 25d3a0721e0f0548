// How much of a root's surface a cut, a break or an abrasion opens. docs/methods/wound.md.
#pragma once

#include <numbers>

#include "base/quantity.hpp"

namespace beetwright::beet {

/// A level cut or a clean break is a disc as wide as its diameter.
constexpr Area disc(Length diameter) {
    return (0.25 * std::numbers::pi) * (diameter * diameter);
}

struct Wounds {
    Area topping_cut = Area::zero();
    Area tail_break = Area::zero();
    Area torn_skin = Area::zero();

    [[nodiscard]] constexpr Area total() const { return topping_cut + tail_break + torn_skin; }
    /// Share of the root's surface that is open, at most 1.
    [[nodiscard]] constexpr double share_of(Area surface) const {
        const double share = total() / surface;
        return share < 1.0 ? share : 1.0;
    }
};

}  // namespace beetwright::beet
