// Fields that questions name.
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

}  // namespace beetwright::engine
