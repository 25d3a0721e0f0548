#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "io/check_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct CheckOptions {
    std::string season;
    std::string field;
    std::string now;
    std::string before;
    bool json = false;
};

/// Reads "3/20": hits and beets.
Result<check::ShareCount> parse_count(const std::string& text) {
    check::ShareCount count;
    int used = 0;
    const bool read = std::sscanf(text.c_str(), "%d/%d%n", &count.hits, &count.beets, &used) == 2 &&
                      static_cast<std::size_t>(used) == text.size();
    const bool possible = read && count.hits >= 0 && count.beets >= 1 && count.beets <= 1'000'000 &&
                          count.hits <= count.beets;
    if (!possible) {
        return Problem{ProblemKind::input,
                       {},
                       "'" + text + "' is not a count of beets",
                       "write rejects/beets, such as 3/20, with no more rejects than beets"};
    }
    return count;
}

int compare_counts(const CheckOptions& options) {
    auto now = parse_count(options.now);
    auto before = parse_count(options.before);
    if (!now) {
        return tell(now.problems());
    }
    if (!before) {
        return tell(before.problems());
    }
    const auto answer = check::compare(*before, *now);
    if (options.json) {
        fmt::print("{}", io::change_json(answer));
    } else {
        fmt::print("{}\n", check::words(answer, *before, *now));
    }
    return 0;
}

int check_field(const CheckOptions& options) {
    auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    auto answer = engine::ask_check(*season, options.field);
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json ? io::check_json(*answer) : io::check_text(*answer));
    return 0;
}

}  // namespace

void add_check(CommandLine& program) {
    auto options = std::make_shared<CheckOptions>();
    auto verb = program.verb("check",
                             "Say what counted beets prove: of a field, or of two counts typed in");
    auto season = verb.option("--season", options->season, "season file or folder of tables");
    auto field = verb.option("--field", options->field, "the field").needs(season);
    season.needs(field);
    auto now = verb.option("--now", options->now, "rejects/beets now, such as 3/20");
    auto before = verb.option("--before", options->before, "rejects/beets before, such as 1/20");
    now.excludes(season).needs(before);
    before.needs(now);
    verb.flag("--json", options->json, "for programs");
    verb.does(
        [options] {
            return options->now.empty() ? check_field(*options) : compare_counts(*options);
        },
        [options]() -> std::optional<std::string> {
            if (options->season.empty() && options->now.empty()) {
                return "either --season and --field, or --now and --before";
            }
            return std::nullopt;
        });
}

}  // namespace beetwright::cli
