// What a season keeps of its fields' ground, and what is worked out from it: the relief, and zones.
//
// Heights are kept as they came; the surface is worked out from them when it is first wanted, and
// held. docs/formats/api.md.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/progress.hpp"
#include "base/result.hpp"
#include "ground/surface.hpp"
#include "ledger/season.hpp"
#include "maps/field_ground.hpp"
#include "maps/zone_plan.hpp"
#include "records/ground_store.hpp"

namespace beetwright::app {

/// What somebody sends of a field's ground.
struct GroundSent {
    records::GroundPart part{};
    std::string field;
    std::string file = {};  ///< its name, for messages; empty: drawn or worked out here
    std::string bytes = {};
    /// What is said beside the file: `crs`, `height_unit`, `first_day`.
    std::map<std::string, std::string> said = {};
};

/// By which changes of the ground a field's relief came about; 0: none.
struct ReliefStamp {
    std::int64_t heights = 0;
    std::int64_t border = 0;
    friend bool operator==(const ReliefStamp&, const ReliefStamp&) = default;
};

/// Zones that are kept, as they go out.
struct GroundPlan {
    maps::ZonePlan zones;
    std::string machine;
    Instant at{};
};

struct GroundTaken;

/// All members may be called from several threads at once.
class Grounds {
 public:
    using SurfaceHeld = std::shared_ptr<const ground::Surface>;

    static Result<std::unique_ptr<Grounds>> open(const std::string& season_file);

    /// Rises with every change of what is kept.
    Result<std::int64_t> revision();
    /// Of every field of which anything is kept, in JSON.
    Result<std::string> list(const ledger::Season& season);

    /// Puts a part in the place of the one that is there; gives the field in JSON, with notes.
    /// Problems: all that reading the file finds; heights that do not reach the border.
    Result<std::string> set(const ledger::Season& season, const GroundSent& sent,
                            const Uuid& person, Instant at);
    Result<Done> remove(const std::string& field, records::GroundPart part, const Uuid& person,
                        Instant at);

    Result<ReliefStamp> relief_stamp(const std::string& field);
    Result<SurfaceHeld> surface(const std::string& field);
    /// In JSON.
    Result<std::string> relief(const std::string& field);

    /// Answers io::kZonesQuestion, with outlines. Problem besides: nothing is kept of the field's
    /// heights.
    Result<std::string> zones(const ledger::Season& season,
                              const std::map<std::string, std::string>& parameters,
                              Progress& progress);
    /// The zones that are kept, as they go out.
    Result<GroundPlan> plan(const ledger::Season& season, const std::string& field);

 private:
    explicit Grounds(records::GroundStore store) : store_(std::move(store)) {}

    struct Held {
        ReliefStamp stamp;
        SurfaceHeld surface;
    };
    static constexpr std::size_t kMostHeld = 64;

    /// Calls `use(records::GroundStore&)` while nobody else does.
    template <class Use>
    auto with_store(Use&& use) {
        const std::lock_guard lock(store_mutex_);
        return use(store_);
    }
    Result<std::optional<ground::Area>> border_of(const std::string& field);
    Result<std::optional<maps::HeightsReading>> heights_of(const std::string& field);
    Result<std::vector<records::GroundEntry>> entries_of(const std::string& field);

    // These want making_ held.
    Result<SurfaceHeld> surface_now(const std::string& field);
    SurfaceHeld hold_now(const std::string& field, const ReliefStamp& stamp,
                         ground::Surface surface);
    Result<std::optional<ground::Surface>> surface_after(const GroundSent& sent,
                                                         const GroundTaken& taken,
                                                         const std::optional<ground::Area>& border);

    std::mutex store_mutex_;
    records::GroundStore store_;
    /// Surfaces take seconds: they are made one by one, and whoever asks for something else does
    /// not wait for them.
    std::mutex making_;
    std::map<std::string, Held> held_;
};

}  // namespace beetwright::app
