// A field's ground as a map on a screen needs it. docs/formats/api.md.
#pragma once

#include <string>

#include "engine/zones_question.hpp"
#include "ground/area.hpp"
#include "ground/surface.hpp"
#include "io/json.hpp"
#include "ledger/machine.hpp"
#include "maps/kept_zones.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

double area_ha(const ground::Area& area);

/// Its outline and its size.
io::Json border_json(const ground::Area& border);
/// Each zone with its outline, and its settings as this machine's operator reads them. A control
/// that the machine no longer has is left out.
io::Json zones_kept_json(const KeptZones& kept, const ledger::Machine* machine);
/// Heights cell by cell, in centimetres.
std::string relief_json(const std::string& field, const ground::Surface& surface);
/// What was worked out, with the outlines of its zones.
std::string zones_worked_out_json(const engine::ZonesAnswer& answer, const ZonePlan& plan,
                                  const std::string& currency);

}  // namespace beetwright::maps
