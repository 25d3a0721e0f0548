// What is paid for the loads that were weighed?
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "ledger/season.hpp"
#include "worth/settle.hpp"

namespace beetwright::engine {

/// Whose loads: all of the season's where both are empty.
struct SettleQuestion {
    std::string field;
    std::string grower;
};

struct SettleAnswer {
    worth::SettledSeason settled;
    std::vector<std::string> fields;  ///< of each settled load, whose field it came from
    std::vector<std::string>
        assumptions;  ///< what had to be taken for granted or left out, in sentences
};

/// Settles the season's loads by its terms: soil, tops, sugar content and molasses loss are the
/// means of the field's own samples. Only loads of one field or grower, if named, settled among
/// all of the season's: those delivered earlier use up the contract, and a contract by area covers
/// all fields alike. A haul that is not known is left out and said. Problems: no such field, no
/// loads, terms that do not pay yet.
Result<SettleAnswer> ask_settle(const ledger::Season& season, const SettleQuestion& question);
inline Result<SettleAnswer> ask_settle(const ledger::Season& season, const std::string& field) {
    return ask_settle(season, SettleQuestion{.field = field, .grower = {}});
}

}  // namespace beetwright::engine
