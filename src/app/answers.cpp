#include "app/answers.hpp"

#include "io/problems_json.hpp"

namespace beetwright::app {
namespace {

int status_of(ProblemKind kind) {
    switch (kind) {
        case ProblemKind::input:
        case ProblemKind::limit: break;
        case ProblemKind::missing: return 404;
        case ProblemKind::conflict: return 409;
        case ProblemKind::outside: return 503;
        case ProblemKind::denied: return 403;
    }
    return 400;
}

}  // namespace

http::Response json(std::string body, int status) {
    return {.status = status,
            .type = "application/json",
            .body = std::move(body),
            .headers = {{"Cache-Control", "no-store"}}};
}

// The page runs nothing and fetches nothing; a browser is told to hold it to that.
http::Response page(std::string body) {
    return {.status = 200,
            .type = "text/html; charset=utf-8",
            .body = std::move(body),
            .headers = {{"Cache-Control", "no-store"},
                        {"Content-Security-Policy",
                         "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; "
                         "base-uri 'none'; form-action 'none'"},
                        {"Referrer-Policy", "no-referrer"}}};
}

http::Response refused(const Problems& problems, int status) {
    return json(io::problems_json(problems), status);
}
http::Response refused(const Problems& problems) {
    return refused(problems, status_of(problems.front().kind));
}
http::Response refused(Problem problem) {
    return refused(Problems{std::move(problem)});
}

Problem wrong_parameter(const std::string& name, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = name},
            std::move(what),
            std::move(fix)};
}
Problem unknown_parameter(const std::string& name) {
    return wrong_parameter(name, "nothing here is called this", "leave it out, or mend its name");
}

}  // namespace beetwright::app
