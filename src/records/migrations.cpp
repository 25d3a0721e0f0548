#include "records/migrations.hpp"

#include <array>
#include <string>

namespace beetwright::records {
namespace {

// Masses in kg, lengths in m, areas in m2, contents in kg/kg and mol/kg, temperatures in K, money
// in the season's currency; instants in ms since 1970 UTC, days in days since 1970. NULL: not
// judged, not known. `content` is a hash of all else in an observation: the same id with another
// content is a conflict.
constexpr const char* kVersion1 = R"sql(
CREATE TABLE season (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    name TEXT NOT NULL, currency TEXT NOT NULL, units INTEGER NOT NULL, first_day INTEGER NOT NULL,
    seed INTEGER NOT NULL, terms TEXT NOT NULL
) STRICT;
CREATE TABLE fields (
    position INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, grower TEXT NOT NULL, area REAL NOT NULL,
    soil TEXT NOT NULL, variety TEXT NOT NULL, machine TEXT NOT NULL, operator TEXT NOT NULL,
    destination TEXT NOT NULL, haul REAL, yield REAL, yield_low REAL, yield_high REAL,
    lifted INTEGER, sliced INTEGER
) STRICT;
CREATE TABLE machines (
    position INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, rows INTEGER NOT NULL,
    row_spacing REAL
) STRICT;
CREATE TABLE destinations (
    position INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, kind INTEGER NOT NULL
) STRICT;
CREATE TABLE temperatures (
    destination TEXT NOT NULL, day INTEGER NOT NULL, mean REAL NOT NULL,
    PRIMARY KEY (destination, day)
) STRICT, WITHOUT ROWID;
CREATE TABLE replacements (
    position INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, value REAL NOT NULL, low REAL NOT NULL,
    high REAL NOT NULL, why TEXT NOT NULL
) STRICT;
CREATE TABLE loads (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL,
    field TEXT NOT NULL, at INTEGER NOT NULL, destination TEXT NOT NULL, ticket TEXT NOT NULL,
    gross REAL NOT NULL
) STRICT;
CREATE TABLE beet_sheets (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, machine TEXT NOT NULL, operator TEXT NOT NULL, at INTEGER NOT NULL,
    seen_at INTEGER NOT NULL
) STRICT;
CREATE TABLE beets (
    sheet INTEGER NOT NULL REFERENCES beet_sheets (position), number INTEGER NOT NULL,
    spot INTEGER NOT NULL, topping INTEGER NOT NULL, scar REAL, tip_from REAL, tip_to REAL,
    skin_damage REAL, rot INTEGER NOT NULL, frost INTEGER NOT NULL,
    PRIMARY KEY (sheet, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE strips (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, machine TEXT NOT NULL, at INTEGER NOT NULL, area REAL NOT NULL,
    whole_roots REAL, pieces REAL, tails REAL
) STRICT;
CREATE TABLE tares (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, at INTEGER NOT NULL, gross REAL NOT NULL, soil REAL, tops REAL
) STRICT;
CREATE TABLE labs (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, at INTEGER NOT NULL, pol REAL, potassium REAL, sodium REAL,
    amino_nitrogen REAL
) STRICT;
)sql";

// Loads can be corrected as all else.
constexpr const char* kVersion2 = "ALTER TABLE loads ADD COLUMN supersedes BLOB;";

// People who work on the season over the network. Of tokens only hashes are kept, so that whoever
// reads the file cannot sign in with what stands in it. Names are one whether written large or
// small, which SQLite knows of a to z alone.
constexpr const char* kVersion3 = R"sql(
CREATE TABLE people (
    id BLOB PRIMARY KEY NOT NULL, name TEXT NOT NULL UNIQUE COLLATE NOCASE, role INTEGER NOT NULL,
    password TEXT NOT NULL, created INTEGER NOT NULL, active INTEGER NOT NULL
) STRICT;
CREATE TABLE sessions (
    token_hash BLOB PRIMARY KEY NOT NULL, person BLOB NOT NULL REFERENCES people (id),
    created INTEGER NOT NULL, seen INTEGER NOT NULL, expires INTEGER NOT NULL
) STRICT;
CREATE TABLE invitations (
    token_hash BLOB PRIMARY KEY NOT NULL, role INTEGER NOT NULL, name_hint TEXT NOT NULL,
    made_by BLOB REFERENCES people (id), created INTEGER NOT NULL, expires INTEGER NOT NULL,
    used_by BLOB REFERENCES people (id)
) STRICT;
CREATE TABLE audit (
    position INTEGER PRIMARY KEY, at INTEGER NOT NULL, person BLOB REFERENCES people (id),
    what TEXT NOT NULL, about TEXT NOT NULL
) STRICT;
)sql";

// What came over the network says from whom and when; `revision` counts changes of the season, so
// that programs that keep it open know when to read it anew.
constexpr const char* kVersion4 = R"sql(
CREATE TABLE received (
    observation BLOB PRIMARY KEY, by TEXT NOT NULL, at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE revision (one INTEGER PRIMARY KEY CHECK (one = 1), number INTEGER NOT NULL) STRICT;
INSERT INTO revision VALUES (1, 0);
)sql";

// Photographs, kept beside what was seen: `bytes` last, so that lists do not read through them. An
// invitation for the first owner, which each start of the server makes anew, is told from one made
// on the command line, which no start may void.
constexpr const char* kVersion5 = R"sql(
CREATE TABLE photos (
    id BLOB PRIMARY KEY NOT NULL, observation BLOB NOT NULL, field TEXT NOT NULL,
    at INTEGER NOT NULL, by TEXT NOT NULL, type TEXT NOT NULL, bytes BLOB NOT NULL
) STRICT;
CREATE INDEX photos_of_field ON photos (field);
ALTER TABLE invitations ADD COLUMN at_start INTEGER NOT NULL DEFAULT 0;
UPDATE invitations SET at_start = 1 WHERE made_by IS NULL;
)sql";

// A link that lets somebody who is there choose a new password, rather than somebody else join.
constexpr const char* kVersion6 =
    "ALTER TABLE invitations ADD COLUMN person BLOB REFERENCES people (id);";

// Looks at crops that still stand, the wheels of machines, and what soils hold. A crown's height
// has a row, as a counted beet has: SQLite then keeps every bit of it and answers for its type,
// where a text would be ours to take apart. `spots` 0: not said.
constexpr const char* kVersion7 = R"sql(
CREATE TABLE standing_looks (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, at INTEGER NOT NULL, spots INTEGER NOT NULL, area REAL, roots REAL,
    pol REAL, potassium REAL, sodium REAL, amino_nitrogen REAL, leaf_sick REAL,
    leaf_frozen INTEGER NOT NULL
) STRICT;
CREATE TABLE crowns (
    look INTEGER NOT NULL REFERENCES standing_looks (position), number INTEGER NOT NULL,
    height REAL NOT NULL, PRIMARY KEY (look, number)
) STRICT, WITHOUT ROWID;
ALTER TABLE machines ADD COLUMN wheel_load REAL;
ALTER TABLE machines ADD COLUMN tyre_pressure REAL;
ALTER TABLE machines ADD COLUMN tyre_width REAL;
ALTER TABLE machines ADD COLUMN tyre_diameter REAL;
CREATE TABLE soils (
    position INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, class INTEGER, holds REAL,
    stop_filling REAL, drains_to REAL, drain_lag REAL, rain_stop REAL
) STRICT;
)sql";

