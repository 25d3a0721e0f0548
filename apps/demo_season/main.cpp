// beetwright_demo_season: writes the invented demo season as a folder of tables.
#include <CLI/CLI.hpp>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <string>

#include "demo_season/invent.hpp"
#include "io/season_folder.hpp"

namespace {

int run(int argc, char** argv) {
    namespace demo = beetwright::demo;
    CLI::App program{"Invents a sugar-beet season and writes it as a folder of tables.",
                     "beetwright_demo_season"};
    std::string folder;
    std::uint64_t seed = 1;
    std::string units_word = "metric";
    program.add_option("folder", folder, "where to write the tables")->required();
    program.add_option("--seed", seed, "another number invents another year")
        ->capture_default_str();
    program.add_option("--units", units_word, "metric or us")
        ->check(CLI::IsMember({"metric", "us"}))
        ->capture_default_str();
    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        const int code = program.exit(error);
        return code == 0 ? 0 : 2;
    }
    const auto units =
        units_word == "us" ? beetwright::UnitSystem::us : beetwright::UnitSystem::metric;
    const auto invented = demo::invent(seed, units, demo::loss_physics(beetwright::Catalogue{}));
    const auto written = beetwright::io::write_season_folder(invented.season, folder, units);
    if (!written) {
        for (const auto& problem : written.problems()) {
            std::fprintf(stderr, "%s\n", problem.text().c_str());
        }
        return 3;
    }
    std::printf("%s: %zu fields written to %s\n", invented.season.name.c_str(),
                invented.season.fields.size(), folder.c_str());
    return 0;
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
