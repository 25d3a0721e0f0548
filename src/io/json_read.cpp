#include "io/json_read.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <optional>
#include <set>
#include <vector>

#include "io/decimal.hpp"
#include "io/encoding.hpp"

namespace beetwright::io {
namespace {

/// Which line of the text a byte offset is on.
int line_of(std::string_view text, std::size_t offset) {
    const auto before = text.substr(0, std::min(offset, text.size()));
    return 1 + static_cast<int>(std::ranges::count(before, '\n'));
}

/// Where a text has more brackets one in another, or more values, than is looked at; its end if
/// nowhere. Faults are the reader's to find.
std::size_t where_too_much(std::string_view text, const JsonLimits& limits) {
    int depth = 0;
    int values = 0;
    bool is_quoted = false;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (is_quoted) {
            at += c == '\\' ? 1 : 0;
            is_quoted = c != '"';
            continue;
        }
        is_quoted = c == '"';
        depth += c == '{' || c == '[' ? 1 : 0;
        depth -= c == '}' || c == ']' ? 1 : 0;
        values += c == ',' || c == '{' || c == '[' ? 1 : 0;
        if (depth > limits.deepest || values > limits.most_values) {
            return at;
        }
    }
    return text.size();
}

/// Reads one text from front to back. Each step says whether it went well; where it did not, the
/// reader stays at the fault.
class Reader {
 public:
    explicit Reader(std::string_view text) : text_(text) {}

    bool document(Json& into) {
        constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
        if (text_.starts_with(kByteOrderMark)) {
            at_ = kByteOrderMark.size();
        }
        return value(into) && (skip_blanks(), at_ == text_.size());
    }
    [[nodiscard]] std::size_t at() const { return at_; }
    [[nodiscard]] const std::vector<std::string>& twice() const { return twice_; }

 private:
    [[nodiscard]] char next() const { return at_ < text_.size() ? text_[at_] : '\0'; }

    void skip_blanks() { at_ = std::min(text_.find_first_not_of(" \t\r\n", at_), text_.size()); }

    bool take(std::string_view expected) {
        if (text_.substr(at_, expected.size()) != expected) {
            return false;
        }
        at_ += expected.size();
        return true;
    }

    bool value(Json& into) {
        skip_blanks();
        switch (next()) {
            case '{': return object(into);
            case '[': return array(into);
            case '"': {
                std::string words;
                const bool is_read = string(words);
                into = std::move(words);
                return is_read;
            }
            case 't': into = true; return take("true");
            case 'f': into = false; return take("false");
            case 'n': into = nullptr; return take("null");
            default: return number(into);
        }
    }

    bool object(Json& into) {
        into = Json::object();
        std::set<std::string> names;
        return bracketed("{", "}", [&] {
            std::string name;
            if (!string(name)) {
                return false;
            }
            skip_blanks();
            if (!take(":")) {
                return false;
            }
            if (!names.insert(name).second) {
                twice_.push_back(name);
            }
            return value(into.add(std::move(name)));
        });
    }

    bool array(Json& into) {
        into = Json::array();
        return bracketed("[", "]", [&] {
            Json item;
            const bool is_read = value(item);
            into.push_back(std::move(item));
            return is_read;
        });
    }

    /// `one` reads each of what stands between the brackets.
    template <class One>
    bool bracketed(std::string_view open, std::string_view close, One&& one) {
        take(open);
        skip_blanks();
        if (take(close)) {
            return true;
        }
        do {
            skip_blanks();
            if (!one()) {
                return false;
            }
            skip_blanks();
        } while (take(","));
        return take(close);
    }

    bool string(std::string& into) {
        if (!take("\"")) {
            return false;
        }
        for (;;) {
            const auto from = at_;
            while (at_ < text_.size() && is_plain(text_[at_])) {
                ++at_;
            }
            into += text_.substr(from, at_ - from);
            if (take("\"")) {
                return true;
            }
            if (!take("\\") || !escaped(into)) {
                return false;
            }
        }
    }

