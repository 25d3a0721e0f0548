#include "io/text_map.hpp"

#include <nlohmann/json.hpp>

#include "io/json_object.hpp"

namespace beetwright::io {

using Json = nlohmann::ordered_json;

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
    Json object = Json::object();
    for (const auto& [name, text] : texts) {
        object[name] = text;
    }
    return object.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace beetwright::io
