#include "ledger/machine.hpp"

#include <algorithm>

namespace beetwright::ledger {

const OwnControl* Machine::find(std::string_view control) const {
    const auto found = std::ranges::find(controls, control, &OwnControl::control);
    return found == controls.end() ? nullptr : &*found;
}

}  // namespace beetwright::ledger
