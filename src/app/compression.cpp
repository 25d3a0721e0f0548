#include "app/compression.hpp"

#include <algorithm>

#include "http/accept_encoding.hpp"
#include "http/gzip.hpp"

namespace beetwright::app {
namespace {

/// What fits one packet arrives no sooner for being shorter.
constexpr std::size_t kLeast_bytes = 1024;

bool has_coding(const http::Response& answer) {
    return std::ranges::any_of(
        answer.headers, [](const auto& header) { return header.first == "Content-Encoding"; });
}

bool takes_gzip(const http::Request& request) {
    return http::takes_coding(request.header("accept-encoding"), "gzip");
}

}  // namespace

http::Response compressed(http::Response answer, const http::Request& request) {
    if (answer.status >= 400 || answer.stream || has_coding(answer)) {
        return answer;
    }
    answer.headers.emplace_back("Vary", "Accept-Encoding");
    if (answer.body.size() < kLeast_bytes || !takes_gzip(request)) {
        return answer;
    }
    auto shorter = http::gzipped(answer.body);
    if (shorter && shorter->size() < answer.body.size()) {
        answer.body = std::move(*shorter);
        answer.headers.emplace_back("Content-Encoding", "gzip");
    }
    return answer;
}

std::string key_of_form(std::string key, const http::Request& request) {
    return (takes_gzip(request) ? "gzip " : "") + std::move(key);
}

}  // namespace beetwright::app
