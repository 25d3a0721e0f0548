// The payment terms of the demo season: invented, and not those of any buyer.
#pragma once

#include "demo_season/reading.hpp"
#include "worth/terms.hpp"

namespace beetwright::demo {

/// By recoverable sugar, so that every line of the ledger has its price; more for early and late
/// deliveries, less for soil and tops. Prices are round in the reader's units.
worth::Terms invented_terms(const Reader& reader);

}  // namespace beetwright::demo
