// Memory as the program asks for it. The library's own would say its last words in print, with all
// that a formatted print brings along.
#include <cstdlib>
#include <new>

#include "base/contract.hpp"

namespace {

void* taken(std::size_t bytes) {
    void* memory = std::malloc(bytes == 0 ? 1 : bytes);
    beetwright::require(memory != nullptr, "there is memory left");
    return memory;
}

}  // namespace

void* operator new(std::size_t bytes) {
    return taken(bytes);
}

void* operator new[](std::size_t bytes) {
    return taken(bytes);
}

void operator delete(void* memory) noexcept {
    std::free(memory);
}

void operator delete[](void* memory) noexcept {
    std::free(memory);
}

void operator delete(void* memory, std::size_t /*bytes*/) noexcept {
    std::free(memory);
}

void operator delete[](void* memory, std::size_t /*bytes*/) noexcept {
    std::free(memory);
}
