// Any bytes as a receiver's log: the reader must end, and what it accepts is on earth.
#include <cstdint>
#include <string_view>

#include "maps/nmea.hpp"
#include "maps/nmea_sentence.hpp"
#include "what_is_read.hpp"

using namespace beetwright;

namespace {

/// The body of each line with the checksum that it should have: a fuzzer does not guess that.
std::string with_checksums(std::string_view bytes) {
    std::string text;
    while (!bytes.empty()) {
        const auto line = bytes.substr(0, bytes.find_first_of("*\n"));
        unsigned sum = 0;
        for (const char c : line.substr(line.empty() ? 0 : 1)) {
            sum ^= static_cast<unsigned char>(c);
        }
        constexpr std::string_view kDigits = "0123456789ABCDEF";
        text += std::string(line) + "*" + kDigits[sum / 16] + kDigits[sum % 16] + "\n";
        bytes.remove_prefix(std::min(bytes.find('\n'), bytes.size() - 1) + 1);
    }
    return text;
}

void read(std::string_view bytes) {
    const auto track = maps::read_nmea(bytes, "fuzzed", parse_day("2031-10-04"));
    if (is_read(track)) {
        look_at(*track);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    read(bytes);
    read(with_checksums(bytes));
    return 0;
}
