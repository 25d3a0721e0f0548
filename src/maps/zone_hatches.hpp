// Hatches that tell zones apart on paper, without colour. Only the page of zones uses this.
#pragma once

#include <cstddef>
#include <string>

namespace beetwright::maps {

/// All hatches, for the definitions of a drawing.
std::string hatch_definitions();
/// What fills the zone at this place in its plan: url(#hatch-2). Of the first there is none, for it
/// is the field at large; after six they begin again, and numbers tell zones apart.
std::string hatch_fill(std::size_t place);
/// A small drawing of it, for the head of a table.
std::string hatch_swatch(std::size_t place);

}  // namespace beetwright::maps