// Weather: `part` is 0 observed, 1 forecast, 2 usual; latitude and longitude in radians, elevation
// in m, `clock` in minutes ahead of UTC, `begin` of the first hour. Hours hold means, in SI but
// rain, which is the hour's sum in mm; NULL: not in the series. `revision` is that of the season
// when the weather last changed.
constexpr const char* kVersion8 = R"sql(
CREATE TABLE weather_series (
    position INTEGER PRIMARY KEY, part INTEGER NOT NULL, run INTEGER NOT NULL, name TEXT NOT NULL,
    latitude REAL NOT NULL, longitude REAL NOT NULL, elevation REAL NOT NULL,
    clock INTEGER NOT NULL, begin INTEGER NOT NULL, UNIQUE (part, run)
) STRICT;
CREATE TABLE weather_hours (
    series INTEGER NOT NULL REFERENCES weather_series (position), hour INTEGER NOT NULL,
    is_filled INTEGER NOT NULL, air REAL NOT NULL, dew_point REAL, humidity REAL, pressure REAL,
    wind REAL, rain REAL, global REAL, direct REAL, diffuse REAL, sky REAL, cloud REAL, snow REAL,
    PRIMARY KEY (series, hour)
) STRICT, WITHOUT ROWID;
ALTER TABLE revision ADD COLUMN weather INTEGER NOT NULL DEFAULT 0;
)sql";

