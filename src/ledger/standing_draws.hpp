// A field's state, draw by draw of a model: for whoever needs more of it than an account says.
#pragma once

#include <vector>

#include "ledger/account.hpp"
#include "ledger/model.hpp"
#include "ledger/standing.hpp"

namespace beetwright::ledger {

/// As many as the model has draws, in their order.
std::vector<Standing> standing_draws(const Model& model, const Field& field,
                                     const FieldAmounts& amounts);

}  // namespace beetwright::ledger
