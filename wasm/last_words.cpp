// What is said before the program stops, where there is no terminal: through the one call of a
// system that the app answers. The libraries' own words are printed with formats, which nobody else
// here does, and whose code would be a fiftieth of the engine.
#include <unistd.h>

#include <cstdlib>
#include <string>

#include "base/contract.hpp"

namespace {

[[noreturn]] void stop(const std::string& words) {
    // There is nobody to tell if even this fails.
    static_cast<void>(::write(STDERR_FILENO, words.data(), words.size()));
    std::abort();
}

}  // namespace

namespace beetwright {

void stop_for_a_bug(const char* claim, const char* file, int line) {
    stop(std::string("beetwright: a bug: not true that ") + claim + " (" + file + ":" +
         std::to_string(line) + ")\n");
}

}  // namespace beetwright

/// What the standard library calls in place of its own, which it lets programs replace.
void std::__libcpp_verbose_abort(const char* format, ...) {
    stop(std::string("beetwright: a bug: ") + format + "\n");
}
