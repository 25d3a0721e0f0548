#include "records/audit.hpp"

namespace beetwright::records {

Result<Done> note(const Database& database, const AuditEntry& entry) {
    auto statement =
        database.prepare("INSERT INTO audit (at, person, what, about) VALUES (?, ?, ?, ?)");
    if (!statement) {
        return statement.problems();
    }
    statement->bind(std::int64_t{entry.at.time_since_epoch().count()}).bind(entry.person);
    statement->bind(std::string_view(entry.what)).bind(std::string_view(entry.about));
    return statement->run();
}

}  // namespace beetwright::records
