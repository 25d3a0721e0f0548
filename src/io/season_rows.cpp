#include "io/season_rows.hpp"

namespace beetwright::io {

KnownIds ids_of(const ledger::Season& season) {
    KnownIds ids;
    const auto note = [&](Observed kind, const auto& all) {
        auto& of_kind = ids[static_cast<std::size_t>(kind)];
        of_kind.reserve(all.size());
        for (const auto& one : all) {
            of_kind.push_back(one.id);
        }
    };
    note(Observed::load, season.loads);
    note(Observed::sheet, season.beet_sheets);
    note(Observed::strip, season.strips);
    note(Observed::tare, season.tares);
    note(Observed::lab, season.labs);
    return ids;
}

}  // namespace beetwright::io
