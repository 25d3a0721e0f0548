#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "io/settle_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct SettleOptions {
    std::string season;
    std::string field;
    std::string grower;
    bool json = false;
};

int settle_loads(const SettleOptions& options) {
    auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    auto answer = engine::ask_settle(*season, {.field = options.field, .grower = options.grower});
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json ? io::settle_json(*answer, season->currency)
                                  : io::settle_text(*answer, season->currency));
    return 0;
}

}  // namespace

void add_settle(CommandLine& program) {
    auto options = std::make_shared<SettleOptions>();
    auto verb = program.verb("settle", "Settle the weighed loads by the payment terms");
    verb.option("--season", options->season, "season file or folder of tables").required();
    verb.option("--field", options->field, "only this field's loads");
    verb.option("--grower", options->grower, "only this grower's loads");
    verb.flag("--json", options->json, "for programs");
    verb.does([options] { return settle_loads(*options); });
}

}  // namespace beetwright::cli
