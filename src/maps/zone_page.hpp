// Zones on a sheet of paper, for the cab and the office wall: a map to scale, what is set in each
// zone, and what to mind. docs/guide/zones.md.
#pragma once

#include <string>
#include <vector>

#include "engine/zones_question.hpp"
#include "maps/relief_lines.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// What a plan does not say of itself.
struct ZonePageFacts {
    UnitSystem units = UnitSystem::metric;
    std::string currency = {};  ///< "EUR"
    std::string machine = {};
    Instant at{};                               ///< when it was worked out
    std::vector<engine::ZoneFound> found = {};  ///< what each zone pays, by its number; or none
    std::vector<std::string> cautions = {};
    std::vector<std::string> assumptions = {};
    ReliefLines relief = {};  ///< or none
};

/// What an answer says beside its plan.
ZonePageFacts page_facts(const engine::ZonesAnswer& answer, const ground::Surface& surface,
                         const std::string& currency, UnitSystem units);

/// One page of HTML by itself, written as XML, for A4 and US letter, in black and white as well.
std::string zone_page(const ZonePlan& plan, const ZonePageFacts& facts);

}  // namespace beetwright::maps
