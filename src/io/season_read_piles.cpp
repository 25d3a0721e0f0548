#include <algorithm>
#include <string>
#include <utility>

#include "base/contract.hpp"
#include "io/names_once.hpp"
#include "io/pile_rows.hpp"
#include "io/row_ids.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

/// Piles as they are laid out, and their fans.
class Piles {
 public:
    explicit Piles(const FolderReading& reading) : reading_(reading) {}

    void read() {
        read_sites();
        read_fans();
    }

 private:
    void read_sites() {
        reading_.each(piles::table, [&](TableReader& reader, const TableRow& row) {
            if (!names_.add(reader, row, piles::name) ||
                !pile_in(reading_, reader, row, piles::name)) {
                return;
            }
            ledger::PileSite site;
            site.name = row.text(piles::name);
            site.base_width = Length(row.number(piles::base_width));
            site.top_width = Length(row.has(piles::top_width) ? row.number(piles::top_width) : 0.0);
            site.height = Length(row.number(piles::height));
            site.length = Length(row.number(piles::length));
            site.orientation_rad = row.number(piles::orientation);
            if (row.has(piles::ground)) {
                site.ground = static_cast<ledger::PileGround>(row.word(piles::ground, 0));
            }
            if (row.has(piles::built)) {
                site.built = static_cast<ledger::PileBuilding>(row.word(piles::built, 0));
            }
            if (is_sound(reader, piles::table, ledger::problems_of(site))) {
                reading_.season.piles.push_back(std::move(site));
            }
        });
    }

    /// Null where the pile is not laid out, which is told, if not elsewhere.
    ledger::PileSite* site_in(TableReader& reader, const TableRow& row) {
        if (!pile_in(reading_, reader, row, fans::pile)) {
            return nullptr;
        }
        auto& all = reading_.season.piles;
        const auto found = std::ranges::find(all, row.view(fans::pile), &ledger::PileSite::name);
        if (found != all.end()) {
            return &*found;
        }
        if (names_.line_of(row.text(fans::pile)) == 0) {
            reader.fail(fans::pile, "piles.csv does not say how this pile is laid out",
                        "add its row there: a duct has its place in a pile");
        }
        return nullptr;
    }

    void read_fans() {
        reading_.each(fans::table, [&](TableReader& reader, const TableRow& row) {
            auto* site = site_in(reader, row);
            if (site == nullptr) {
                return;
            }
            ledger::Fan fan;
            fan.stretch = stretch_in(row, fans::from, fans::to);
            fan.flow = VolumePerTime(row.number(fans::flow));
            fan.pressure = Pressure(row.number(fans::pressure));
            fan.power = Power(row.number(fans::power));
            fan.rule = static_cast<ledger::FanRule>(row.word(fans::rule, 0));
            fan.difference = TemperatureDifference(row.number(fans::difference));
            fan.not_below = temperature_in(row, fans::not_below);
            fan.only_below = temperature_in(row, fans::only_below);
            if (is_sound(reader, fans::table, ledger::problems_of(fan, *site))) {
                site->fans.push_back(fan);
            }
        });
    }

    static std::optional<Temperature> temperature_in(const TableRow& row, std::size_t column) {
        return row.has(column) ? std::optional(Temperature::kelvin(row.number(column)))
                               : std::nullopt;
    }

    const FolderReading& reading_;
    NamesOnce names_;
};

std::size_t column_named(const Table& table, const std::string& name) {
    const auto found = std::ranges::find(table.columns, name, &Column::name);
    require(found != table.columns.end(), "what is told of a row stands in one of its columns");
    return static_cast<std::size_t>(found - table.columns.begin());
}

}  // namespace

