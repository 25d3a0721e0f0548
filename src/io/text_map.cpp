#include "io/text_map.hpp"

#include "io/json.hpp"
#include "io/json_read.hpp"

namespace beetwright::io {

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
    for (const auto& member : parsed->members()) {
        const auto* text = member.value.text();
        if (text == nullptr) {
            return wrong(member.name, "this is not text");
        }
        texts[member.name] = *text;
    }
    return texts;
}

std::string text_map_json(const std::map<std::string, std::string>& texts) {
    std::string out = "{";
    for (const auto& [name, text] : texts) {
        out += out.size() > 1 ? "," : "";
        append_quoted(out, name);
        out += ':';
        append_quoted(out, text);
    }
    return out + "}\n";
}

}  // namespace beetwright::io
