#include <cstdio>
#include <filesystem>
#include <memory>

#include "common.hpp"
#include "records/season_file.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct BackupOptions {
    std::string season;
    std::string to;
};

Result<Done> back_up(const BackupOptions& options) {
    std::error_code error;
    if (!std::filesystem::exists(options.season, error)) {
        return Problem{ProblemKind::missing,
                       {.file = options.season, .line = 0, .field = ""},
                       "there is no such season file",
                       "name one made by `beetwright import`"};
    }
    const auto file = records::SeasonFile::open(options.season, records::OpenMode::read_only);
    if (!file) {
        return file.problems();
    }
    return file->back_up(options.to);
}

int backup(const BackupOptions& options) {
    if (auto done = back_up(options); !done) {
        return tell(done.problems());
    }
    std::printf("Copied the season to %s\n", options.to.c_str());
    return 0;
}

}  // namespace

void add_backup(CommandLine& program) {
    auto options = std::make_shared<BackupOptions>();
    auto verb = program.verb("backup", "Copy a season file, also while it is served");
    verb.option("--season", options->season, "the season file").required();
    verb.option("--to", options->to, "where the copy goes; must not be there yet").required();
    verb.does([options] { return backup(*options); });
}

}  // namespace beetwright::cli
