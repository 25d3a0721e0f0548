#include "season_options.hpp"

namespace beetwright::cli {

void add_season_options(Verb& verb, SeasonOptions& options) {
    verb.option("--season", options.season, "season file or folder of tables").required();
    verb.option("--at", options.at,
                "what now is, an instant or a day; the last that is known without it");
    verb.option("--units", options.units, "metric or us; the season's own without it")
        .one_of({"metric", "us"});
    verb.flag("--json", options.json, "for programs");
}

}  // namespace beetwright::cli
