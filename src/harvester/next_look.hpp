// Which look would be worth most before anything is changed: what it is expected to gain by leading
// to better changes.
//
// docs/methods/harvester_advice.md.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "harvester/advice.hpp"
#include "harvester/likelihood.hpp"

namespace beetwright::harvester {

/// Looks that a crew can take in some ten minutes.
enum class LookAt : std::uint8_t {
    tank,             ///< fifty beets: crowns and tails
    before_cleaning,  ///< thirty beets from the roller bed: tails
    row,              ///< thirty crowns, topped, before the shares
    furrow,           ///< a strip of 10 m2, dug and searched
    tare,             ///< a tare sample
};
inline constexpr std::size_t kLooks = 5;
std::string_view words(LookAt look);

struct WorthOfLook {
    LookAt look = LookAt::tank;
    double worth = 0.0;  ///< [money/m2] expected, over deciding without it
};

/// Of each look, the dearest first: the expectation of the best change's gain once the look has
/// been seen, less that of the best change now. Gains are regressed on what would be seen (Strong,
/// Oakley, Brennan and Breeze 2015, Med. Decis. Making 35:570-583).
std::vector<WorthOfLook> worth_of_looks(const Situation& situation, const Ground& ground,
                                        std::span<const Tried> changes, const SightConstants& sight,
                                        std::uint64_t seed);

}  // namespace beetwright::harvester
