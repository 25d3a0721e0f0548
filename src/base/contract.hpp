// Our own bugs stop the program loudly, with the claim that did not hold and where.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <source_location>

namespace beetwright {

/// Stops the program unless the claim holds. For what must be true if our code is right; never for
/// what a user typed.
constexpr void require(bool holds, const char* claim,
                       std::source_location here = std::source_location::current()) {
    if (!holds) {
        std::fprintf(stderr, "beetwright: a bug: not true that %s (%s:%u, %s)\n", claim,
                     here.file_name(), static_cast<unsigned>(here.line()), here.function_name());
        std::abort();
    }
}

}  // namespace beetwright
