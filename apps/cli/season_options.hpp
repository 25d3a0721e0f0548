// What verbs that ask a season something have in common on the command line.
#pragma once

#include <string>

#include "command_line/command_line.hpp"

namespace beetwright::cli {

struct SeasonOptions {
    std::string season;
    std::string at;     ///< chosen_instant() reads it
    std::string units;  ///< chosen_units() reads it
    bool json = false;
};

void add_season_options(Verb& verb, SeasonOptions& options);

}  // namespace beetwright::cli
