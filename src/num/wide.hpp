// Loops over many draws, compiled again for processors that work on four or eight doubles at once.
//
// BEETWRIGHT_WIDE before a function definition lets the program choose at start-up. Wider registers
// change no result: products and sums are never fused (-ffp-contract=off), and sums that a loop
// runs side by side have a fixed order of their own.
#pragma once

#include <cstddef>
#include <cstring>

// The choice happens before a sanitizer is ready, and other processors have one version only.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define BEETWRIGHT_WIDE [[gnu::target_clones("arch=x86-64-v4", "avx2", "default")]]
#else
#define BEETWRIGHT_WIDE
#endif

// Before a loop whose fields do not overlap, or only each cell with itself: the compiler cannot see
// that where there are many, and would not use wide registers.
#if defined(__GNUC__) && !defined(__clang__)
#define BEETWRIGHT_APART _Pragma("GCC ivdep")
#else
#define BEETWRIGHT_APART
#endif

namespace beetwright::num {

/// Four doubles worked on at once, in whatever registers the processor has: arithmetic and
/// comparisons go element by element, `mask ? a : b` chooses so.
using Pack = double __attribute__((vector_size(32)));
inline constexpr std::size_t kPack = sizeof(Pack) / sizeof(double);

// By reference: how a Pack is passed by value depends on the processor's registers.
inline void load(Pack& to, const double* from) {
    std::memcpy(&to, from, sizeof to);
}

}  // namespace beetwright::num
