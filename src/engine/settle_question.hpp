// What is paid for the loads that were weighed?
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "ledger/season.hpp"
#include "worth/settle.hpp"

namespace beetwright::engine {

struct SettleAnswer {
    worth::SettledSeason settled;
    std::vector<std::string>
        assumptions;  ///< what had to be taken for granted or left out, in sentences
};

/// Settles the season's loads by its terms: soil, tops, sugar content and molasses loss are the
/// means of the field's own samples. Only loads of `field`, if it is not empty, settled among all
/// of the season's: those delivered earlier use up the contract, and a contract by area covers all
/// fields alike. A haul that is not known is left out and said. Problems: no such field, no loads,
/// terms that do not pay yet.
Result<SettleAnswer> ask_settle(const ledger::Season& season, const std::string& field);

}  // namespace beetwright::engine
