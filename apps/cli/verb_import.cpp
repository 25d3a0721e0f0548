#include <filesystem>
#include <memory>

#include "common.hpp"
#include "io/season_folder.hpp"
#include "records/season_file.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ImportOptions {
    std::string season;
    std::string folder;
};

/// What the season file holds already; nothing where it is not there yet.
Result<io::KnownIds> known_ids(const std::string& path) {
    std::error_code error;
    if (!std::filesystem::exists(path, error)) {
        return io::KnownIds{};
    }
    const auto file = records::SeasonFile::open(path, records::OpenMode::existing);
    if (!file) {
        return file.problems();
    }
    return file->known_ids();
}

Result<records::ImportReport> import_rows(const std::string& path,
                                          const io::SeasonReading& reading) {
    auto file = records::SeasonFile::open(path, records::OpenMode::create);
    if (!file) {
        return file.problems();
    }
    return file->import(reading.season, reading.places);
}

int import_folder(const ImportOptions& options) {
    const auto known = known_ids(options.season);
    if (!known) {
        return tell(known.problems());
    }
    const auto reading = io::read_season_folder_rows(options.folder, *known);
    if (!reading) {
        return tell(reading.problems());
    }
    std::error_code error;
    const bool was_there = std::filesystem::exists(options.season, error);
    const auto report = import_rows(options.season, *reading);
    if (!report) {
        if (!was_there) {
            remove_season_file(options.season);
        }
        return tell(report.problems());
    }
    std::fputs(report->text().c_str(), stdout);
    return 0;
}

struct ExportOptions {
    std::string season;
    std::string folder;
    std::string units;
};

int export_season(const ExportOptions& options) {
    auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    auto written =
        io::write_season_folder(*season, options.folder, chosen_units(options.units, *season));
    if (!written) {
        return tell(written.problems());
    }
    std::printf("Wrote the season's tables to %s\n", options.folder.c_str());
    return 0;
}

}  // namespace

void add_import(CommandLine& program) {
    auto options = std::make_shared<ImportOptions>();
    auto verb = program.verb("import", "Enter a folder of season tables in a season file");
    verb.option("--season", options->season, "the season file; made if it is not there").required();
    verb.option("folder", options->folder, "the folder of tables (docs/formats)").required();
    verb.does([options] { return import_folder(*options); });
}

void add_export(CommandLine& program) {
    auto options = std::make_shared<ExportOptions>();
    auto verb = program.verb("export", "Write a season's tables to a folder");
    verb.option("--season", options->season, "the season file").required();
    verb.option("folder", options->folder, "the folder to write to").required();
    verb.option("--units", options->units, "metric or us; else the season's own")
        .one_of({"metric", "us"});
    verb.does([options] { return export_season(*options); });
}

}  // namespace beetwright::cli
