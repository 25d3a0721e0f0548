// Observations as the harvester's room reads them.
#pragma once

#include "base/catalogue.hpp"
#include "check/sheet.hpp"
#include "harvester/look.hpp"

namespace beetwright::engine {

/// Beets of one spot are alike: they count for less than as many from as many spots.
harvester::Look look_of(const check::BeetSheet& sheet, const Catalogue& catalogue);
harvester::Look look_of(const check::DugStrip& strip);
harvester::Look look_of(const check::TareSample& tare);

/// Beets judged for anything, as many as they count for.
double beets_of(const harvester::Look& look);

}  // namespace beetwright::engine
