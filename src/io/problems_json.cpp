#include "io/problems_json.hpp"

#include "io/json.hpp"

namespace beetwright::io {

std::string_view key(ProblemKind kind) {
    switch (kind) {
        case ProblemKind::input: return "input";
        case ProblemKind::conflict: return "conflict";
        case ProblemKind::missing: return "missing";
        case ProblemKind::limit: return "limit";
        case ProblemKind::outside: return "outside";
        case ProblemKind::denied: return "denied";
    }
    return "";
}

std::string problems_json(const Problems& problems) {
    Json list = Json::array();
    for (const auto& problem : problems) {
        Json one = {{"kind", key(problem.kind)}};
        if (!problem.where.file.empty()) {
            one["file"] = problem.where.file;
        }
        if (problem.where.line > 0) {
            one["line"] = problem.where.line;
        }
        if (!problem.where.field.empty()) {
            one["field"] = problem.where.field;
        }
        one["what"] = problem.what;
        one["fix"] = problem.fix;
        list.push_back(std::move(one));
    }
    return Json{{"problems", std::move(list)}}.lines() + "\n";
}

}  // namespace beetwright::io
