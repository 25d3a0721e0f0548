// Writing machines into a season file, with their controls and dials.
#pragma once

#include <span>

#include "ledger/machine.hpp"
#include "records/writing.hpp"

namespace beetwright::records {

class MachineWriter : private Writing {
 public:
    explicit MachineWriter(const Database& database) : Writing(database) {}

    /// Within the caller's transaction. A machine and a control take the place of the one of their
    /// name; a control's points all take the place of those that it had, unless there are none.
    /// False once something has failed; problems() says what.
    bool write(std::span<const ledger::Machine> machines);

    using Writing::problems;

 private:
    bool write_machines(std::span<const ledger::Machine> machines);
    bool write_controls(std::span<const ledger::Machine> machines);
    bool write_dials(std::span<const ledger::Machine> machines);
};

}  // namespace beetwright::records
