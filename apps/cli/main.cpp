// beetwright: from what was counted in a beet field to sugar and money.
#include <cstdio>
#include <exception>

#include "verbs.hpp"

namespace {

int run(int argc, char** argv) {
    namespace cli = beetwright::cli;
    CLI::App program{"From what was counted in a beet field to sugar and money.", "beetwright"};
    program.require_subcommand(1);
    program.set_version_flag("--version", BEETWRIGHT_VERSION);
    cli::Action action;
    cli::add_import(program, action);
    cli::add_ledger(program, action);
    cli::add_check(program, action);
    cli::add_settle(program, action);
    cli::add_report(program, action);
    cli::add_serve(program, action);
    cli::add_backup(program, action);
    cli::add_invite(program, action);
    cli::add_constants(program, action);
    cli::add_schema(program, action);
    cli::add_export(program, action);
    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        const int code = program.exit(error);
        return code == 0 ? 0 : 2;
    }
    return action();
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
