// Routes for the photographs that people take beside their counts. docs/formats/api.md.
#pragma once

#include <functional>
#include <memory>
#include <mutex>

#include "app/access.hpp"
#include "app/season_keeper.hpp"
#include "records/photo_store.hpp"

namespace beetwright::app {

/// A store that several threads may use.
class Photos {
 public:
    static Result<std::unique_ptr<Photos>> open(const std::string& season_file);

    /// Calls `use(records::PhotoStore&)` while nobody else does.
    template <class Use>
    auto with(Use&& use) {
        const std::lock_guard lock(mutex_);
        return use(store_);
    }

 private:
    explicit Photos(records::PhotoStore store) : store_(std::move(store)) {}

    std::mutex mutex_;
    records::PhotoStore store_;
};

/// All that is handed in outlives the routes.
void add_photo_routes(Access& access, SeasonKeeper& keeper, Photos& photos,
                      std::function<Instant()> clock);

}  // namespace beetwright::app
