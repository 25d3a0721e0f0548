#include "app/app_files.hpp"

#include <algorithm>
#include <sstream>

#include "app/answers.hpp"
#include "http/accept_encoding.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

constexpr std::string_view kFirstLine = "beetwright app 1";

// The app runs its own scripts and its engine, and talks to this server alone. Parts of drawings
// are placed by style attributes.
constexpr const char* kPolicy =
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; "
    "style-src-attr 'unsafe-inline'; img-src 'self' blob: data:; object-src 'none'; "
    "frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

Problem damaged() {
    return {ProblemKind::outside,
            {},
            "the app that this program carries is damaged",
            "build it again with ./run"};
}

Response answer(const AppFiles::File& file, const Request& request, bool is_named_by_content) {
    const std::string tag = "\"" + file.tag + "\"";
    Response response;
    response.type = file.type;
    response.headers = {
        {"Cache-Control", is_named_by_content ? "public, max-age=31536000, immutable" : "no-cache"},
        {"ETag", tag},
        {"Vary", "Accept-Encoding"},
        {"X-Content-Type-Options", "nosniff"},
        {"Content-Security-Policy", kPolicy},
        {"Referrer-Policy", "no-referrer"}};
    if (request.header("if-none-match") == tag) {
        response.status = 304;
    } else if (http::takes_coding(request.header("accept-encoding"), "br")) {
        response.headers.emplace_back("Content-Encoding", "br");
        response.body = file.compressed;
    } else {
        response.body = file.bytes;
    }
    return response;
}

Response not_there() {
    return refused(Problem{ProblemKind::missing,
                           {},
                           "the app has no such file",
                           "open the app anew; it may be an older version's"});
}

}  // namespace

Result<AppFiles> AppFiles::read(std::string_view pack) {
    AppFiles files;
    if (pack.empty()) {
        return files;
    }
    const auto end_of_head = pack.find("\n\n");
    if (!pack.starts_with(kFirstLine) || end_of_head == std::string_view::npos) {
        return damaged();
    }
    std::istringstream head{
        std::string(pack.substr(kFirstLine.size(), end_of_head - kFirstLine.size()))};
    std::size_t at = end_of_head + 2;
    const auto take = [&](std::size_t bytes) {
        const auto part = pack.substr(std::min(at, pack.size()), bytes);
        at += bytes;
        return part;
    };
    std::string path;
    File file;
    std::size_t bytes = 0;
    std::size_t compressed_bytes = 0;
    while (head >> path >> file.type >> file.tag >> bytes >> compressed_bytes) {
        file.bytes = take(bytes);
        file.compressed = take(compressed_bytes);
        files.files_[path] = file;
    }
    if (at != pack.size() || files.empty()) {
        return damaged();
    }
    return files;
}

const AppFiles::File* AppFiles::find(std::string_view path) const {
    const auto found = files_.find(path);
    return found == files_.end() ? nullptr : &found->second;
}

std::size_t AppFiles::compressed_bytes() const {
    std::size_t sum = 0;
    for (const auto& [path, file] : files_) {
        sum += file.compressed.size();
    }
    return sum;
}

void add_app_routes(Access& access, const AppFiles& files) {
    access.add(Method::get, "/", Needs::anyone,
               [&files](const Request& request, const PathValues&, const Person*) {
                   const auto* page = files.find("/index.html");
                   return page == nullptr ? Response{.status = 303,
                                                     .body = "The report is at /api/v1/report.\n",
                                                     .headers = {{"Location", "/api/v1/report"}}}
                                          : answer(*page, request, false);
               });
    for (const std::string path : {"/service-worker.js", "/manifest.webmanifest", "/icon.svg"}) {
        access.add(Method::get, path, Needs::anyone,
                   [&files, path](const Request& request, const PathValues&, const Person*) {
                       const auto* file = files.find(path);
                       return file == nullptr ? not_there() : answer(*file, request, false);
                   });
    }
    access.add(Method::get, "/assets/{file}", Needs::anyone,
               [&files](const Request& request, const PathValues& values, const Person*) {
                   const auto* file = files.find("/assets/" + values.at("file"));
                   return file == nullptr ? not_there() : answer(*file, request, true);
               });
}

}  // namespace beetwright::app
