// The demo season's piles: how they are laid out, what was put on them, read in them and taken
// away.
#pragma once

#include <cstdint>
#include <span>

#include "demo_season/reading.hpp"
#include "demo_season/truth.hpp"
#include "ledger/season.hpp"

namespace beetwright::demo {

/// To a season with its fields, destinations, loads and weather. Each pile is as long as what its
/// fields deliver fills, and a little more, and loads of one that is built from an end lie one
/// behind the other. What probes read is what the physics of piles has there in a hidden, well kept
/// pile (hidden_pile.hpp), with an error of each place (0.4 K) and one of each reading (0.3 K).
void add_piles(std::span<const FieldTruth> truth, std::uint64_t seed, const Reader& reader,
               const LossPhysics& physics, ledger::Season& season);

}  // namespace beetwright::demo
