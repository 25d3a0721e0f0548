#include "common.hpp"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "io/dates.hpp"
#include "io/season_folder.hpp"
#include "records/season_file.hpp"

namespace beetwright::cli {

Result<ledger::Season> load_season(const std::string& path) {
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) {
        return io::read_season_folder(path);
    }
    if (!std::filesystem::exists(path, error)) {
        return Problem{ProblemKind::missing,
                       {.file = path, .line = 0, .field = ""},
                       "there is no such season",
                       "name a season file, or a folder of season tables"};
    }
    auto file = records::SeasonFile::open(path, records::OpenMode::read_only);
    if (!file) {
        return file.problems();
    }
    return file->load();
}

void remove_season_file(const std::string& path) {
    std::error_code error;
    for (const char* tail : {"", "-wal", "-shm", "-journal"}) {
        std::filesystem::remove(path + tail, error);
    }
}

Instant now() {
    return std::chrono::time_point_cast<std::chrono::milliseconds>(
        std::chrono::system_clock::now());
}

Result<Done> make_season_file(const std::string& path, Day first_day) {
    std::error_code error;
    if (std::filesystem::exists(path, error)) {
        return Problem{ProblemKind::conflict,
                       {.file = path, .line = 0, .field = ""},
                       "this file is there already",
                       "leave out --new to serve it, or name another"};
    }
    ledger::Season season;
    season.name = std::filesystem::path(path).stem().string();
    season.currency = ledger::kNoCurrencyYet;
    season.first_day = first_day;
    const auto written = [&]() -> Result<records::ImportReport> {
        auto file = records::SeasonFile::open(path, records::OpenMode::create);
        return file ? file->import(season) : file.problems();
    }();
    if (!written) {
        remove_season_file(path);
        return written.problems();
    }
    return Done{};
}

int tell(const Problems& problems) {
    bool outside = false;
    for (const auto& problem : problems) {
        std::fprintf(stderr, "%s\n", problem.text().c_str());
        outside = outside || problem.kind == ProblemKind::outside;
    }
    if (problems.size() > 1) {
        std::fprintf(stderr, "%zu problems; nothing was changed.\n", problems.size());
    }
    return outside ? 3 : 1;
}

UnitSystem chosen_units(const std::string& words, const ledger::Season& season) {
    if (words == "metric") {
        return UnitSystem::metric;
    }
    if (words == "us") {
        return UnitSystem::us;
    }
    return season.units;
}

Problem said_of(const std::string& option, const Problems& problems) {
    Problem problem = problems.front();
    problem.where.field = option;
    return problem;
}

Result<std::optional<Instant>> chosen_instant(const std::string& words) {
    if (words.empty()) {
        return std::optional<Instant>();
    }
    const auto read = io::read_instant(words, {});
    return read ? Result<std::optional<Instant>>(*read) : said_of("--at", read.problems());
}

Result<std::string> read_file(const std::string& path) {
    std::error_code error;
    const bool is_there = std::filesystem::exists(path, error);
    if (!is_there || std::filesystem::is_directory(path, error)) {
        return Problem{ProblemKind::missing,
                       {.file = path, .line = 0, .field = ""},
                       is_there ? "this is a folder" : "there is no such file",
                       "name a file"};
    }
    std::ifstream in(path, std::ios::binary);
    std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    if (!in) {
        return Problem{ProblemKind::outside,
                       {.file = path, .line = 0, .field = ""},
                       "the file cannot be read",
                       "see whether you may read it"};
    }
    return bytes;
}

Result<Done> write_file(const std::string& path, const std::string& text) {
    const std::string beside = path + ".part";
    const auto failed = [&](const char* what) {
        std::remove(beside.c_str());
        return Problem{ProblemKind::outside,
                       {.file = path, .line = 0, .field = ""},
                       what,
                       "see that the folder exists and has room"};
    };
    {
        std::ofstream out(beside, std::ios::binary);
        out << text;
        out.flush();
        if (!out) {
            return failed("could not be written");
        }
    }
    std::error_code error;
    std::filesystem::rename(beside, path, error);
    if (error) {
        return failed("could not be put in place");
    }
    return Done{};
}

}  // namespace beetwright::cli
