#include <algorithm>
#include <cmath>

#include "io/pile_rows.hpp"
#include "io/row_ids.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

static_assert(std::size_t{strips::id} == loads::id && std::size_t{tares::id} == loads::id &&
              std::size_t{labs::id} == loads::id && std::size_t{standing::id} == loads::id &&
              std::size_t{parts::id} == loads::id && std::size_t{covers::id} == loads::id &&
              std::size_t{probes::id} == loads::id && std::size_t{removals::id} == loads::id &&
              std::size_t{places::id} == loads::id &&
              std::size_t{strips::supersedes} == loads::supersedes &&
              std::size_t{tares::supersedes} == loads::supersedes &&
              std::size_t{labs::supersedes} == loads::supersedes &&
              std::size_t{standing::supersedes} == loads::supersedes &&
              std::size_t{parts::supersedes} == loads::supersedes &&
              std::size_t{covers::supersedes} == loads::supersedes &&
              std::size_t{probes::supersedes} == loads::supersedes &&
              std::size_t{removals::supersedes} == loads::supersedes &&
              std::size_t{places::supersedes} == loads::supersedes);

/// Whether what a load says of its place in a pile can be; what cannot is told.
bool is_where_it_can_be(const FolderReading& reading, TableReader& reader, const TableRow& row,
                        const ledger::Load& load) {
    if (!load.says_where()) {
        return true;
    }
    if (load.destination.empty()) {
        reader.fail(loads::destination, "this load lies along a pile, and it does not say which",
                    "write the pile's name, or leave along_from and along_to empty");
        return false;
    }
    if (!load.stretch.from.is_known() || !load.stretch.to.is_known()) {
        reader.fail(load.stretch.to.is_known() ? loads::along_from : loads::along_to,
                    "one end of where it was tipped is missing",
                    "write both ends, or leave both empty");
        return false;
    }
    const auto pile = pile_in(reading, reader, row, loads::destination);
    return pile && is_sound(reader, loads::table, problems_of(load.stretch, *pile), "along_");
}

void read_loads(const FolderReading& reading) {
    RowIds ids(reading, loads::table, Observed::load);
    reading.each(loads::table, [&](TableReader& reader, const TableRow& row) {
        ledger::Load l;
        l.field = row.text(loads::field);
        l.at = row.instant(loads::at);
        l.destination = row.text(loads::destination);
        l.ticket = row.text(loads::ticket);
        l.gross = MassWithSoil(row.number(loads::gross));
        l.stretch = stretch_in(row, loads::along_from, loads::along_to);
        if (!is_where_it_can_be(reading, reader, row, l)) {
            return;
        }
        l.id = ids.of(reader, row, reading.season.loads.size());
        if (!l.id.is_nil()) {
            reading.season.loads.push_back(std::move(l));
        }
    });
}

void read_strips(const FolderReading& reading) {
    RowIds ids(reading, strips::table, Observed::strip);
    reading.each(strips::table, [&](TableReader& reader, const TableRow& row) {
        check::DugStrip d;
        d.field = row.text(strips::field);
        d.machine = row.text(strips::machine);
        d.at = row.instant(strips::at);
        d.area = Area(row.number(strips::area));
        const auto found = [&](std::size_t column) {
            return CleanMass(row.has(column) ? row.number(column) : 0.0);
        };
        d.whole_roots = found(strips::whole_roots);
        d.pieces = found(strips::pieces);
        d.tails = found(strips::tails);
        d.id = ids.of(reader, row, reading.season.strips.size());
        if (!d.id.is_nil()) {
            reading.season.strips.push_back(std::move(d));
        }
    });
}

void read_tares(const FolderReading& reading) {
    RowIds ids(reading, tares::table, Observed::tare);
    reading.each(tares::table, [&](TableReader& reader, const TableRow& row) {
        check::TareSample t;
        t.field = row.text(tares::field);
        t.at = row.instant(tares::at);
        t.gross = MassWithSoil(row.number(tares::gross));
        t.soil = Mass(row.number(tares::soil));
        t.tops = Mass(row.number(tares::tops));
        const double off = t.soil.si() + (t.tops.is_known() ? t.tops.si() : 0.0);
        if (off >= t.gross.si()) {
            reader.fail(tares::soil, "soil and tops weigh as much as the whole sample",
                        "gross is the sample as taken, with soil and tops on it");
            return;
        }
        t.id = ids.of(reader, row, reading.season.tares.size());
        if (!t.id.is_nil()) {
            reading.season.tares.push_back(std::move(t));
        }
    });
}

/// A laboratory's content, which may be given per sugar.
AmountContent content_in(const TableRow& row, std::size_t column, SugarContent pol) {
    const double number = row.number(column);
    return AmountContent(row.is_per_sugar(column) ? number * pol.si() : number);
}