    bool escaped(std::string& into) {
        constexpr std::string_view kWritten = "\"\\/bfnrt";
        constexpr std::string_view kMeant = "\"\\/\b\f\n\r\t";
        const auto which = at_ < text_.size() ? kWritten.find(text_[at_]) : std::string_view::npos;
        if (which != std::string_view::npos) {
            ++at_;
            into += kMeant[which];
            return true;
        }
        auto code = code_unit();
        if (!code) {
            return false;
        }
        // A character beyond 0xFFFF is written as two halves.
        constexpr unsigned kHigh = 0xD800U;
        constexpr unsigned kLow = 0xDC00U;
        constexpr unsigned kBehind = 0xE000U;
        if (*code >= kHigh && *code < kBehind) {
            const auto low = *code < kLow && take("\\") ? code_unit() : std::nullopt;
            if (!low || *low < kLow || *low >= kBehind) {
                return false;
            }
            code = 0x10000U + ((*code - kHigh) << 10U) + (*low - kLow);
        }
        append_utf8(into, *code);
        return true;
    }

    /// "u00e9", behind its backslash.
    std::optional<unsigned> code_unit() {
        constexpr std::size_t kDigits = 4;
        if (!take("u")) {
            return std::nullopt;
        }
        const auto digits = text_.substr(at_, kDigits);
        unsigned code = 0;
        const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), code, 16);
        if (read.ptr != digits.data() + kDigits) {
            return std::nullopt;
        }
        at_ += kDigits;
        return code;
    }

    bool number(Json& into) {
        const auto rest = text_.substr(at_);
        const auto decimal = leading_decimal(rest);
        if (!decimal) {
            return false;
        }
        const auto written = rest.substr(0, decimal->length);
        // A point without digits on both sides, and zeros in front, are not JSON.
        const auto digits = written.substr(written.starts_with('-') ? 1 : 0);
        const auto point = digits.find('.');
        const bool has_digits =
            point == std::string_view::npos ||
            (point > 0 && point + 1 < digits.size() && is_digit(digits[point + 1]));
        const bool has_zero_in_front = digits.size() > 1 && digits[0] == '0' && is_digit(digits[1]);
        if (!has_digits || has_zero_in_front) {
            return false;
        }
        at_ += written.size();
        into = decimal->value;
        if (written.find_first_of(".eE") == std::string_view::npos) {
            whole(written, into);
        }
        return true;
    }

    /// Without a point it is kept as it was written, if it is not too long for that.
    static void whole(std::string_view written, Json& into) {
        const char* const begin = written.data();
        const char* const end = begin + written.size();
        if (std::uint64_t count = 0; std::from_chars(begin, end, count).ec == std::errc{}) {
            into = count;
        } else if (std::int64_t below = 0; std::from_chars(begin, end, below).ec == std::errc{}) {
            into = below;
        }
    }

    static bool is_digit(char c) { return c >= '0' && c <= '9'; }

    /// What stands in a text for itself.
    static bool is_plain(char c) {
        return c != '"' && c != '\\' && static_cast<unsigned char>(c) >= ' ';
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::vector<std::string> twice_;
};

}  // namespace

Result<Json> parse_json(std::string_view text, const std::string& file, const JsonLimits& limits) {
    const auto not_json = [&](std::size_t at) {
        return Problem{
            ProblemKind::input,
            {.file = file, .line = line_of(text, at), .field = ""},
            "this is not JSON",
            "look for a missing quote, comma or bracket, or a number too large, just before here"};
    };
    if (const auto at = where_too_much(text, limits); at < text.size()) {
        return Problem{ProblemKind::limit,
                       {.file = file, .line = line_of(text, at), .field = ""},
                       "this has more than " + std::to_string(limits.deepest) +
                           " brackets one in another, or more than " +
                           std::to_string(limits.most_values) + " values",
                       "look for brackets that are not closed, or send less at once"};
    }
    if (const auto at = utf8_prefix(text); at < text.size()) {
        return not_json(at);
    }
    Json parsed;
    Reader reader(text);
    if (!reader.document(parsed)) {
        return not_json(reader.at());
    }
    Problems problems;
    for (const auto& name : reader.twice()) {
        problems.push_back({ProblemKind::input,
                            {.file = file, .line = 0, .field = name},
                            "this key stands twice in one object",
                            "decide which one is right and leave out the other"});
    }
    if (!problems.empty()) {
        return problems;
    }
    return parsed;
}

}  // namespace beetwright::io
