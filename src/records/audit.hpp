// Who did what about whom or what. An entry is written in the transaction of what it tells of, so
// that neither stands without the other.
#pragma once

#include <string>

#include "base/time.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

struct AuditEntry {
    Instant at;
    Uuid person;  ///< nil: nobody who was signed in
    std::string what;
    std::string about;
};

Result<Done> note(const Database& database, const AuditEntry& entry);

}  // namespace beetwright::records
