// The weighed loads of the demo season: one ticket per truck and day.
#pragma once

#include <vector>

#include "base/quantity.hpp"
#include "demo_season/observe.hpp"
#include "ledger/season.hpp"

namespace beetwright::demo {

/// Adds the tickets that carry away all that was delivered from this field, as the weighbridge read
/// it: 3 to 12 of them, each a day's loads of 25-30 t of one truck.
void add_loads(const Look& look, Area field_area, std::vector<ledger::Load>& loads);

/// Numbers the tickets in the order of the loads.
void number_tickets(std::vector<ledger::Load>& loads);

}  // namespace beetwright::demo
