#include <array>
#include <filesystem>
#include <fstream>
#include <optional>
#include <set>
#include <system_error>

#include "base/nearest_name.hpp"
#include "io/season_folder.hpp"
#include "io/season_tables.hpp"
#include "io/weather_season.hpp"

namespace beetwright::io {
namespace {

namespace fs = std::filesystem;

Problem outside(const fs::path& path, const char* what, const char* fix) {
    return {ProblemKind::outside, {.file = path.string(), .line = 0, .field = ""}, what, fix};
}

std::set<std::string> known_files() {
    std::set<std::string> names{"season.json", "terms.json"};
    for (const Table* table : season_tables()) {
        names.insert(std::string(table->file));
    }
    for (const auto part : kWeatherParts) {
        names.insert(file_of(part));
    }
    return names;
}

/// All of a file; nothing where it cannot be read to its end.
std::optional<std::string> bytes_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::string bytes;
    std::array<char, std::size_t{1} << 16U> part{};
    while (in.read(part.data(), static_cast<std::streamsize>(part.size())) || in.gcount() > 0) {
        bytes.append(part.data(), static_cast<std::size_t>(in.gcount()));
    }
    return in.is_open() && !in.bad() ? std::optional(std::move(bytes)) : std::nullopt;
}

/// Tables under names that nobody knows: each would pass for one that is not there.
Problems strangers(const std::string& folder, const FileTexts& known) {
    Problems problems;
    std::error_code error;
    // Not by a range-for: its steps throw where the folder can no longer be read.
    for (fs::directory_iterator entry(folder, error); entry != fs::directory_iterator();
         entry.increment(error)) {
        const auto& path = entry->path();
        const auto name = path.filename().string();
        if (path.extension() == ".csv" && !known.contains(name)) {
            problems.push_back({ProblemKind::input,
                                {.file = path.string(), .line = 0, .field = ""},
                                "no table of a season is called this",
                                did_you_mean(name, known_files()) +
                                    "Name it as docs/formats/season_folder.md has it, or move it "
                                    "away"});
        }
    }
    return problems;
}

}  // namespace

Result<ledger::Season> read_season_folder(const std::string& path) {
    auto reading = read_season_folder_rows(path, {});
    if (!reading) {
        return reading.problems();
    }
    return std::move(reading->season);
}

Result<SeasonReading> read_season_folder_rows(const std::string& path, const KnownIds& known) {
    std::error_code error;
    if (!fs::is_directory(path, error)) {
        return Problem{ProblemKind::missing,
                       {.file = path, .line = 0, .field = ""},
                       "there is no such folder",
                       "name the folder that holds season.json"};
    }
    FileTexts files;
    for (const auto& name : known_files()) {
        const fs::path file = fs::path(path) / name;
        if (!fs::exists(file, error)) {
            continue;
        }
        auto bytes = bytes_of(file);
        if (!bytes) {
            return outside(file, "this file could not be read",
                           "see that it is a file, and who may read it");
        }
        files[name] = std::move(*bytes);
    }
    // Places are told with the folder, so that they can be opened as they stand.
    const auto in_folder = [&](Where& where) {
        where.file = where.file.empty() ? "" : (fs::path(path) / where.file).string();
    };
    Problems problems = strangers(path, files);
    auto reading = read_season_rows(files, known);
    if (reading && problems.empty()) {
        for (auto& [id, where] : reading->places) {
            in_folder(where);
        }
        return reading;
    }
    if (!reading) {
        for (Problem problem : reading.problems()) {
            in_folder(problem.where);
            problems.push_back(std::move(problem));
        }
    }
    return problems;
}

Result<Done> write_season_folder(const ledger::Season& season, const std::string& path,
                                 UnitSystem system) {
    std::error_code error;
    fs::create_directories(path, error);
    if (error) {
        return outside(path, "this folder cannot be made", "see that its parent may be written");
    }
    auto files = write_season(season, system);
    if (season.weather != nullptr) {
        files.merge(write_known_weather(*season.weather, system));
    }
    for (const auto& name : known_files()) {
        if (!files.contains(name) && fs::exists(fs::path(path) / name, error)) {
            return Problem{ProblemKind::conflict,
                           {.file = (fs::path(path) / name).string(), .line = 0, .field = ""},
                           "this table is here already and is not of this season",
                           "write to an empty folder: it would be read together with the rest"};
        }
    }
    const auto beside = [&](const std::string& name) { return fs::path(path) / (name + ".part"); };
    const auto give_up = [&](const std::string& name, const char* what, const char* fix) {
        for (const auto& [each, text] : files) {
            fs::remove(beside(each), error);
        }
        return outside(fs::path(path) / name, what, fix);
    };
    for (const auto& [name, text] : files) {
        std::ofstream out(beside(name), std::ios::binary);
        out << text;
        out.flush();
        if (!out) {
            return give_up(name, "this file could not be written; the folder is as it was",
                           "see that the disk has room");
        }
    }
    for (const auto& [name, text] : files) {
        fs::rename(beside(name), fs::path(path) / name, error);
        if (error) {
            return give_up(name, "this file could not be put in place; others may be new already",
                           "move away what stands there, and write the whole folder again");
        }
    }
    return Done{};
}

}  // namespace beetwright::io
