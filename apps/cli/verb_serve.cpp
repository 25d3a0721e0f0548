#include <fmt/chrono.h>
#include <fmt/format.h>

#include <atomic>
#include <csignal>
#include <cstdio>
#include <memory>

#include "app/metrics.hpp"
#include "app/routes.hpp"
#include "app/season_keeper.hpp"
#include "common.hpp"
#include "http/server.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ServeOptions {
    std::string season;
    std::uint16_t port = 8080;
};

/// Text as it stands between quotes in JSON.
std::string quotable(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
        }
        out += static_cast<unsigned char>(c) < 0x20 ? '?' : c;
    }
    return out;
}

/// One line of JSON on standard error for each answer.
void log_line(const http::Exchange& exchange) {
    const auto now =
        std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now());
    fmt::print(stderr,
               "{{\"at\": \"{}\", \"peer\": \"{}\", \"method\": \"{}\", \"target\": \"{}\", "
               "\"status\": {}, \"bytes\": {}, \"ms\": {:.1f}}}\n",
               to_text(Instant(now.time_since_epoch())), quotable(exchange.peer),
               quotable(exchange.method), quotable(exchange.target), exchange.status,
               exchange.bytes, std::chrono::duration<double, std::milli>(exchange.took).count());
}

int serve(const ServeOptions& options) {
    auto keeper = app::SeasonKeeper::open(options.season);
    if (!keeper) {
        return tell(keeper.problems());
    }
    // Signals are waited for below; threads started from here on leave them alone.
    sigset_t signals;
    sigemptyset(&signals);
    sigaddset(&signals, SIGINT);
    sigaddset(&signals, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &signals, nullptr);

    app::Metrics metrics;
    http::Router router;
    std::atomic<const http::Server*> running = nullptr;  // once it runs, it may be asked
    app::add_reading_routes(router, **keeper);
    router.add(http::Method::get, "/healthz", [&](const http::Request&, const http::PathValues&) {
        return http::Response{.body = "well\n", .headers = {}};
    });
    router.add(http::Method::get, "/metrics", [&](const http::Request&, const http::PathValues&) {
        const auto* started = running.load();
        return http::Response{.type = "text/plain; version=0.0.4",
                              .body = metrics.text(started ? started->connections() : 0),
                              .headers = {}};
    });
    http::ServerOptions server_options;
    server_options.port = options.port;
    auto server = http::Server::start(
        server_options, [&](const http::Request& request) { return router.answer(request); },
        [&](const http::Exchange& exchange) {
            metrics.note(exchange);
            log_line(exchange);
        });
    if (!server) {
        return tell(server.problems());
    }
    running = server->get();
    fmt::print("http://127.0.0.1:{}/\n", (*server)->port());
    std::fflush(stdout);
    int signal = 0;
    sigwait(&signals, &signal);
    (*server)->stop();
    return 0;
}

}  // namespace

void add_serve(CLI::App& program, Action& action) {
    auto options = std::make_shared<ServeOptions>();
    auto* verb = program.add_subcommand("serve", "Show a season file to browsers on this machine");
    verb->add_option("--season", options->season, "season file")->required();
    verb->add_option("--port", options->port, "port on 127.0.0.1; 0: any that is free")
        ->capture_default_str();
    verb->callback([&action, options] { action = [options] { return serve(*options); }; });
}

}  // namespace beetwright::cli
