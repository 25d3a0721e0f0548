// The season as it stood at one revision of its file, with what many questions put to it share.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "engine/harvester_memory.hpp"
#include "engine/ledger_question.hpp"
#include "io/season_rows.hpp"
#include "io/sync_json.hpp"
#include "ledger/season.hpp"
#include "records/season_file.hpp"

namespace beetwright::app {

/// The basis of a season's ledgers, worked out when it is first asked for.
class BasisOnDemand {
 public:
    using Basis = std::shared_ptr<const engine::LedgerBasis>;
    /// `before`: of the season as it was, if it was worked out.
    explicit BasisOnDemand(Basis before = nullptr) : newest_(std::move(before)) {}

    /// Always of the same season. May be called from several threads at once.
    Result<Basis> of(const ledger::Season& season);
    /// Of this season, or of the one before, or null.
    Basis newest();

 private:
    std::mutex mutex_;
    bool is_done_ = false;
    Basis newest_;
};

/// What earlier questions about harvesters went through, for many threads and every snapshot: each
/// question works on a copy, and leaves what it went through to the next.
class SharedMemory {
 public:
    engine::HarvesterMemory copy();
    /// Unless one that went through more is kept already.
    void keep(engine::HarvesterMemory memory);

 private:
    std::mutex mutex_;
    engine::HarvesterMemory memory_;
};

/// Observations that made a revision, and from whom each came.
struct Addition {
    std::int64_t revision = 0;
    ledger::Season observations;
    std::vector<io::Received> received;
};

struct Snapshot {
    ledger::Season season;
    io::KnownIds ids;
    std::int64_t revision = 0;
    std::int64_t weather_revision = 0;  ///< at which the weather last changed
    /// Since this revision nothing but observations that correct none have been added ...
    std::int64_t only_added_since = 0;
    /// ... the last of a field at this revision.
    std::map<std::string, std::int64_t> added_to_field;
    std::shared_ptr<BasisOnDemand> basis;
    std::shared_ptr<SharedMemory> harvesters;
    /// All that changed since `additions_since`, in order.
    std::vector<std::shared_ptr<const Addition>> additions;
    std::int64_t additions_since = 0;

    /// The observations that were added after a revision; nothing where more may have changed.
    [[nodiscard]] std::optional<ledger::Season> added_after(std::int64_t revision) const;
    /// Likewise from whom they came.
    [[nodiscard]] std::optional<std::vector<io::Received>> received_after(
        std::int64_t revision) const;
    /// The last revision at which anything that concerns a field alone may have changed.
    [[nodiscard]] std::int64_t field_changed(const std::string& field) const;
};

/// A season that was read anew. `before`: the snapshot before it, if any.
Snapshot snapshot_of(records::Loaded loaded, const Snapshot* before);
/// A copy to which observations are to be added.
Snapshot successor_of(const Snapshot& before);
/// Adds observations that made a revision.
void add_to(Snapshot& snapshot, Addition addition);

}  // namespace beetwright::app
