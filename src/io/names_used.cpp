#include "io/names_used.hpp"

#include <algorithm>

#include "base/nearest_name.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

constexpr const char* file_of(Master master) {
    switch (master) {
        case Master::fields: return "fields.csv";
        case Master::machines: return "machines.csv";
        case Master::soils: return "soils.csv";
        case Master::destinations: return "destinations.csv";
        case Master::none: break;
    }
    return "";
}

}  // namespace

void NamesUsed::can_be_read(const Table& masters) {
    if (masters.introduces != Master::none) {
        introduced_[masters.introduces];
    }
}

void NamesUsed::introduce(const ledger::Season& season) {
    const auto take = [this](Master master, const auto& all) {
        for (const auto& one : all) {
            introduced_[master].insert(one.name);
        }
    };
    take(Master::fields, season.fields);
    take(Master::machines, season.machines);
    take(Master::destinations, season.destinations);
}

void NamesUsed::look(const Table& table, const TableRow& row) {
    if (table.introduces != Master::none) {
        introduced_[table.introduces].insert(row.text(0));  // a master's name is its first column
    }
    for (std::size_t column = 0; column < table.columns.size(); ++column) {
        if (table.columns[column].refers_to == Master::none || !row.has(column)) {
            continue;
        }
        auto& [name, use] = last_[{&table, column}];
        if (use == nullptr || name != row.view(column)) {
            name = row.text(column);
            use = &uses_[{&table, column, name}];
        }
        use->again = use->again || use->line != 0;
        use->line = use->line == 0 ? row.line() : use->line;
    }
}

void NamesUsed::tell(ProblemList& problems) const {
    const auto tables = season_tables();
    using InOrder = std::tuple<std::ptrdiff_t, int, std::size_t>;
    std::map<InOrder, Problem> found;
    for (const auto& [place, use] : uses_) {
        const auto& [table, column, name] = place;
        const Master master = table->columns[column].refers_to;
        const auto known = introduced_.find(master);
        if (known == introduced_.end() || known->second.contains(name)) {
            continue;
        }
        const auto table_place = std::ranges::find(tables, table) - tables.begin();
        found[{table_place, use.line, column}] = {
            ProblemKind::input,
            {.file = std::string(table->file),
             .line = use.line,
             .field = std::string(table->columns[column].name)},
            "\"" + name + "\" is not in " + file_of(master) +
                (use.again ? " (it stands in later lines too)" : ""),
            did_you_mean(name, known->second) + "Mend it here, or add it there"};
    }
    for (auto& [place, problem] : found) {
        problems.add(std::move(problem));
    }
}

}  // namespace beetwright::io
