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
#include <string>
#include <vector>

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "ledger/season.hpp"
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

class SeasonFile {
 public:
    static Result<SeasonFile> open(const std::string& path, OpenMode mode);

    /// `places`: where the observations' rows stand, for problems.
    Result<ImportReport> import(const ledger::Season& season, const io::RowPlaces& places = {});
    [[nodiscard]] Result<ledger::Season> load() const;
    /// Another number whenever somebody else has changed the file since the last one was asked for.
    [[nodiscard]] Result<std::int64_t> version() const;
    /// The ids of all observations, which a folder to be imported may correct.
    [[nodiscard]] Result<io::KnownIds> known_ids() const;

 private:
    explicit SeasonFile(Database database) : database_(std::move(database)) {}
    Database database_;
};

}  // namespace beetwright::records
