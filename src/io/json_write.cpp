#include <array>
#include <cmath>

#include "base/number_text.hpp"
#include "io/encoding.hpp"
#include "io/json.hpp"

namespace beetwright::io {
namespace {

/// What stands after the backslash; 0 for what needs none.
char escape_of(char c) {
    switch (c) {
        case '"': return '"';
        case '\\': return '\\';
        case '\b': return 'b';
        case '\f': return 'f';
        case '\n': return 'n';
        case '\r': return 'r';
        case '\t': return 't';
        default: return '\0';
    }
}

void append_control(std::string& out, unsigned code) {
    constexpr std::string_view kHex = "0123456789abcdef";
    out += "\\u00";
    out += kHex[code / kHex.size()];
    out += kHex[code % kHex.size()];
}

/// A number that is not whole, so that it reads back as one: "1.0", "0.00125", "1e-05".
std::string number_in_json(double number) {
    if (!std::isfinite(number)) {
        return "null";
    }
    constexpr double kLeast = 1e-4;
    constexpr double kMost = 1e15;
    const double size = std::abs(number);
    if (size != 0.0 && (size < kLeast || size >= kMost)) {
        return shortest_scientific_text(number);
    }
    auto text = shortest_text(number);
    if (text.find('.') == std::string::npos) {
        text += ".0";
    }
    return text;
}

/// Begins the next of what stands in brackets: in a line of its own, or behind the last.
void begin_next(std::string& out, bool is_first, int depth) {
    if (!is_first) {
        out += ',';
    }
    if (depth >= 0) {
        out += '\n';
        out.append(2 * static_cast<std::size_t>(depth), ' ');
    }
}

}  // namespace

void append_quoted(std::string& out, std::string_view text) {
    constexpr std::string_view kReplacement = "\uFFFD";
    constexpr char kDelete = '\x7f';  // the last of ASCII, and a control that JSON leaves as it is
    out += '"';
    for (std::size_t at = 0; at < text.size();) {
        // Texts are long, and nearly all of them plain.
        std::size_t plain = at;
        while (plain < text.size() && text[plain] >= ' ' && text[plain] < kDelete &&
               text[plain] != '"' && text[plain] != '\\') {
            ++plain;
        }
        out += text.substr(at, plain - at);
        at = plain;
        if (at == text.size()) {
            break;
        }
        if (const char escape = escape_of(text[at]); escape != '\0') {
            out += '\\';
            out += escape;
            ++at;
        } else if (const auto code = static_cast<unsigned char>(text[at]); code < ' ') {
            append_control(out, code);
            ++at;
        } else if (const auto length = code <= kDelete ? 1 : utf8_length(text, at); length > 0) {
            out += text.substr(at, length);
            at += length;
        } else {
            out += kReplacement;
            ++at;
        }
    }
    out += '"';
}

void Json::write(std::string& out, int depth) const {
    const int deeper = depth == kInOneLine ? kInOneLine : depth + 1;
    // What is empty stays in its line.
    const auto close = [&](char bracket, bool is_empty) {
        begin_next(out, true, is_empty ? kInOneLine : depth);
        out += bracket;
    };
    if (is_object()) {
        out += '{';
        bool is_first = true;
        for (const auto& member : members()) {
            begin_next(out, is_first, deeper);
            append_quoted(out, member.name);
            out += depth == kInOneLine ? ":" : ": ";
            member.value.write(out, deeper);
            is_first = false;
        }
        close('}', is_first);
    } else if (is_array()) {
        out += '[';
        bool is_first = true;
        for (const auto& item : items()) {
            begin_next(out, is_first, deeper);
            item.write(out, deeper);
            is_first = false;
        }
        close(']', is_first);
    } else if (const auto* words = text()) {
        append_quoted(out, *words);
    } else if (const auto is_true = truth()) {
        out += *is_true ? "true" : "false";
    } else if (const auto whole = count()) {
        out += std::to_string(*whole);
    } else if (const auto* below = std::get_if<std::int64_t>(&value_)) {
        out += std::to_string(*below);
    } else if (const auto* real = std::get_if<double>(&value_)) {
        out += number_in_json(*real);
    } else {
        out += "null";
    }
}

std::string Json::line() const {
    std::string out;
    write(out, kInOneLine);
    return out;
}

std::string Json::lines() const {
    std::string out;
    write(out, 0);
    return out;
}

}  // namespace beetwright::io
