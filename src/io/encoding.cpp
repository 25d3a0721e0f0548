#include "io/encoding.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>

namespace beetwright::io {
namespace {

unsigned byte_at(std::string_view bytes, std::size_t i) {
    return static_cast<unsigned char>(bytes[i]);
}

// Most bytes of most files are ASCII: eight of them are passed at a time.
std::size_t ascii_run(std::string_view bytes, std::size_t from) {
    constexpr std::uint64_t kHighBits = 0x8080808080808080U;
    std::size_t i = from;
    while (i + 8 <= bytes.size()) {
        std::uint64_t eight = 0;
        std::memcpy(&eight, bytes.data() + i, 8);
        if ((eight & kHighBits) != 0) {
            break;
        }
        i += 8;
    }
    while (i < bytes.size() && byte_at(bytes, i) < 0x80U) {
        ++i;
    }
    return i;
}

// Windows-1252 differs from Latin-1 in 0x80 to 0x9F only; 0 marks the five bytes it leaves out.
constexpr std::array<std::uint16_t, 32> kWindows1252{
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

bool decode_windows_1252(std::string_view bytes, std::string& text) {
    text.clear();
    text.reserve(bytes.size() + bytes.size() / 8);
    for (const char raw : bytes) {
        const auto byte = static_cast<unsigned char>(raw);
        const bool is_special = byte >= 0x80U && byte <= 0x9FU;
        const unsigned code = is_special ? kWindows1252[byte - 0x80U] : byte;
        if (is_special && code == 0) {
            return false;
        }
        append_utf8(text, code);
    }
    return true;
}

struct NotUtf8 {
    std::size_t at = 0;
    bool others_are_utf8 = false;  ///< letters beyond ASCII that are UTF-8 stand in the text too
};

/// The first byte that is not UTF-8. A text of two encodings was joined or damaged: read as
/// Windows-1252, its good letters would turn into nonsense unseen.
NotUtf8 first_not_utf8(std::string_view bytes) {
    NotUtf8 found{bytes.size(), false};
    for (std::size_t i = ascii_run(bytes, 0); i < bytes.size(); i = ascii_run(bytes, i)) {
        const std::size_t length = utf8_length(bytes, i);
        found.others_are_utf8 = found.others_are_utf8 || length > 0;
        if (length == 0 && found.at == bytes.size()) {
            found.at = i;
        }
        i += length == 0 ? 1 : length;
    }
    return found;
}

Problem not_text(const std::string& file, std::string what) {
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = ""},
            std::move(what),
            "save it as CSV in UTF-8; a spreadsheet offers this under Save as"};
}

}  // namespace

bool is_utf8(std::string_view bytes) {
    return utf8_prefix(bytes) == bytes.size();
}

std::size_t utf8_prefix(std::string_view bytes) {
    std::size_t i = ascii_run(bytes, 0);
    while (i < bytes.size()) {
        const std::size_t length = utf8_length(bytes, i);
        if (length == 0) {
            break;
        }
        i = ascii_run(bytes, i + length);
    }
    return i;
}

// Unicode 15, table 3-7.
std::size_t utf8_length(std::string_view bytes, std::size_t at) {
    const unsigned lead = byte_at(bytes, at);
    std::size_t length = 0;
    unsigned least = 0x80U;
    unsigned most = 0xBFU;
    if (lead >= 0xC2U && lead <= 0xDFU) {
        length = 2;
    } else if (lead >= 0xE0U && lead <= 0xEFU) {
        length = 3;
        least = lead == 0xE0U ? 0xA0U : least;
        most = lead == 0xEDU ? 0x9FU : most;
    } else if (lead >= 0xF0U && lead <= 0xF4U) {
        length = 4;
        least = lead == 0xF0U ? 0x90U : least;
        most = lead == 0xF4U ? 0x8FU : most;
    }
    if (length == 0 || at + length > bytes.size() || byte_at(bytes, at + 1) < least ||
        byte_at(bytes, at + 1) > most) {
        return 0;
    }
    for (std::size_t k = 2; k < length; ++k) {
        if ((byte_at(bytes, at + k) & 0xC0U) != 0x80U) {
            return 0;
        }
    }
    return length;
}

void append_utf8(std::string& text, unsigned code) {
    if (code < 0x80U) {
        text += static_cast<char>(code);
    } else if (code < 0x800U) {
        text += static_cast<char>(0xC0U | (code >> 6U));
        text += static_cast<char>(0x80U | (code & 0x3FU));
    } else {
        if (code < 0x10000U) {
            text += static_cast<char>(0xE0U | (code >> 12U));
        } else {
            text += static_cast<char>(0xF0U | (code >> 18U));
            text += static_cast<char>(0x80U | ((code >> 12U) & 0x3FU));
        }
        text += static_cast<char>(0x80U | ((code >> 6U) & 0x3FU));
        text += static_cast<char>(0x80U | (code & 0x3FU));
    }
}

Result<std::string_view> as_utf8(std::string_view bytes, std::string& decoded,
                                 const std::string& file) {
    using namespace std::string_view_literals;
    if (bytes.starts_with("\xFF\xFE"sv) || bytes.starts_with("\xFE\xFF"sv)) {
        return not_text(file, "the file is in UTF-16, which is not read");
    }
    if (bytes.starts_with("PK\x03\x04"sv)) {
        return not_text(file, "the file is a spreadsheet's own file or an archive, not CSV");
    }
    if (bytes.find('\0') != std::string_view::npos) {
        return not_text(file, "the file holds zero bytes, so it is no text (or it is UTF-16)");
    }
    constexpr auto kMark = "\xEF\xBB\xBF"sv;
    if (bytes.starts_with(kMark)) {
        bytes.remove_prefix(kMark.size());
    }
    if (is_utf8(bytes)) {
        return bytes;
    }
    const auto [bad, others_are_utf8] = first_not_utf8(bytes);
    if (others_are_utf8 || !decode_windows_1252(bytes, decoded)) {
        Problem problem =
            not_text(file, others_are_utf8 ? "a letter on this line is not UTF-8, as others are"
                                           : "the file is neither UTF-8 nor Windows-1252 text");
        problem.where.line = 1 + static_cast<int>(std::ranges::count(bytes.substr(0, bad), '\n'));
        return problem;
    }
    return std::string_view(decoded);
}

}  // namespace beetwright::io
