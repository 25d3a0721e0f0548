// The ledger drawn: sugar falls from the standing crop as a band as wide as its mass; at each stage
// a part as wide as the loss peels off to the side.
#pragma once

#include <string>

#include "io/people_units.hpp"
#include "ledger/ledger.hpp"

namespace beetwright::io {

/// Two SVG elements, one for wide pages and one for phones, of classes `wide` and `narrow`; the
/// page shows one of them. `id` names it within its page (letters, digits, hyphens). The table
/// beside it says the same in words, so the drawing is described briefly.
std::string falling_band_svg(const ledger::Account& account, const PeopleUnits& units,
                             const std::string& id);

/// Text safe inside HTML and SVG, and within quotes.
std::string escaped(std::string_view text);

}  // namespace beetwright::io
