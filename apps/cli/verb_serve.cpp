#include <fmt/chrono.h>
#include <fmt/format.h>
#include <malloc.h>

#include <atomic>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/access.hpp"
#include "app/jobs.hpp"
#include "app/metrics.hpp"
#include "app/people.hpp"
#include "app/people_routes.hpp"
#include "app/routes.hpp"
#include "app/season_keeper.hpp"
#include "app_pack.hpp"
#include "common.hpp"
#include "http/server.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ServeOptions {
    std::string season;
    std::uint16_t port = 8080;
    std::string address = "127.0.0.1";
    bool make_new = false;
    bool behind_tls = false;
    bool open = false;  ///< no accounts
    std::size_t job_memory_MB = 1024;
};

/// More than check passwords or wait for the same answer at once, so that reading goes on
/// meanwhile.
constexpr unsigned kWorkers = 16;

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

/// One line of JSON on standard error for each answer. Where that cannot be written, as to a full
/// disk, people are answered all the same.
void log_line(const http::Exchange& exchange) {
    const auto line = fmt::format(
        "{{\"at\": \"{}\", \"peer\": \"{}\", \"method\": \"{}\", \"target\": \"{}\", "
        "\"status\": {}, \"bytes\": {}, \"ms\": {:.1f}}}\n",
        to_text(now()), quotable(exchange.peer), quotable(exchange.method),
        quotable(app::without_tokens(exchange.target)), exchange.status, exchange.bytes,
        std::chrono::duration<double, std::milli>(exchange.took).count());
    std::fwrite(line.data(), 1, line.size(), stderr);
}

/// The file is there, or is made where that is asked for: a name that was misspelt makes none.
Result<Done> season_file_of(const ServeOptions& options) {
    if (options.make_new) {
        return make_season_file(options.season, std::chrono::floor<std::chrono::days>(now()));
    }
    std::error_code error;
    if (!std::filesystem::exists(options.season, error)) {
        return Problem{ProblemKind::missing,
                       {.file = options.season, .line = 0, .field = ""},
                       "there is no such season file",
                       "mend its name, or add --new to begin an empty season in it"};
    }
    return Done{};
}

/// Those who work on the season; nobody where there are no accounts.
Result<std::unique_ptr<app::People>> people_of(const ServeOptions& options) {
    if (!options.open) {
        return app::People::open(options.season, now);
    }
    if (!http::is_loopback(options.address)) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = "--open"},
                       "without accounts the season can be shown on this machine alone, not on " +
                           options.address,
                       "leave out --address, or leave out --open and invite people"};
    }
    return std::unique_ptr<app::People>();
}

/// Where a browser on this machine, or on the network the server listens to, finds it.
std::string link_to(const std::string& address, std::uint16_t port) {
    const bool is_any = address == "0.0.0.0" || address == "::";
    const bool is_long = address.find(':') != std::string::npos;
    const auto host = is_any ? "127.0.0.1" : is_long ? "[" + address + "]" : address;
    return fmt::format("http://{}:{}/", host, port);
}

void say_where(const ServeOptions& options, std::uint16_t port,
               const std::optional<std::string>& first_invitation) {
    const auto link = link_to(options.address, port);
    fmt::print("{}\n", link);
    if (first_invitation) {
        fmt::print("Nobody owns this season yet. Its owner joins here, once: {}#/join/{}\n", link,
                   *first_invitation);
    }
    std::fflush(stdout);
    if (!http::is_loopback(options.address) && !options.behind_tls) {
        fmt::print(
            stderr,
            "Passwords cross the network as they are, and tablets cannot work offline, until "
            "a proxy with TLS stands in front: docs/guide/serving.md\n");
    }
}

/// Signals that end the server are waited for; threads started from here on leave them alone. A
/// file that may not grow, or a log that nobody reads any more, fails the write and not the server.
sigset_t hold_signals() {
    std::signal(SIGXFSZ, SIG_IGN);
    std::signal(SIGPIPE, SIG_IGN);
    sigset_t signals;
    sigemptyset(&signals);
    sigaddset(&signals, SIGINT);
    sigaddset(&signals, SIGTERM);
    pthread_sigmask(SIG_BLOCK, &signals, nullptr);
    return signals;
}

