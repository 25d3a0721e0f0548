#include "app_pack.hpp"

// A compiler takes minutes over half a megabyte written as an array; an assembler takes it as it
// is.
asm(R"(
    .section .rodata
    .global beetwright_app_pack_begin
    .global beetwright_app_pack_end
    .balign 16
beetwright_app_pack_begin:
    .incbin ")" BEETWRIGHT_APP_PACK R"("
beetwright_app_pack_end:
    .previous
)");

extern "C" const char beetwright_app_pack_begin[];  // NOLINT: the assembler's names
extern "C" const char beetwright_app_pack_end[];    // NOLINT

namespace beetwright::cli {

std::string_view app_pack() {
    return {beetwright_app_pack_begin,
            static_cast<std::size_t>(beetwright_app_pack_end - beetwright_app_pack_begin)};
}

}  // namespace beetwright::cli
