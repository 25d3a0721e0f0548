#include <fmt/format.h>

#include <chrono>
#include <memory>
#include <string>
#include <vector>

#include "app/people.hpp"
#include "common.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct InviteOptions {
    std::string season;
    std::string role = std::string(word_of(Role::owner));
};

Instant now() {
    return std::chrono::time_point_cast<std::chrono::milliseconds>(
        std::chrono::system_clock::now());
}

int invite(const InviteOptions& options) {
    const auto people = app::People::open(options.season, now);
    if (!people) {
        return tell(people.problems());
    }
    const auto invited =
        (*people)->invite_from_machine(role_named(options.role).value_or(Role::viewer));
    if (!invited) {
        return tell(invited.problems());
    }
    fmt::print(
        "/#/join/{}\n"
        "Put it behind the address of the server. Whoever opens it joins as {}, once, until {}.\n",
        invited->token, options.role, to_text(invited->expires));
    return 0;
}

}  // namespace

void add_invite(CommandLine& program) {
    auto options = std::make_shared<InviteOptions>();
    auto verb =
        program.verb("invite", "Make a link by which somebody joins a season that is served");
    verb.option("--season", options->season, "season file").required();
    std::vector<std::string> roles;
    for (const auto& named : kRoles) {
        roles.emplace_back(named.word);
    }
    verb.option("--as", options->role, "what they may do").one_of(roles).shows_default();
    verb.does([options] { return invite(*options); });
}

}  // namespace beetwright::cli
