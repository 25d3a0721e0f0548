// What flow carries and what spreads between the cells of a box.
//
// Between a cell and the next passes  spread (v - v_next) + flow * v_face  with v_face the value on
// the side the flow comes from, led on towards the face by van Leer's slope: second order where v
// is smooth, and never beyond the values about it. (van Leer 1974, J. Comput. Phys. 14:361-370.)
#pragma once

#include <array>
#include <span>

#include "num/box.hpp"

namespace beetwright::num {

/// By direction, between a cell and the next; nought where nothing passes.
struct Passage {
    std::array<const double*, kDirections> spread{};  ///< [unit of v's carrier per time]
    std::array<const double*, kDirections> flow{};
    std::array<const double*, kDirections> open{};  ///< 1 where flow may pass, else 0
};

enum class Slopes { none, van_leer };

/// net += what comes into each cell. `slope` and `face` are scratch.
void add_carried(const Box& box, const Passage& passage, std::span<const double> value,
                 Slopes slopes, std::span<double> net, std::span<double> slope,
                 std::span<double> face);

/// net += only what the slopes add to what plain upstream values carry.
void add_slopes(const Box& box, const Passage& passage, std::span<const double> value,
                std::span<double> net, std::span<double> slope, std::span<double> face);

/// The same as a system's coefficients, for upstream values: what comes into a cell from the one
/// below and the one above it in this direction, per value there; and, added to `out`, what leaves
/// the cell per its own value.
void add_ways(const Box& box, Direction direction, std::span<const double> spread,
              std::span<const double> flow, std::span<double> from_low, std::span<double> from_high,
              std::span<double> out);

}  // namespace beetwright::num
