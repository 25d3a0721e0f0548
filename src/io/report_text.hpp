// The ledger on a terminal.
#pragma once

#include <span>
#include <string>

#include "io/people_units.hpp"
#include "ledger/ledger.hpp"

namespace beetwright::io {

/// One account: a row a line, what is left over, what makes it unsure, what is not proven. At most
/// 118 characters wide.
std::string ledger_text(const ledger::Account& account, const PeopleUnits& units);

/// When a single field was lifted and is sliced: "lifted 2031-10-04, sliced 2031-10-06 (2 days
/// later)"; of one that is not lifted yet, that it is not.
std::string days_words(const ledger::Account& account);

/// A row a field: standing, paid, and the loss that costs most.
std::string fields_text(std::span<const ledger::Account> fields, const PeopleUnits& units);

/// What standing crop less losses less the last line leaves, as people read it: "0" where that is
/// less than a billionth of the standing crop, which is rounding.
struct LeftOver {
    std::string beet;
    std::string sugar;
    std::string money;
};
LeftOver left_over_of(const ledger::Account& account, const PeopleUnits& units);

/// The loss that can be helped and costs most by the slicing day: not breathing, molasses,
/// processing, haul or dates, which nobody in the field can change.
const ledger::Entry& dearest_loss(const ledger::Account& account);
bool can_be_helped(ledger::Line line);

}  // namespace beetwright::io
