// Our own bugs stop the program loudly, with the claim that did not hold and where.
#pragma once

namespace beetwright {

/// Says that a claim did not hold, and stops the program.
[[noreturn]] void stop_for_a_bug(const char* claim, const char* file, int line);

/// Stops the program unless the claim holds. For what must be true if our code is right; never for
/// what a user typed. The file and the line are where it stands: asked of the compiler one by one,
/// since a std::source_location would bring the name of every function into every browser.
constexpr void require(bool holds, const char* claim, const char* file = __builtin_FILE(),
                       int line = __builtin_LINE()) {
    if (!holds) {
        stop_for_a_bug(claim, file, line);
    }
}

}  // namespace beetwright
