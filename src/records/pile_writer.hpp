// Writing piles into a season file, with their fans.
#pragma once

#include <span>

#include "ledger/pile_site.hpp"
#include "records/writing.hpp"

namespace beetwright::records {

class PileWriter : private Writing {
 public:
    explicit PileWriter(const Database& database) : Writing(database) {}

    /// Within the caller's transaction. A pile takes the place of the one of its name; its fans all
    /// take the place of those that it had, unless there are none. False once something has failed;
    /// problems() says what.
    bool write(std::span<const ledger::PileSite> piles);

    using Writing::problems;

 private:
    bool write_sites(std::span<const ledger::PileSite> piles);
    bool write_fans(std::span<const ledger::PileSite> piles);
};

}  // namespace beetwright::records
