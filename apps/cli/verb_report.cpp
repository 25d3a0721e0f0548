#include <fmt/format.h>

#include <memory>
#include <thread>

#include "common.hpp"
#include "engine/report_question.hpp"
#include "io/ledger_words.hpp"
#include "io/report_html.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ReportOptions {
    std::string season;
    std::string out;
    std::string units;
    std::string slice_in;
};

int write_report(const ReportOptions& options) {
    auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    std::optional<int> slice_after_days;
    if (!options.slice_in.empty()) {
        auto days = io::read_days(options.slice_in);
        if (!days) {
            return tell(days.problems());
        }
        slice_after_days = *days;
    }
    WorkerPool pool(std::max(1U, std::thread::hardware_concurrency()));
    auto report = engine::ask_report(*season, {.slice_after_days = slice_after_days}, pool);
    if (!report) {
        return tell(report.problems());
    }
    const io::PeopleUnits units(chosen_units(options.units, *season), season->currency);
    auto written = write_file(options.out, io::report_html(*report, units));
    if (!written) {
        return tell(written.problems());
    }
    fmt::print("Wrote {}\n", options.out);
    return 0;
}

}  // namespace

void add_report(CommandLine& program) {
    auto options = std::make_shared<ReportOptions>();
    auto verb = program.verb("report", "Write the season's ledger as one page");
    verb.option("--season", options->season, "season file or folder of tables").required();
    verb.option("--out", options->out, "the HTML file to write").required();
    verb.option("--slice-in", options->slice_in, "as for ledger");
    verb.option("--units", options->units, "metric or us; else the season's own")
        .one_of({"metric", "us"});
    verb.does([options] { return write_report(*options); });
}

}  // namespace beetwright::cli
