// Which handler answers which request.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "http/message.hpp"

namespace beetwright::http {

/// What a route's pattern matched: {name} -> segment.
using PathValues = std::map<std::string, std::string, std::less<>>;
using Handler = std::function<Response(const Request&, const PathValues&)>;

class Router {
 public:
    /// `pattern`: segments parted by slashes, each a word or a {name} that stands for any one. Of
    /// two routes that fit a path, the one with the word where the other has a name is taken; two
    /// with the same pattern and method are a bug.
    void add(Method method, std::string_view pattern, Handler handler);

    /// The answer: of the route that fits; 404 where no pattern fits; 405 with Allow where one fits
    /// with another method. HEAD is answered as GET; leaving the body away is the server's doing.
    [[nodiscard]] Response answer(const Request& request) const;

    /// "GET /api/v1/fields/{name}", in the order in which they were added.
    [[nodiscard]] std::vector<std::string> routes() const;

 private:
    struct Route {
        Method method;
        std::vector<std::string> segments;
        Handler handler;
    };
    std::vector<Route> routes_;
};

std::string_view name_of(Method method);

}  // namespace beetwright::http
