// What was seen in each field itself, and what stands in where nothing was.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "ledger/amounts.hpp"
#include "ledger/season.hpp"

namespace beetwright::ledger {

/// The amounts measured in one field; empty where nobody looked.
struct MeasuredField {
    std::array<std::optional<AmountEvidence>, kAmountCount> measured;
    MassBasis mass_basis = MassBasis::standing;
    TailShape tail_shape;
    ScarShape scar_shape;  ///< where `deep_scars` was measured
};

/// Every field of the season, in its order.
std::vector<MeasuredField> measure_fields(const Season& season, const Catalogue& catalogue);

/// The catalogue's published or assumed stand-in for an amount.
AmountEvidence published_amount(Amount amount, const Catalogue& catalogue);

}  // namespace beetwright::ledger
