// beetwright_demo_season: writes the invented demo season as a folder of tables.
#include <cstddef>
#include <cstdio>
#include <exception>
#include <fstream>
#include <string>

#include "command_line/command_line.hpp"
#include "demo_season/invent.hpp"
#include "demo_season/receiver.hpp"
#include "io/season_folder.hpp"

namespace {

struct Wish {
    std::string folder;
    std::size_t seed = 1;
    std::string units = "metric";
    std::string log;
    std::string border;
};

/// Where a file is wanted.
bool is_written(const std::string& name, const std::string& text) {
    if (name.empty()) {
        return true;
    }
    std::ofstream file(name, std::ios::binary);
    file << text;
    file.close();
    if (!file) {
        std::fprintf(stderr, "%s: this cannot be written\n", name.c_str());
    }
    return !file.fail();
}

int write_season(const Wish& wish) {
    namespace demo = beetwright::demo;
    const auto units =
        wish.units == "us" ? beetwright::UnitSystem::us : beetwright::UnitSystem::metric;
    const auto invented =
        demo::invent(wish.seed, units, demo::loss_physics(beetwright::Catalogue{}));
    const auto written = beetwright::io::write_season_folder(invented.season, wish.folder, units);
    if (!written) {
        for (const auto& problem : written.problems()) {
            std::fprintf(stderr, "%s\n", problem.text().c_str());
        }
        return 3;
    }
    if (!is_written(wish.log, demo::receivers_log(wish.seed)) ||
        !is_written(wish.border, demo::field_border())) {
        return 3;
    }
    std::printf("%s: %zu fields written to %s\n", invented.season.name.c_str(),
                invented.season.fields.size(), wish.folder.c_str());
    return 0;
}

int run(int argc, char** argv) {
    beetwright::cli::CommandLine program(
        "beetwright_demo_season",
        "Invents a sugar-beet season and writes it as a folder of tables.", BEETWRIGHT_VERSION);
    Wish wish;
    auto verb = program.only();
    verb.option("folder", wish.folder, "where to write the tables").required();
    verb.option("--seed", wish.seed, "another number invents another year").shows_default();
    verb.option("--units", wish.units, "metric or us").one_of({"metric", "us"}).shows_default();
    verb.option("--log", wish.log, "writes here what a receiver noted in Hollow Oak");
    verb.option("--border", wish.border, "writes here the border of Hollow Oak, as GeoJSON");
    verb.does([&wish] { return write_season(wish); });
    return program.run(argc, argv);
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "beetwright_demo_season: %s\n", error.what());
        return 3;
    }
}
