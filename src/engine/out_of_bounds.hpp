// A number of a question that is too small or too large.
#pragma once

#include <string>
#include <utility>

#include "base/result.hpp"

namespace beetwright::engine {

/// `what` was asked for, `fix` says what may be.
inline Problem out_of_bounds(std::string field, std::string what, std::string fix) {
    return {ProblemKind::limit,
            {.file = "", .line = 0, .field = std::move(field)},
            std::move(what),
            std::move(fix)};
}

}  // namespace beetwright::engine