/// Memory that a large request or answer took goes back to the machine when it is done, instead of
/// staying with whichever thread worked on it.
void give_memory_back() {
    mallopt(M_MMAP_THRESHOLD, 512 * 1024);
    mallopt(M_TRIM_THRESHOLD, 4 * 1024 * 1024);
    mallopt(M_ARENA_MAX, 4);
}

int serve(const ServeOptions& options) {
    give_memory_back();
    if (const auto file = season_file_of(options); !file) {
        return tell(file.problems());
    }
    auto people = people_of(options);
    if (!people) {
        return tell(people.problems());
    }
    const sigset_t signals = hold_signals();
    auto keeper = app::SeasonKeeper::open(options.season);
    if (!keeper) {
        return tell(keeper.problems());
    }
    const auto photos = app::Photos::open(options.season);
    if (!photos) {
        return tell(photos.problems());
    }
    const auto grounds = app::Grounds::open(options.season);
    if (!grounds) {
        return tell(grounds.problems());
    }
    const auto front = options.behind_tls ? app::Front::tls : app::Front::nothing;
    app::Access access = *people ? app::Access(**people, front) : app::Access::open();
    app::Metrics metrics;
    std::atomic<const http::Server*> running = nullptr;  // once it runs, it may be asked
    const auto connections = [&] {
        const auto* started = running.load();
        return started == nullptr ? 0 : started->connections();
    };
    const auto files = app::AppFiles::read(app_pack());
    if (!files) {
        return tell(files.problems());
    }
    app::Jobs jobs(now);
    app::add_every_route(access, {.keeper = **keeper,
                                  .files = *files,
                                  .people = people->get(),
                                  .clock = now,
                                  .metrics = metrics,
                                  .connections = connections,
                                  .photos = photos->get(),
                                  .jobs = &jobs,
                                  .job_bytes = options.job_memory_MB * 1'000'000,
                                  .grounds = grounds->get()});
    http::ServerOptions server_options;
    server_options.address = options.address;
    server_options.port = options.port;
    server_options.workers = kWorkers;
    auto server = http::Server::start(
        server_options, [&](const http::Request& request) { return access.answer(request); },
        [&](const http::Exchange& exchange) {
            metrics.note(exchange);
            log_line(exchange);
        });
    if (!server) {
        return tell(server.problems());
    }
    running = server->get();
    std::optional<std::string> first_invitation;
    if (*people) {
        auto made = (*people)->first_invitation();
        if (!made) {
            return tell(made.problems());
        }
        first_invitation = std::move(*made);
    }
    say_where(options, (*server)->port(), first_invitation);
    int signal = 0;
    sigwait(&signals, &signal);
    jobs.stop();  // first, so that whoever follows one hears of it
    (*server)->stop();
    return 0;
}

}  // namespace

void add_serve(CommandLine& program) {
    auto options = std::make_shared<ServeOptions>();
    auto verb = program.verb("serve", "Show a season file to browsers");
    verb.option("--season", options->season, "season file").required();
    verb.flag("--new", options->make_new, "begin an empty season in a file that is not there yet");
    verb.option("--port", options->port, "port; 0: any that is free").shows_default();
    verb.option("--address", options->address,
                "address of this machine to listen on; 0.0.0.0: all of them")
        .shows_default();
    verb.flag("--behind-tls", options->behind_tls,
              "a proxy that speaks TLS stands in front (docs/guide/serving.md)");
    verb.flag("--open", options->open, "no accounts: everybody on this machine may do everything");
    verb.option("--job-memory", options->job_memory_MB,
                "memory that one long question may take, in MB")
        .from_to(16, 1'000'000)
        .shows_default();
    verb.does([options] { return serve(*options); });
}

}  // namespace beetwright::cli
