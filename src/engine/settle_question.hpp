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
        assumptions;  ///< loads without tare or laboratory sample, in sentences
};

/// Settles the season's loads by its terms: soil, tops, sugar content and molasses loss are the
/// means of the field's own samples. Only loads of `field`, if it is not empty. Problems: no such
/// field, no loads, a field with loads but without a laboratory sample.
Result<SettleAnswer> ask_settle(const ledger::Season& season, const std::string& field);

}  // namespace beetwright::engine
