// Importing 1,000,000 counted beets from text into a season file, and the share it reaches of a
// simple ceiling.
//
// Goal: under 10 s. The ceiling is copying: the same bytes of text copied once in memory, and as
// many bytes as the season file holds written and synchronised. Ratios in one run; nothing here
// passes or fails.
#include <sys/resource.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "io/season_folder.hpp"
#include "records/season_file.hpp"

namespace {

using namespace beetwright;
namespace fs = std::filesystem;

constexpr int kSheets = 10'000;
constexpr int kBeets = 100;  // a sheet

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

io::FileTexts made_up_folder() {
    io::FileTexts files;
    files["season.json"] =
        R"({"beetwright_season": 1, "name": "bench", "currency": "EUR", "units": "metric", "first_day": "2031-09-15"})";
    files["fields.csv"] = "name,area [ha]\nLong Acre,12.5\n";
    files["terms.json"] =
        R"({"beetwright_terms": 1, "name": "bench", "currency": "EUR", "base_price": "30 EUR/t"})";
    std::string beets =
        "sheet,field,at,spot,topping,scar [cm],tip_break [cm],skin_damage [cm2],rot,frost\n";
    RandomStream random(1, "import bench");
    char line[160];
    for (int sheet = 0; sheet < kSheets; ++sheet) {
        for (int beet = 0; beet < kBeets; ++beet) {
            std::snprintf(line, sizeof line,
                          "sheet %d,Long Acre,2031-10-%02dT08:30:00Z,%d,%s,%.1f,%.1f,%.0f,%s,no\n",
                          sheet, 1 + sheet % 28, 1 + beet / 10,
                          random.chance(0.1) ? "too deep" : "correct", 2.0 + 3.0 * random.uniform(),
                          6.0 * random.uniform(), 40.0 * random.uniform(),
                          random.chance(0.02) ? "yes" : "no");
            beets += line;
        }
    }
    files["beets.csv"] = std::move(beets);
    return files;
}

double write_and_sync_s(const fs::path& path, std::size_t bytes) {
    const std::string block(1U << 20U, 'x');
    return seconds_of([&] {
        std::FILE* file = std::fopen(path.c_str(), "wb");
        for (std::size_t written = 0; written < bytes; written += block.size()) {
            std::fwrite(block.data(), 1, std::min(block.size(), bytes - written), file);
        }
        std::fflush(file);
        fsync(fileno(file));
        std::fclose(file);
    });
}

}  // namespace

int main() {
    const auto folder =
        fs::temp_directory_path() / ("beetwright_import_bench_" + std::to_string(getpid()));
    fs::create_directories(folder);
    const auto path = folder / "season.beet";
    const auto files = made_up_folder();
    const std::string& text = files.at("beets.csv");

    ledger::Season season;
    bool ok = true;
    const double read_s = seconds_of([&] {
        auto read = io::read_season(files);
        ok = read.ok();
        season = ok ? std::move(*read) : ledger::Season{};
    });
    const double write_s = seconds_of([&] {
        auto file = records::SeasonFile::open(path.string(), records::OpenMode::create);
        ok = ok && file.ok() && file->import(season).ok();
    });
    const double load_s = seconds_of([&] {
        auto file = records::SeasonFile::open(path.string(), records::OpenMode::read_only);
        ok = ok && file.ok() && file->load().ok();
    });
    const std::size_t file_bytes = fs::file_size(path);

    std::vector<char> copy(text.size());
    const double copy_s = seconds_of([&] { std::memcpy(copy.data(), text.data(), text.size()); });
    const double ceiling_s = copy_s + write_and_sync_s(folder / "ceiling", file_bytes);
    fs::remove_all(folder);

    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    const double import_s = read_s + write_s;
    std::printf(
        "import: 1,000,000 counted beets (%.0f MB of text) in %.2f s: read %.2f, written %.2f; "
        "goal 10 s: ratio %.2f\n",
        static_cast<double>(text.size()) / 1e6, import_s, read_s, write_s, import_s / 10.0);
    std::printf(
        "        copying the text and writing the file's %.0f MB takes %.2f s: reaches %.0f %% of "
        "it\n",
        static_cast<double>(file_bytes) / 1e6, ceiling_s, 100.0 * ceiling_s / import_s);
    std::printf("        loaded back in %.2f s; peak memory %.0f MB\n", load_s,
                static_cast<double>(usage.ru_maxrss) / 1024.0);
    return ok ? 0 : 1;
}
