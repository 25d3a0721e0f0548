#include "records/piles_check.hpp"

#include <algorithm>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "ledger/season.hpp"
#include "records/edited_rows.hpp"
#include "records/pile_load.hpp"
#include "records/row.hpp"

namespace beetwright::records {
namespace {

struct TippedLoad {
    Uuid id;
    std::string pile;
    check::Stretch stretch;
};

class PilesCheck {
 public:
    PilesCheck(std::vector<ledger::PileSite> piles, std::set<std::string> factories,
               const io::RowPlaces& places, Problems& problems)
        : piles_(std::move(piles)),
          factories_(std::move(factories)),
          places_(places),
          problems_(problems) {}

    void look_at_sites() {
        for (const auto& site : piles_) {
            is_pile(site.name, {.file = "piles.csv", .line = 0, .field = "name"});
            for (const auto& fan : site.fans) {
                tell(site.name, {.file = "fans.csv", .line = 0, .field = ""},
                     ledger::problems_of(fan, site));
            }
        }
    }
    void look_at(const check::CoverChange& cover) {
        look_at(cover.id, cover.pile, "covers.csv", [&](const ledger::PileSite& site) {
            return ledger::problems_of(cover.stretch, site);
        });
    }
    void look_at(const check::ProbeReading& reading) {
        look_at(reading.id, reading.pile, "probes.csv",
                [&](const ledger::PileSite& site) { return ledger::problems_of(reading, site); });
    }
    void look_at(const check::PileRemoval& removal) {
        look_at(removal.id, removal.pile, "removals.csv", [&](const ledger::PileSite& site) {
            return ledger::problems_of(removal.stretch, site);
        });
    }
    void look_at(const TippedLoad& load) {
        look_at(load.id, load.pile, "loads.csv", [&](const ledger::PileSite& site) {
            auto problems = ledger::problems_of(load.stretch, site);
            for (Problem& problem : problems) {
                problem.where.field.insert(0, "along_");
            }
            return problems;
        });
    }

 private:
    template <class ProblemsAt>
    void look_at(const Uuid& id, const std::string& pile, const char* file,
                 ProblemsAt&& problems_at) {
        Where where = place_of(id, places_, "pile");
        if (where.file.empty()) {
            where.file = file;
        }
        if (!is_pile(pile, where)) {
            return;
        }
        const auto site = std::ranges::find(piles_, pile, &ledger::PileSite::name);
        if (site != piles_.end()) {
            tell(pile, where, problems_at(*site));
        }
    }
    /// Told once: all that was seen of it would say the same.
    bool is_pile(const std::string& name, const Where& where) {
        if (!factories_.contains(name)) {
            return true;
        }
        if (told_.insert(name).second) {
            problems_.push_back({ProblemKind::conflict, where,
                                 "\"" + name +
                                     "\" was a pile, of which more is known, and is a "
                                     "factory now",
                                 "write pile under kind in destinations.csv"});
        }
        return false;
    }
    void tell(const std::string& pile, Where where, const Problems& found) {
        for (const Problem& problem : found) {
            where.field = problem.where.field;
            problems_.push_back(
                {ProblemKind::conflict, where,
                 "with what was imported before, of \"" + pile + "\": " + problem.what,
                 problem.fix});
        }
    }

    std::vector<ledger::PileSite> piles_;
    std::set<std::string> factories_;
    const io::RowPlaces& places_;
    Problems& problems_;
    std::set<std::string> told_;
};

Result<std::set<std::string>> load_factories(const Database& database) {
    std::set<std::string> factories;
    const auto read = for_each_row(
        database, "SELECT name, kind FROM destinations", [&](const Statement& statement) {
            Row row(statement);
            std::string name = row.text();
            if (row.word<ledger::DestinationKind>() == ledger::DestinationKind::factory) {
                factories.insert(std::move(name));
            }
        });
    if (!read) {
        return read.problems();
    }
    return factories;
}

Result<std::vector<TippedLoad>> load_tipped(const Database& database) {
    std::vector<TippedLoad> loads;
    const auto read =
        for_each_row(database,
                     "SELECT id, destination, along_from, along_to FROM loads "
                     "WHERE along_from IS NOT NULL OR along_to IS NOT NULL ORDER BY position",
                     [&](const Statement& statement) {
                         Row row(statement);
                         TippedLoad load;
                         load.id = row.uuid();
                         load.pile = row.text();
                         load.stretch.from = Length(row.real());
                         load.stretch.to = Length(row.real());
                         loads.push_back(std::move(load));
                     });
    if (!read) {
        return read.problems();
    }
    return loads;
}

template <class One>
Result<Done> look_at_all(PilesCheck& check, const Result<std::vector<One>>& all) {
    if (!all) {
        return all.problems();
    }
    for (const auto& one : *all) {
        check.look_at(one);
    }
    return Done{};
}

}  // namespace

Result<Done> check_piles(const Database& database, const io::RowPlaces& places,
                         Problems& problems) {
    auto piles = load_piles(database);
    if (!piles) {
        return piles.problems();
    }
    auto factories = load_factories(database);
    if (!factories) {
        return factories.problems();
    }
    PilesCheck check(std::move(*piles), std::move(*factories), places, problems);
    check.look_at_sites();
    auto done = look_at_all(check, load_covers(database));
    if (done) {
        done = look_at_all(check, load_probes(database));
    }
    if (done) {
        done = look_at_all(check, load_removals(database));
    }
    return done ? look_at_all(check, load_tipped(database)) : done;
}

}  // namespace beetwright::records