// Machines as they are made and set: `build` NULL where it is not said, `hour_cost` in money per
// second. Of a control NULL means as usual for the build; amounts are SI, a choice its number. What
// a crew wrote down of it: settings, a row a control, and new parts. Looks at standing crops say
// more.
constexpr const char* kVersion9 = R"sql(
ALTER TABLE machines ADD COLUMN build INTEGER;
ALTER TABLE machines ADD COLUMN hour_cost REAL;
CREATE TABLE controls (
    position INTEGER PRIMARY KEY, machine TEXT NOT NULL, control TEXT NOT NULL,
    fitted INTEGER NOT NULL, hands_off INTEGER NOT NULL, least REAL, most REAL, step REAL,
    usual REAL, display_step REAL, UNIQUE (machine, control)
) STRICT;
CREATE TABLE dial_points (
    machine TEXT NOT NULL, control TEXT NOT NULL, number INTEGER NOT NULL, shown REAL NOT NULL,
    actual REAL NOT NULL, measured INTEGER, PRIMARY KEY (machine, control, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE settings_notes (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    machine TEXT NOT NULL, field TEXT NOT NULL, at INTEGER NOT NULL, answer INTEGER NOT NULL
) STRICT;
CREATE TABLE set_controls (
    note INTEGER NOT NULL REFERENCES settings_notes (position), number INTEGER NOT NULL,
    control TEXT NOT NULL, value REAL NOT NULL, PRIMARY KEY (note, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE part_changes (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    machine TEXT NOT NULL, at INTEGER NOT NULL, stage INTEGER NOT NULL, what TEXT NOT NULL
) STRICT;
ALTER TABLE standing_looks ADD COLUMN soil_in_hand INTEGER NOT NULL DEFAULT 0;
ALTER TABLE standing_looks ADD COLUMN crown_height REAL;
ALTER TABLE standing_looks ADD COLUMN evenness INTEGER NOT NULL DEFAULT 0;
ALTER TABLE standing_looks ADD COLUMN plants REAL;
ALTER TABLE standing_looks ADD COLUMN root_mass REAL;
)sql";

// Piles as they are laid out: `orientation` in radians from north through east; of a fan what is
// NULL is not said, and its stretch reaches to the pile's end. What was seen of them: covers,
// temperatures, what was taken away. Loads say where in a pile they were tipped.
constexpr const char* kVersion10 = R"sql(
CREATE TABLE piles (
    position INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, base_width REAL NOT NULL,
    top_width REAL NOT NULL, height REAL NOT NULL, length REAL NOT NULL, orientation REAL,
    ground INTEGER, built INTEGER
) STRICT;
CREATE TABLE fans (
    pile TEXT NOT NULL, number INTEGER NOT NULL, along_from REAL, along_to REAL, flow REAL NOT NULL,
    pressure REAL, power REAL, rule INTEGER NOT NULL, difference REAL, not_below REAL,
    only_below REAL, PRIMARY KEY (pile, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE cover_changes (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    pile TEXT NOT NULL, at INTEGER NOT NULL, along_from REAL, along_to REAL, cover INTEGER NOT NULL
) STRICT;
CREATE TABLE probe_readings (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    pile TEXT NOT NULL, at INTEGER NOT NULL, probe TEXT NOT NULL, kind INTEGER NOT NULL,
    along REAL NOT NULL, across REAL NOT NULL, height REAL NOT NULL, temperature REAL NOT NULL
) STRICT;
CREATE TABLE pile_removals (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    pile TEXT NOT NULL, at INTEGER NOT NULL, along_from REAL, along_to REAL, gross REAL
) STRICT;
ALTER TABLE loads ADD COLUMN along_from REAL;
ALTER TABLE loads ADD COLUMN along_to REAL;
)sql";

// What is kept of fields' ground: borders, heights and zones, as files or text that src/maps reads.
// The revision rises with each change of it, and with a field's name. And where in a field
// something was seen.
constexpr const char* kVersion11 = R"sql(
CREATE TABLE ground_parts (
    field TEXT NOT NULL, part INTEGER NOT NULL, source TEXT NOT NULL, at INTEGER NOT NULL, said TEXT NOT NULL,
    stamp INTEGER NOT NULL, bytes BLOB NOT NULL, PRIMARY KEY (field, part)
) STRICT;
ALTER TABLE revision ADD COLUMN ground INTEGER NOT NULL DEFAULT 0;
CREATE TABLE places (
    position INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, content INTEGER NOT NULL, supersedes BLOB,
    field TEXT NOT NULL, at INTEGER NOT NULL, of BLOB NOT NULL, spot INTEGER NOT NULL, latitude REAL NOT NULL,
    longitude REAL NOT NULL, accuracy REAL
) STRICT;
)sql";

constexpr std::array<const char*, kNewestVersion> kVersions{
    kVersion1, kVersion2, kVersion3, kVersion4,  kVersion5, kVersion6,
    kVersion7, kVersion8, kVersion9, kVersion10, kVersion11};

struct FileVersion {
    std::int64_t application = 0;
    std::int64_t version = 0;
    std::int64_t tables = 0;
};

Result<FileVersion> version_of(const Database& database) {
    FileVersion found;
    for (const auto& [sql, into] :
         {std::pair{"PRAGMA application_id", &found.application},
          std::pair{"PRAGMA user_version", &found.version},
          std::pair{"SELECT count(*) FROM sqlite_schema", &found.tables}}) {
        auto value = database.integer(sql);
        if (!value) {
            return value.problems();
        }
        *into = *value;
    }
    const Where where{.file = database.path(), .line = 0, .field = ""};
    const bool is_new = found.application == 0 && found.version == 0 && found.tables == 0;
    if (found.application != kApplicationId && !is_new) {
        return Problem{ProblemKind::input, where, "this database is not a season file",
                       "name one made by `beetwright import`"};
    }
    if (found.version > kNewestVersion) {
        return Problem{ProblemKind::input, where,
                       "this season file is of version " + std::to_string(found.version) +
                           "; this program knows versions up to " + std::to_string(kNewestVersion),
                       "use a newer beetwright; the file was left as it is"};
    }
    return found;
}

}  // namespace

Result<Done> check_version(const Database& database) {
    auto found = version_of(database);
    if (!found) {
        return found.problems();
    }
    if (found->version < kNewestVersion) {
        return Problem{
            ProblemKind::input,
            {.file = database.path(), .line = 0, .field = ""},
            found->version == 0 ? "this file is empty" : "this season file is of an older version",
            "open it once with `beetwright import`"};
    }
    return Done{};
}

Result<Done> migrate(const Database& database) {
    auto found = version_of(database);
    if (!found) {
        return found.problems();
    }
    for (std::int64_t version = found->version; version < kNewestVersion; ++version) {
        auto transaction = Transaction::begin(database);
        if (!transaction) {
            return transaction.problems();
        }
        std::string sql = kVersions[static_cast<std::size_t>(version)];
        sql += "PRAGMA application_id = " + std::to_string(kApplicationId) + ";";
        sql += "PRAGMA user_version = " + std::to_string(version + 1) + ";";
        if (auto done = database.execute(sql); !done) {
            return done.problems();
        }
        if (auto done = transaction->commit(); !done) {
            return done.problems();
        }
    }
    return Done{};
}

Result<Database> open_to_write(const std::string& path, Access access) {
    auto database = Database::open(path, access);
    if (!database) {
        return database;
    }
    // Looked at before anything is set, so that a stranger's or a newer file is left as it is.
    if (auto migrated = migrate(*database); !migrated) {
        return migrated.problems();
    }
    if (auto set = database->execute("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; "
                                     "PRAGMA foreign_keys = ON;");
        !set) {
        return set.problems();
    }
    return database;
}

}  // namespace beetwright::records
