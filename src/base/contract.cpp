#include "base/contract.hpp"

#include <cstdio>
#include <cstdlib>

namespace beetwright {

void stop_for_a_bug(const char* claim, const char* file, int line) {
    std::fprintf(stderr, "beetwright: a bug: not true that %s (%s:%d)\n", claim, file, line);
    std::abort();
}

}  // namespace beetwright
