// Makes of a season file what an older version of the program would have left.
#pragma once

#include <array>
#include <string>

#include "ledger/season.hpp"
#include "records/migrations.hpp"

namespace beetwright::records {

/// What takes each version's part out again: the first is version 2's. Version 1 stays.
inline constexpr std::array<const char*, kNewestVersion - 1> kTakenOut{
    "ALTER TABLE loads DROP COLUMN supersedes;",
    "DROP TABLE audit; DROP TABLE invitations; DROP TABLE sessions; DROP TABLE people;",
    "DROP TABLE received; DROP TABLE revision;",
    "DROP TABLE photos; ALTER TABLE invitations DROP COLUMN at_start;",
    "ALTER TABLE invitations DROP COLUMN person;",
    "DROP TABLE crowns; DROP TABLE standing_looks; DROP TABLE soils;"
    "ALTER TABLE machines DROP COLUMN wheel_load; ALTER TABLE machines DROP COLUMN tyre_pressure;"
    "ALTER TABLE machines DROP COLUMN tyre_width; ALTER TABLE machines DROP COLUMN tyre_diameter;",
    "DROP TABLE weather_hours; DROP TABLE weather_series;"
    "ALTER TABLE revision DROP COLUMN weather;"};

/// What of a season a file of a version before 7 can hold.
inline ledger::Season before_version_7(ledger::Season season) {
    season.standing.clear();
    season.soils.clear();
    for (auto& machine : season.machines) {
        machine.heaviest_wheel = {};
    }
    return season;
}

/// The newest goes first, as it may stand on those before it.
inline Result<Done> take_back_to(std::int64_t version, const std::string& path) {
    auto database = Database::open(path, Access::write);
    if (!database) {
        return database.problems();
    }
    std::string sql;
    for (std::int64_t newer = kNewestVersion; newer > version; --newer) {
        sql += kTakenOut[static_cast<std::size_t>(newer - 2)];
    }
    return database->execute(sql + "PRAGMA user_version = " + std::to_string(version));
}

}  // namespace beetwright::records
