#include "app/season_snapshot.hpp"

#include "ledger/observation_kinds.hpp"

#include <algorithm>

namespace beetwright::app {

Result<BasisOnDemand::Basis> BasisOnDemand::of(const ledger::Season& season) {
    const std::lock_guard lock(mutex_);
    if (!is_done_) {
        auto basis = engine::ledger_basis(season, engine::kUsualDraws, newest_.get());
        if (!basis) {
            return basis.problems();
        }
        newest_ = std::make_shared<const engine::LedgerBasis>(std::move(*basis));
        is_done_ = true;
    }
    return newest_;
}

BasisOnDemand::Basis BasisOnDemand::newest() {
    const std::lock_guard lock(mutex_);
    return newest_;
}

engine::HarvesterMemory SharedMemory::copy() {
    const std::lock_guard lock(mutex_);
    return memory_;
}

void SharedMemory::keep(engine::HarvesterMemory memory) {
    const std::lock_guard lock(mutex_);
    if (memory.steps_taken() > memory_.steps_taken()) {
        memory_ = std::move(memory);
    }
}

std::int64_t Snapshot::field_changed(const std::string& field) const {
    const auto added = added_to_field.find(field);
    return added == added_to_field.end() ? only_added_since
                                         : std::max(only_added_since, added->second);
}

namespace {

/// A tablet that was away for longer fetches the season whole.
constexpr std::size_t kMostAdditions = 500;

}  // namespace

Snapshot snapshot_of(records::Loaded loaded, const Snapshot* before) {
    Snapshot snapshot;
    snapshot.season = std::move(loaded.season);
    snapshot.ids = io::ids_of(snapshot.season);
    snapshot.revision = loaded.revision;
    snapshot.weather_revision = loaded.weather_revision;
    snapshot.only_added_since = loaded.revision;
    snapshot.additions_since = loaded.revision;
    snapshot.harvesters = before == nullptr ? std::make_shared<SharedMemory>() : before->harvesters;
    snapshot.basis =
        std::make_shared<BasisOnDemand>(before == nullptr ? nullptr : before->basis->newest());
    return snapshot;
}

Snapshot successor_of(const Snapshot& before) {
    Snapshot next = before;
    next.basis = std::make_shared<BasisOnDemand>(before.basis->newest());
    return next;
}

void add_to(Snapshot& snapshot, Addition addition) {
    std::size_t kind = 0;
    ledger::for_each_kind(addition.observations, [&](const auto& all) {
        auto& ids = snapshot.ids[kind++];
        for (const auto& one : all) {
            ids.push_back(one.id);
            if constexpr (requires { one.field; }) {  // some are of a machine or a pile
                snapshot.added_to_field[one.field] = addition.revision;
            }
            if (!one.supersedes.is_nil()) {
                // What it corrects may have been of another field.
                snapshot.only_added_since = addition.revision;
            }
        }
    });
    ledger::add_observations(snapshot.season, addition.observations);
    snapshot.revision = addition.revision;
    snapshot.additions.push_back(std::make_shared<const Addition>(std::move(addition)));
    if (snapshot.additions.size() > kMostAdditions) {
        snapshot.additions_since = snapshot.additions.front()->revision;
        snapshot.additions.erase(snapshot.additions.begin());
    }
}

std::optional<ledger::Season> Snapshot::added_after(std::int64_t after) const {
    if (after < additions_since || after > revision) {
        return std::nullopt;
    }
    ledger::Season added;
    for (const auto& one : additions) {
        if (one->revision > after) {
            ledger::add_observations(added, one->observations);
        }
    }
    return added;
}

std::optional<std::vector<io::Received>> Snapshot::received_after(std::int64_t after) const {
    if (after < additions_since || after > revision) {
        return std::nullopt;
    }
    std::vector<io::Received> came;
    for (const auto& one : additions) {
        if (one->revision > after) {
            came.insert(came.end(), one->received.begin(), one->received.end());
        }
    }
    return came;
}

}  // namespace beetwright::app
