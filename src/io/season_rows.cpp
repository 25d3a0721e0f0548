#include "io/season_rows.hpp"

#include "ledger/observation_kinds.hpp"

namespace beetwright::io {

KnownIds ids_of(const ledger::Season& season) {
    KnownIds ids;
    std::size_t kind = 0;
    ledger::for_each_kind(season, [&](const auto& all) {
        auto& of_kind = ids[kind++];
        of_kind.reserve(all.size());
        for (const auto& one : all) {
            of_kind.push_back(one.id);
        }
    });
    return ids;
}

}  // namespace beetwright::io
