#include "records/season_file.hpp"

#include "records/migrations.hpp"
#include "records/observation_tables.hpp"

namespace beetwright::records {

Result<SeasonFile> SeasonFile::open(const std::string& path, OpenMode mode) {
    if (mode == OpenMode::read_only) {
        auto database = Database::open(path, Access::read);
        if (!database) {
            return database.problems();
        }
        if (auto checked = check_version(*database); !checked) {
            return checked.problems();
        }
        return SeasonFile(std::move(*database));
    }
    auto database = open_to_write(path, mode == OpenMode::create ? Access::create : Access::write);
    if (!database) {
        return database.problems();
    }
    return SeasonFile(std::move(*database));
}

Result<io::KnownIds> SeasonFile::known_ids() const {
    io::KnownIds known;
    for (std::size_t kind = 0; kind < io::kObservedKinds; ++kind) {
        auto& ids = known[kind];
        const auto read =
            for_each_row(database_, std::string("SELECT id FROM ") + kObservationTables[kind],
                         [&](const Statement& row) { ids.push_back(row.uuid(0)); });
        if (!read) {
            return read.problems();
        }
    }
    return known;
}

Result<std::int64_t> SeasonFile::revision() const {
    return database_.integer("SELECT number FROM revision");
}

Result<Loaded> SeasonFile::load_with_revision() const {
    // One transaction: what others write meanwhile belongs to the next revision.
    if (auto begun = database_.execute("BEGIN"); !begun) {
        return begun.problems();
    }
    const auto number = revision();
    const auto weather_number = database_.integer("SELECT weather FROM revision");
    auto season = load();
    if (auto ended = database_.execute("COMMIT"); !ended) {
        return ended.problems();
    }
    if (!number) {
        return number.problems();
    }
    if (!weather_number) {
        return weather_number.problems();
    }
    if (!season) {
        return season.problems();
    }
    return Loaded{std::move(*season), *number, *weather_number};
}

Result<std::vector<io::Received>> SeasonFile::received() const {
    std::vector<io::Received> all;
    const auto read =
        for_each_row(database_, "SELECT observation, by, at FROM received ORDER BY at",
                     [&](const Statement& row) {
                         io::Received one;
                         one.observation = row.uuid(0);
                         one.by = row.text(1);
                         one.at = Instant(std::chrono::milliseconds(row.integer(2)));
                         all.push_back(std::move(one));
                     });
    if (!read) {
        return read.problems();
    }
    return all;
}

}  // namespace beetwright::records
