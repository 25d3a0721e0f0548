// What other fields say about a field where nobody counted.
#pragma once

#include <optional>
#include <span>

#include "num/uncertain.hpp"

namespace beetwright::ledger {

/// The predictive distribution of one more member of the group that these estimates come from:
/// their random-effects mean, with the spread between members and the error of the mean
/// (DerSimonian and Laird 1986, Controlled Clinical Trials 7:177-188). Empty with fewer than
/// `least` estimates (at least 2).
std::optional<num::Uncertain> predict_another(std::span<const num::Uncertain> estimates,
                                              std::size_t least);

}  // namespace beetwright::ledger
