#include "io/text_map.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "io/json_object.hpp"

namespace beetwright::io {

using Json = nlohmann::ordered_json;

namespace {

/// Text as JSON. Tables are long, nearly all of it plain, and asked for often: runs of plain
/// characters are copied as they are.
void append_json(std::string& out, const std::string& text) {
    const auto is_plain = [](char c) { return c >= ' ' && c < '\x7f' && c != '"' && c != '\\'; };
    const auto takes_backslash = [](char c) { return c == '\n' || c == '"'; };
    if (!std::ranges::all_of(text, [&](char c) { return is_plain(c) || takes_backslash(c); })) {
        out += Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
        return;
    }
    out += '"';
    for (auto from = text.begin(); from != text.end();) {
        const auto to = std::find_if_not(from, text.end(), is_plain);
        out.append(from, to);
        from = to;
        if (to != text.end()) {
            out += *to == '\n' ? "\\n" : "\\\"";
            ++from;
        }
    }
    out += '"';
}

}  // namespace

Result<std::map<std::string, std::string>> read_text_map(std::string_view json,
                                                         const std::string& what) {
    const auto parsed = parse_json(json, what);
    if (!parsed) {
        return parsed.problems();
    }
    const auto wrong = [&](const std::string& field, std::string found) {
        return Problem{ProblemKind::input,
                       {.file = what, .line = 0, .field = field},
                       std::move(found),
                       "write { \"name\": \"text\", ... }"};
    };
    if (!parsed->is_object()) {
        return wrong("", "this is not a JSON object");
    }
    std::map<std::string, std::string> texts;
    for (const auto& [name, value] : parsed->items()) {
        if (!value.is_string()) {
            return wrong(name, "this is not text");
        }
        texts[name] = value.get<std::string>();
    }
    return texts;
}

std::string text_map_json(const std::map<std::string, std::string>& texts) {
    std::string out = "{";
    for (const auto& [name, text] : texts) {
        out += out.size() > 1 ? "," : "";
        append_json(out, name);
        out += ':';
        append_json(out, text);
    }
    return out + "}\n";
}

}  // namespace beetwright::io
