#include "io/json_text.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace beetwright::io {
namespace {

using Json = nlohmann::ordered_json;

std::string dump(const Json& json, int indent) {
    return json.dump(indent, ' ', false, Json::error_handler_t::replace);
}

std::string_view words(ProblemKind kind) {
    switch (kind) {
        case ProblemKind::input: return "input";
        case ProblemKind::conflict: return "conflict";
        case ProblemKind::missing: return "missing";
        case ProblemKind::limit: return "limit";
        case ProblemKind::outside: return "outside";
    }
    return "";
}

}  // namespace

std::string json_string(std::string_view text) {
    return dump(Json(text), -1);
}

std::string json_number(double number) {
    return std::isfinite(number) ? dump(Json(number), -1) : "null";
}

std::string json_problems(const Problems& problems) {
    Json list = Json::array();
    for (const auto& problem : problems) {
        list.push_back({{"kind", words(problem.kind)},
                        {"file", problem.where.file},
                        {"line", problem.where.line},
                        {"field", problem.where.field},
                        {"what", problem.what},
                        {"fix", problem.fix}});
    }
    return dump(Json{{"problems", std::move(list)}}, 2) + "\n";
}

}  // namespace beetwright::io
