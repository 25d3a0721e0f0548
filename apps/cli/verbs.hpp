// The verbs of the command line. Each adds its options to the program and leaves behind what to do
// when it is called.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>

namespace beetwright::cli {

/// What a verb ends with: 0 done, 1 the input is wrong, 3 the outside world failed (disk, lock).
/// 2 is for words on the command line that cannot be read.
using Action = std::function<int()>;

void add_import(CLI::App& program, Action& action);
void add_backup(CLI::App& program, Action& action);
void add_export(CLI::App& program, Action& action);
void add_ledger(CLI::App& program, Action& action);
void add_check(CLI::App& program, Action& action);
void add_settle(CLI::App& program, Action& action);
void add_constants(CLI::App& program, Action& action);
void add_schema(CLI::App& program, Action& action);
void add_report(CLI::App& program, Action& action);
void add_serve(CLI::App& program, Action& action);
void add_invite(CLI::App& program, Action& action);

}  // namespace beetwright::cli
