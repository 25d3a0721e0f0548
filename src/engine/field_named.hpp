// Fields, and the growers whose they are, that questions name.
#pragma once

#include <string>

#include "base/nearest_name.hpp"
#include "base/result.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// That the season holds no such field, with the one that was probably meant.
inline Problem no_field_named(const ledger::Season& season, const std::string& name) {
    std::set<std::string> known;
    for (const auto& field : season.fields) {
        known.insert(field.name);
    }
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = "field"},
            "no field of this season is called \"" + name + "\"",
            did_you_mean(name, known) + "`beetwright ledger` without --field lists them"};
}

/// That no field of the season is this grower's, with the one who was probably meant.
inline Problem no_grower_named(const ledger::Season& season, const std::string& name) {
    std::set<std::string> known;
    for (const auto& field : season.fields) {
        if (!field.grower.empty()) {
            known.insert(field.grower);
        }
    }
    return {ProblemKind::missing,
            {.file = "", .line = 0, .field = "grower"},
            "no field of this season is of a grower called \"" + name + "\"",
            did_you_mean(name, known) + "`beetwright ledger --by grower` lists them"};
}

}  // namespace beetwright::engine
