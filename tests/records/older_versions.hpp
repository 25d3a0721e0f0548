// Makes of a season file what an older version of the program would have left.
#pragma once

#include <array>
#include <string>
#include <utility>

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
    "ALTER TABLE revision DROP COLUMN weather;",
    "DROP TABLE part_changes; DROP TABLE set_controls; DROP TABLE settings_notes;"
    "DROP TABLE dial_points; DROP TABLE controls;"
    "ALTER TABLE machines DROP COLUMN build; ALTER TABLE machines DROP COLUMN hour_cost;"
    "ALTER TABLE standing_looks DROP COLUMN soil_in_hand;"
    "ALTER TABLE standing_looks DROP COLUMN crown_height;"
    "ALTER TABLE standing_looks DROP COLUMN evenness;"
    "ALTER TABLE standing_looks DROP COLUMN plants;"
    "ALTER TABLE standing_looks DROP COLUMN root_mass;",
    "DROP TABLE pile_removals; DROP TABLE probe_readings; DROP TABLE cover_changes;"
    "DROP TABLE fans; DROP TABLE piles;"
    "ALTER TABLE loads DROP COLUMN along_from; ALTER TABLE loads DROP COLUMN along_to;",
    "DROP TABLE places; DROP TABLE ground_parts; ALTER TABLE revision DROP COLUMN ground;"};

/// What of a season a file of a version before 11 can hold.
inline ledger::Season before_version_11(ledger::Season season) {
    season.places.clear();
    return season;
}

/// What of a season a file of a version before 10 can hold. Loads that did not say where they were
/// tipped are still there.
inline ledger::Season before_version_10(ledger::Season later) {
    auto season = before_version_11(std::move(later));
    season.piles.clear();
    season.covers.clear();
    season.probes.clear();
    season.removals.clear();
    for (auto& load : season.loads) {
        load.stretch = {};
    }
    return season;
}

/// What of a season a file of a version before 9 can hold. Looks that said nothing else are still
/// there.
inline ledger::Season before_version_9(ledger::Season later) {
    auto season = before_version_10(std::move(later));
    season.settings.clear();
    season.parts.clear();
    for (auto& machine : season.machines) {
        machine.build.reset();
        machine.hour_cost = {};
        machine.controls.clear();
    }
    for (auto& look : season.standing) {
        look.soil_in_hand = check::SoilInHand::not_judged;
        look.crown_height = {};
        look.evenness = check::Evenness::not_judged;
        look.plants = {};
        look.root_mass = {};
    }
    return season;
}

/// What of a season a file of a version before 7 can hold.
inline ledger::Season before_version_7(ledger::Season later) {
    auto season = before_version_9(std::move(later));
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
