#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <system_error>

#include "base/nearest_name.hpp"
#include "io/season_folder.hpp"
#include "io/season_tables.hpp"

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
    return names;
}

/// Tables under names that nobody knows: each would pass for one that is not there.
Problems strangers(const std::string& folder, const FileTexts& known) {
    Problems problems;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
        const auto name = entry.path().filename().string();
        if (entry.path().extension() == ".csv" && !known.contains(name)) {
            problems.push_back({ProblemKind::input,
                                {.file = entry.path().string(), .line = 0, .field = ""},
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
        std::ifstream in(file, std::ios::binary);
        std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
        if (!in) {
            return outside(file, "this file could not be read", "see who may read it");
        }
        files[name] = std::move(bytes);
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
    const auto files = write_season(season, system);
    for (const auto& name : known_files()) {
        if (!files.contains(name) && fs::exists(fs::path(path) / name, error)) {
            return Problem{ProblemKind::conflict,
                           {.file = (fs::path(path) / name).string(), .line = 0, .field = ""},
                           "this table is here already and is not of this season",
                           "write to an empty folder: it would be read together with the rest"};
        }
    }
    const auto beside = [&](const std::string& name) { return fs::path(path) / (name + ".part"); };
    const auto give_up = [&](const std::string& name) -> Problem {
        for (const auto& [each, text] : files) {
            fs::remove(beside(each), error);
        }
        return outside(fs::path(path) / name,
                       "this file could not be written; the folder is as it was",
                       "see that the disk has room");
    };
    for (const auto& [name, text] : files) {
        std::ofstream out(beside(name), std::ios::binary);
        out << text;
        out.flush();
        if (!out) {
            return give_up(name);
        }
    }
    for (const auto& [name, text] : files) {
        fs::rename(beside(name), fs::path(path) / name, error);
        if (error) {
            return give_up(name);
        }
    }
    return Done{};
}

}  // namespace beetwright::io
