// Why a line is as unsure as it is: its footing in what was counted, and the constant or the count
// that most of its variance comes from.
#pragma once

#include "ledger/account.hpp"

namespace beetwright::ledger {

/// Enters what each line of a single field's account rests on, and the evidence in words.
void enter_footing(const FieldQuestion& question, Account& account);

/// Enters the largest contributor of each line: the counted amount or constant whose scores
/// correlate most with the line over the draws; its share is the squared correlation. Ends early
/// once `steps` are stopped.
void enter_contributors(const Model& model, const FieldQuestion& question, const LineDraws& draws,
                        Account& account, Steps* steps = nullptr);

}  // namespace beetwright::ledger
