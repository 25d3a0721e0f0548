#include "demo_season/look.hpp"

#include <string>

namespace beetwright::demo {

RandomStream stream_of(const Look& look, std::string_view purpose, int number) {
    return {look.seed, purpose, std::string(look.plan.name) + "#" + std::to_string(number)};
}

Uuid id_at(const Look& look, std::string_view kind, int number, Instant at) {
    auto bits = stream_of(look, std::string("demo id ").append(kind), number);
    const std::uint64_t high = bits.word64();
    return Uuid::version7(at, high, bits.word64());
}

}  // namespace beetwright::demo
