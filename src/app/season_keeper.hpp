// One season file, kept open and read anew only when somebody has changed it.
#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <string>

#include "base/result.hpp"
#include "ledger/season.hpp"
#include "records/season_file.hpp"

namespace beetwright::app {

class SeasonKeeper {
 public:
    static Result<std::unique_ptr<SeasonKeeper>> open(const std::string& path);

    /// The season as the file holds it now; the same object as long as the file is unchanged. May
    /// be called from several threads at once.
    Result<std::shared_ptr<const ledger::Season>> season();

 private:
    explicit SeasonKeeper(records::SeasonFile file) : file_(std::move(file)) {}

    std::mutex mutex_;
    records::SeasonFile file_;
    std::int64_t version_ = 0;
    std::shared_ptr<const ledger::Season> season_;
};

}  // namespace beetwright::app
