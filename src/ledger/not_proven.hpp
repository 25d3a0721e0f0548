// What the counts of a field do not yet prove, in sentences.
#pragma once

#include <string>
#include <vector>

#include "ledger/ledger.hpp"

namespace beetwright::ledger {

/// Sentences such as "Tails broken and left: no broken tails were counted here; the figure is
/// published elsewhere and may be far off.", the line whose uncertainty costs most first.
std::vector<std::string> not_proven(const Account& account);

}  // namespace beetwright::ledger
