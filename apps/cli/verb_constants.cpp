#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "io/constants_text.hpp"
#include "ledger/model.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ConstantsOptions {
    std::string season;
    std::string id;
    bool json = false;
};

int show_constants(const ConstantsOptions& options) {
    ledger::Season season;
    if (!options.season.empty()) {
        auto loaded = load_season(options.season);
        if (!loaded) {
            return tell(loaded.problems());
        }
        season = std::move(*loaded);
    }
    const auto catalogue = ledger::season_catalogue(season);
    if (!catalogue) {
        return tell(catalogue.problems());
    }
    fmt::print("{}", options.json ? io::constants_json(*catalogue, options.id)
                                  : io::constants_text(*catalogue, options.id));
    return 0;
}

}  // namespace

void add_constants(CommandLine& program) {
    auto options = std::make_shared<ConstantsOptions>();
    auto verb = program.verb("constants",
                             "Show every number the models borrow, with its spread and source");
    verb.option("start", options->id, "only ids that start like this, e.g. tip");
    verb.option("--season", options->season, "with this season's own numbers in place");
    verb.flag("--json", options->json, "for programs");
    verb.does([options] { return show_constants(*options); });
}

}  // namespace beetwright::cli