void read_labs(const FolderReading& reading) {
    RowIds ids(reading, labs::table, Observed::lab);
    reading.each(labs::table, [&](TableReader& reader, const TableRow& row) {
        check::LabSample l;
        l.field = row.text(labs::field);
        l.at = row.instant(labs::at);
        l.pol = SugarContent(row.number(labs::pol));
        l.potassium = content_in(row, labs::potassium, l.pol);
        l.sodium = content_in(row, labs::sodium, l.pol);
        l.amino_nitrogen = content_in(row, labs::amino_nitrogen, l.pol);
        l.id = ids.of(reader, row, reading.season.labs.size());
        if (!l.id.is_nil()) {
            reading.season.labs.push_back(std::move(l));
        }
    });
}

/// More than grows anywhere: a slip in roots, in area or in the unit of either.
constexpr double kMostDug_kg_m2 = 30.0;

/// Whether the parts of a look fit each other; what does not is told.
bool is_sound(TableReader& reader, const TableRow& row, const check::StandingLook& look) {
    if (look.roots.is_known() && !look.area.is_known()) {
        reader.fail(standing::area, "the area that the roots were dug from is missing",
                    "write the area dug, all spots together");
        return false;
    }
    if (look.roots.si() > kMostDug_kg_m2 * look.area.si()) {
        reader.fail(standing::roots, "these are more beets than grow on that area",
                    "look at both and at their units: it is over 300 t/ha");
        return false;
    }
    const auto of_sugar = {standing::potassium, standing::sodium, standing::amino_nitrogen};
    for (const std::size_t column : of_sugar) {
        if (row.has(column) && row.is_per_sugar(column) && !look.pol.is_known()) {
            reader.fail(column, "this is given per sugar, and pol is empty",
                        "fill in pol, or give it in mmol/100 g of beet");
            return false;
        }
    }
    const bool says_something = look.roots.is_known() || look.pol.is_known() ||
                                std::ranges::any_of(of_sugar, [&](auto c) { return row.has(c); }) ||
                                !std::isnan(look.leaf_sick) ||
                                look.leaf_frozen != check::Seen::not_judged ||
                                look.says_how_it_stands() || !look.crowns.empty();
    if (!says_something) {
        reader.fail(standing::roots, "this row says nothing of the crop",
                    "fill in roots and their area, pol, leaf_sick, leaf_frozen, soil_in_hand, "
                    "crown_height, evenness, plants, root_mass or crowns, or leave the row out");
    }
    return says_something;
}

void read_standing(const FolderReading& reading) {
    RowIds ids(reading, standing::table, Observed::standing);
    reading.each(standing::table, [&](TableReader& reader, const TableRow& row) {
        check::StandingLook s;
        s.field = row.text(standing::field);
        s.at = row.instant(standing::at);
        s.spots =
            row.has(standing::spots) ? static_cast<std::int32_t>(row.number(standing::spots)) : 0;
        s.area = Area(row.number(standing::area));
        s.roots = CleanMass(row.number(standing::roots));
        s.pol = SugarContent(row.number(standing::pol));
        s.potassium = content_in(row, standing::potassium, s.pol);
        s.sodium = content_in(row, standing::sodium, s.pol);
        s.amino_nitrogen = content_in(row, standing::amino_nitrogen, s.pol);
        s.leaf_sick = row.number(standing::leaf_sick);
        s.leaf_frozen = static_cast<check::Seen>(row.word(standing::leaf_frozen, 0));
        s.soil_in_hand = static_cast<check::SoilInHand>(row.word(standing::soil_in_hand, 0));
        s.crown_height = Length(row.number(standing::crown_height));
        s.evenness = static_cast<check::Evenness>(row.word(standing::evenness, 0));
        s.plants = BeetsPerArea(row.number(standing::plants));
        s.root_mass = CleanMass(row.number(standing::root_mass));
        for (const double height : row.numbers(standing::crowns)) {
            s.crowns.emplace_back(height);
        }
        if (!is_sound(reader, row, s)) {
            return;
        }
        s.id = ids.of(reader, row, reading.season.standing.size());
        if (!s.id.is_nil()) {
            reading.season.standing.push_back(std::move(s));
        }
    });
}

void read_places(const FolderReading& reading) {
    RowIds ids(reading, places::table, Observed::place);
    reading.each(places::table, [&](TableReader& reader, const TableRow& row) {
        check::Place p;
        p.field = row.text(places::field);
        p.at = row.instant(places::at);
        p.of = row.id(places::of);
        p.spot = row.has(places::spot) ? static_cast<std::int32_t>(row.number(places::spot)) : 0;
        p.latitude_rad = row.number(places::latitude);
        p.longitude_rad = row.number(places::longitude);
        p.accuracy = Length(row.number(places::accuracy));
        p.id = ids.of(reader, row, reading.season.places.size());
        if (!p.id.is_nil()) {
            reading.season.places.push_back(std::move(p));
        }
    });
}

}  // namespace

void read_observations(const FolderReading& reading) {
    read_loads(reading);
    read_counted_beets(reading);
    read_strips(reading);
    read_tares(reading);
    read_labs(reading);
    read_standing(reading);
    read_settings(reading);
    read_parts(reading);
    read_covers(reading);
    read_probes(reading);
    read_removals(reading);
    read_places(reading);
}

}  // namespace beetwright::io
