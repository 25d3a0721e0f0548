// beetwright: from what was counted in a beet field to sugar and money.
#include <cstdio>
#include <exception>

#include "verbs.hpp"

namespace {

int run(int argc, char** argv) {
    namespace cli = beetwright::cli;
    cli::CommandLine program("beetwright",
                             "From what was counted in a beet field to sugar and money.",
                             BEETWRIGHT_VERSION);
    cli::add_import(program);
    cli::add_ledger(program);
    cli::add_check(program);
    cli::add_settle(program);
    cli::add_report(program);
    cli::add_field(program);
    cli::add_setup(program);
    cli::add_advise(program);
    cli::add_pile(program);
    cli::add_sky(program);
    cli::add_zones(program);
    cli::add_ground(program);
    cli::add_weather(program);
    cli::add_serve(program);
    cli::add_backup(program);
    cli::add_invite(program);
    cli::add_constants(program);
    cli::add_schema(program);
    cli::add_export(program);
    return program.run(argc, argv);
}

}  // namespace

int main(int argc, char** argv) {
    try {
        return run(argc, argv);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "beetwright: %s\n", error.what());
        return 3;
    }
}
