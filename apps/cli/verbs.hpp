// The verbs of the command line. Each adds its options to the program and leaves behind what to do
// when it is called.
#pragma once

#include "command_line/command_line.hpp"

namespace beetwright::cli {

void add_import(CommandLine& program);
void add_backup(CommandLine& program);
void add_export(CommandLine& program);
void add_ledger(CommandLine& program);
void add_check(CommandLine& program);
void add_settle(CommandLine& program);
void add_constants(CommandLine& program);
void add_schema(CommandLine& program);
void add_report(CommandLine& program);
void add_serve(CommandLine& program);
void add_invite(CommandLine& program);
void add_weather(CommandLine& program);
void add_field(CommandLine& program);
void add_setup(CommandLine& program);
void add_advise(CommandLine& program);
void add_pile(CommandLine& program);
void add_sky(CommandLine& program);
void add_zones(CommandLine& program);
void add_ground(CommandLine& program);

}  // namespace beetwright::cli