std::optional<PileNamed> pile_in(const FolderReading& reading, TableReader& reader,
                                 const TableRow& row, std::size_t column) {
    const ledger::Season& masters = reading.masters;
    const auto place =
        std::ranges::find(masters.destinations, row.view(column), &ledger::Destination::name);
    if (place == masters.destinations.end()) {
        if (masters.destinations.empty() &&
            !reading.files.contains(std::string(destinations::table.file))) {
            reader.fail(column, "there is no destinations.csv",
                        "add the table that names the pile, with pile under kind");
        }
        return std::nullopt;  // otherwise the name, or the row that introduces it, is told
    }
    if (place->kind != ledger::DestinationKind::pile) {
        reader.fail(column, "\"" + place->name + "\" is a factory, and this is said of piles",
                    "name a pile, or write pile under kind in destinations.csv");
        return std::nullopt;
    }
    const auto site = std::ranges::find(masters.piles, place->name, &ledger::PileSite::name);
    return PileNamed{site == masters.piles.end() ? nullptr : &*site};
}

check::Stretch stretch_in(const TableRow& row, std::size_t from, std::size_t to) {
    return {.from = Length(row.number(from)), .to = Length(row.number(to))};
}

bool is_sound(TableReader& reader, const Table& table, const Problems& problems,
              std::string_view prefix) {
    for (const Problem& problem : problems) {
        reader.fail(column_named(table, std::string(prefix) + problem.where.field), problem.what,
                    problem.fix);
    }
    return problems.empty();
}

Problems problems_of(const check::Stretch& stretch, const PileNamed& pile) {
    return pile.site == nullptr ? ledger::problems_of(stretch)
                                : ledger::problems_of(stretch, *pile.site);
}

void read_piles(const FolderReading& reading) {
    Piles(reading).read();
}

void read_covers(const FolderReading& reading) {
    RowIds ids(reading, covers::table, Observed::cover);
    reading.each(covers::table, [&](TableReader& reader, const TableRow& row) {
        const auto pile = pile_in(reading, reader, row, covers::pile);
        check::CoverChange c;
        c.pile = row.text(covers::pile);
        c.at = row.instant(covers::at);
        c.stretch = stretch_in(row, covers::from, covers::to);
        c.cover = static_cast<check::PileCover>(row.word(covers::cover, 0));
        if (!pile || !is_sound(reader, covers::table, problems_of(c.stretch, *pile))) {
            return;
        }
        c.id = ids.of(reader, row, reading.season.covers.size());
        if (!c.id.is_nil()) {
            reading.season.covers.push_back(std::move(c));
        }
    });
}

void read_probes(const FolderReading& reading) {
    RowIds ids(reading, probes::table, Observed::probe);
    reading.each(probes::table, [&](TableReader& reader, const TableRow& row) {
        const auto pile = pile_in(reading, reader, row, probes::pile);
        check::ProbeReading p;
        p.pile = row.text(probes::pile);
        p.at = row.instant(probes::at);
        p.probe = row.text(probes::probe);
        p.kind = static_cast<check::ProbeKind>(row.word(probes::kind, 0));
        p.along = Length(row.number(probes::along));
        p.across = Length(row.has(probes::across) ? row.number(probes::across) : 0.0);
        p.height = Length(row.number(probes::height));
        p.temperature = Temperature::kelvin(row.number(probes::temperature));
        if (!pile || (pile->site != nullptr &&
                      !is_sound(reader, probes::table, ledger::problems_of(p, *pile->site)))) {
            return;
        }
        p.id = ids.of(reader, row, reading.season.probes.size());
        if (!p.id.is_nil()) {
            reading.season.probes.push_back(std::move(p));
        }
    });
}

void read_removals(const FolderReading& reading) {
    RowIds ids(reading, removals::table, Observed::removal);
    reading.each(removals::table, [&](TableReader& reader, const TableRow& row) {
        const auto pile = pile_in(reading, reader, row, removals::pile);
        check::PileRemoval r;
        r.pile = row.text(removals::pile);
        r.at = row.instant(removals::at);
        r.stretch = stretch_in(row, removals::from, removals::to);
        r.gross = MassWithSoil(row.number(removals::gross));
        if (!pile || !is_sound(reader, removals::table, problems_of(r.stretch, *pile))) {
            return;
        }
        r.id = ids.of(reader, row, reading.season.removals.size());
        if (!r.id.is_nil()) {
            reading.season.removals.push_back(std::move(r));
        }
    });
}

}  // namespace beetwright::io
