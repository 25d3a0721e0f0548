// What the receiver of a lifting machine wrote down in Hollow Oak: passes up and down over two
// knolls and a wide hollow, with heights that drift.
#pragma once

#include <cstdint>
#include <string>

namespace beetwright::demo {

/// A table of positions with heights, as docs/formats/maps.md has it.
std::string receivers_log(std::uint64_t seed);

}  // namespace beetwright::demo
