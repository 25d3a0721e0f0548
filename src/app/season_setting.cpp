#include "app/season_setting.hpp"

#include <algorithm>
#include <vector>

#include "io/season_folder.hpp"
#include "io/season_tables.hpp"

namespace beetwright::app {
namespace {

constexpr const char* kFacts = "season.json";

/// Its facts, and the names that a row of a file may use: what its rows are read beside.
ledger::Season without_rows_of(const ledger::Season& season, io::Master master) {
    ledger::Season rest;
    rest.name = season.name;
    rest.currency = season.currency;
    rest.units = season.units;
    rest.first_day = season.first_day;
    rest.seed = season.seed;
    rest.terms.currency = season.currency;
    if (master == io::Master::fields) {
        rest.machines = season.machines;
        rest.destinations = season.destinations;
    }
    return rest;
}

/// Puts rows in the place of those of the same name; new ones come last.
template <class Row>
void put(std::vector<Row>& all, std::vector<Row> rows) {
    for (auto& row : rows) {
        const auto found = std::ranges::find(all, row.name, &Row::name);
        if (found == all.end()) {
            all.push_back(std::move(row));
        } else {
            *found = std::move(row);
        }
    }
}

void put_machines(std::vector<ledger::Machine>& all, std::vector<ledger::Machine> rows) {
    for (auto& row : rows) {
        // Controls and dials stand in files of their own.
        const auto found = std::ranges::find(all, row.name, &ledger::Machine::name);
        if (found != all.end()) {
            row.controls = std::move(found->controls);
        }
    }
    put(all, std::move(rows));
}

void put_destinations(std::vector<ledger::Destination>& all,
                      std::vector<ledger::Destination> rows) {
    for (auto& row : rows) {
        // Temperatures stand in a file of their own.
        const auto found = std::ranges::find(all, row.name, &ledger::Destination::name);
        if (found != all.end()) {
            row.temperatures = std::move(found->temperatures);
        }
    }
    put(all, std::move(rows));
}

Result<ledger::Season> with_rows(const ledger::Season& season, io::Master master,
                                 const std::string& file, const std::string& text) {
    auto alone = io::write_season(without_rows_of(season, master), UnitSystem::metric);
    alone[file] = text;
    auto read = io::read_season(alone);
    if (!read) {
        return read;
    }
    ledger::Season changed = season;
    switch (master) {
        case io::Master::fields: put(changed.fields, std::move(read->fields)); break;
        case io::Master::machines: put_machines(changed.machines, std::move(read->machines)); break;
        case io::Master::soils: put(changed.soils, std::move(read->soils)); break;
        case io::Master::destinations:
            put_destinations(changed.destinations, std::move(read->destinations));
            break;
        case io::Master::none: break;
    }
    // A first row makes a table, which must then hold every name that stands elsewhere.
    return io::read_season(io::write_season(changed, UnitSystem::metric));
}

Result<ledger::Season> with_facts(const ledger::Season& season, const std::string& text) {
    const ledger::Season none = without_rows_of(season, io::Master::none);
    auto alone = io::write_season(none, UnitSystem::metric);
    alone[kFacts] = text;
    auto read = io::read_season(alone);
    if (!read) {
        return read;
    }
    if (io::has_terms(season) && read->currency != season.currency) {
        return Problem{ProblemKind::conflict,
                       {.file = kFacts, .line = 0, .field = "currency"},
                       "the payment terms are in " + season.currency + ", so the season stays in " +
                           season.currency,
                       "money is not converted; to reckon in " + read->currency +
                           ", import season.json and terms.json in it together"};
    }
    ledger::Season changed = season;
    changed.name = read->name;
    changed.currency = read->currency;
    changed.terms.currency = read->currency;
    changed.units = read->units;
    changed.first_day = read->first_day;
    return changed;
}

}  // namespace

const std::set<std::string>& settable_files() {
    static const std::set<std::string> files{
        kFacts,      "fields.csv",       "machines.csv",     "controls.csv",
        "dials.csv", "soils.csv",        "destinations.csv", "piles.csv",
        "fans.csv",  "temperatures.csv", "constants.csv",    "terms.json"};
    return files;
}

io::Master master_of(const std::string& file) {
    for (const io::Table* table : io::season_tables()) {
        if (table->file == file) {
            return table->introduces;
        }
    }
    return io::Master::none;
}

Result<ledger::Season> with_file(const ledger::Season& season, const std::string& file,
                                 const std::string& text) {
    if (file == kFacts) {
        return with_facts(season, text);
    }
    const auto master = master_of(file);
    if (master != io::Master::none) {
        return with_rows(season, master, file, text);
    }
    auto files = io::write_season(season, UnitSystem::metric);
    files[file] = text;
    return io::read_season(files);
}

}  // namespace beetwright::app
