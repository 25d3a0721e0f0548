#include "app/season_keeper.hpp"

namespace beetwright::app {

Result<std::unique_ptr<SeasonKeeper>> SeasonKeeper::open(const std::string& path) {
    auto file = records::SeasonFile::open(path, records::OpenMode::read_only);
    if (!file) {
        return file.problems();
    }
    std::unique_ptr<SeasonKeeper> keeper(new SeasonKeeper(std::move(*file)));
    if (auto first = keeper->season(); !first) {
        return first.problems();
    }
    return keeper;
}

Result<std::shared_ptr<const ledger::Season>> SeasonKeeper::season() {
    const std::lock_guard lock(mutex_);
    const auto version = file_.version();
    if (!version) {
        return version.problems();
    }
    if (!season_ || *version != version_) {
        auto loaded = file_.load();
        if (!loaded) {
            return loaded.problems();
        }
        season_ = std::make_shared<const ledger::Season>(std::move(*loaded));
        version_ = *version;
    }
    return season_;
}

}  // namespace beetwright::app
