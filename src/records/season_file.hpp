// The season file: one SQLite database that holds a season.
//
// An import is one transaction: it is whole or it did not happen, whatever stops it. Observations
// are kept by their id: the same one again is known already, one that was edited is a conflict and
// nothing is imported (edited_rows.hpp has the rule, for rows without an id too); a correction is a
// new observation that supersedes the old.
// Fields, machines, destinations and terms may be changed by a later import.
// docs/formats/season_file.md.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "io/sync_json.hpp"
#include "io/table.hpp"
#include "io/weather_season.hpp"
#include "ledger/season.hpp"
#include "records/audit.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

enum class OpenMode { create, existing, read_only };

/// What an import brought, by kind of observation.
struct ImportReport {
    struct Row {
        std::string what;  ///< "sheets of counted beets"
        std::int64_t new_rows = 0;
        std::int64_t known = 0;  ///< imported before, unchanged
    };
    std::vector<Row> rows;
    [[nodiscard]] std::string text() const;
};

/// Observations that somebody sent: `observations` holds these and nothing else.
struct Submission {
    ledger::Season observations;
    std::string by;  ///< who sent them; empty: not known
    Instant at{};    ///< when they arrived
};

/// What became of a submission.
struct Receipt {
    std::vector<Uuid> fresh;  ///< those that the season did not have
    std::int64_t known = 0;   ///< those that it had, the same
};

struct Appended {
    std::vector<Result<Receipt>> receipts;  ///< for each submission, in their order
    std::int64_t revision = 0;              ///< that they made; 0: nothing was new
};

/// The season as it stood at a revision.
struct Loaded {
    ledger::Season season;
    std::int64_t revision = 0;
    std::int64_t weather_revision = 0;  ///< at which the weather last changed
};

class SeasonFile {
 public:
    static Result<SeasonFile> open(const std::string& path, OpenMode mode);

    /// `places`: where the observations' rows stand, for problems.
    Result<ImportReport> import(const ledger::Season& season, const io::RowPlaces& places = {});
    /// The same for a season that was loaded from the file and in which somebody set something: its
    /// facts, temperatures and own constants take the place of all that the file has. Who did what
    /// is noted with it, both or neither.
    Result<ImportReport> set(const ledger::Season& season, const AuditEntry& by);
    /// Takes out a field, a machine, a soil, or a destination with its temperatures, and notes who
    /// did. Problems: there is none of this name; something that was seen, or a field, names it.
    Result<Done> remove(io::Master master, const std::string& name, const AuditEntry& by);
    /// Calls one otherwise, and so do the fields that name it, and notes who did. Problems: there
    /// is none of this name; another has the new one; something that was seen names it, for that is
    /// never edited.
    Result<Done> rename(io::Master master, const std::string& name, const std::string& to,
                        const AuditEntry& by);
    /// Puts the parts of the weather that are given in the place of those in the file, and notes
    /// who did.
    Result<Done> set_weather(const weather::KnownWeather& weather, const AuditEntry& by);
    /// Takes a part out, and notes who did. Problems: there is none.
    Result<Done> remove_weather(io::WeatherPart part, const AuditEntry& by);
    /// Adds submissions, each whole or not at all, in one transaction: when it returns, those that
    /// were taken survive a power cut, and one that is sent again is known. Problems: an id that
    /// the season has with other content, a correction of what it does not hold or of what was
    /// corrected before.
    Appended append(std::span<const Submission> submissions);
    [[nodiscard]] Result<std::vector<io::Received>> received() const;
    [[nodiscard]] Result<ledger::Season> load() const;
    [[nodiscard]] Result<Loaded> load_with_revision() const;
    /// Rises with every change of the season, by whomever.
    [[nodiscard]] Result<std::int64_t> revision() const;
    /// Copies the season file, as it is at this moment, to a file that is not there yet; others may
    /// write to it the while. The copy is whole, looked through and safe on the disk, or not there.
    [[nodiscard]] Result<Done> back_up(const std::string& to) const;
    /// The ids of all observations, which a folder to be imported may correct.
    [[nodiscard]] Result<io::KnownIds> known_ids() const;

 private:
    explicit SeasonFile(Database database) : database_(std::move(database)) {}
    Database database_;
};

}  // namespace beetwright::records
