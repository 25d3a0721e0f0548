#include <algorithm>
#include <cmath>
#include <map>

#include "io/season_read.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

/// Gives each row of a table its id, and notices one that stands twice.
class Ids {
 public:
    Ids(const FolderReading& reading, const Table& table, Observed kind)
        : reading_(reading), table_(table), kind_(kind) {}

    /// The row's own id, or one made of its content; it will be the `index`th of its kind. Nil
    /// where the row was refused.
    Uuid of(TableReader& reader, const TableRow& row, std::size_t index) {
        // Every table of observations but those of beets begins so.
        constexpr std::size_t id_column = loads::id;
        constexpr std::size_t supersedes_column = loads::supersedes;
        Uuid id = row.id(id_column);
        if (id.is_nil()) {
            id = Uuid::from_text(row.content(table_));
        }
        const Where here{.file = std::string(table_.file), .line = row.line(), .field = ""};
        const auto [found, is_new] = reading_.places.try_emplace(id, here);
        if (!is_new) {
            const Where& first = found->second;
            const std::string there = (first.file == here.file ? "" : first.file + ", ") + "line " +
                                      std::to_string(first.line);
            reader.fail(id_column,
                        row.has(id_column) ? "the id of " + there + " stands here again"
                                           : "this row says the same as " + there,
                        row.has(id_column) ? "give each its own"
                                           : "leave one out, or give each an id of its own");
            return {};
        }
        reading_.corrections.add({.table = &table_,
                                  .kind = kind_,
                                  .index = index,
                                  .line = row.line(),
                                  .id = id,
                                  .text = row.text(supersedes_column),
                                  .name = {},
                                  .field = {}});
        return id;
    }

 private:
    const FolderReading& reading_;
    const Table& table_;
    Observed kind_;
};

static_assert(std::size_t{strips::id} == loads::id && std::size_t{tares::id} == loads::id &&
              std::size_t{labs::id} == loads::id &&
              std::size_t{strips::supersedes} == loads::supersedes &&
              std::size_t{tares::supersedes} == loads::supersedes &&
              std::size_t{labs::supersedes} == loads::supersedes);

void read_loads(const FolderReading& reading) {
    Ids ids(reading, loads::table, Observed::load);
    reading.each(loads::table, [&](TableReader& reader, const TableRow& row) {
        ledger::Load l;
        l.field = row.text(loads::field);
        l.at = row.instant(loads::at);
        l.destination = row.text(loads::destination);
        l.ticket = row.text(loads::ticket);
        l.gross = MassWithSoil(row.number(loads::gross));
        l.id = ids.of(reader, row, reading.season.loads.size());
        if (!l.id.is_nil()) {
            reading.season.loads.push_back(std::move(l));
        }
    });
}

void read_strips(const FolderReading& reading) {
    Ids ids(reading, strips::table, Observed::strip);
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
    Ids ids(reading, tares::table, Observed::tare);
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

void read_labs(const FolderReading& reading) {
    Ids ids(reading, labs::table, Observed::lab);
    reading.each(labs::table, [&](TableReader& reader, const TableRow& row) {
        check::LabSample l;
        l.field = row.text(labs::field);
        l.at = row.instant(labs::at);
        l.pol = SugarContent(row.number(labs::pol));
        const auto content = [&](std::size_t column) {
            const double number = row.number(column);
            return AmountContent(row.is_per_sugar(column) ? number * l.pol.si() : number);
        };
        l.potassium = content(labs::potassium);
        l.sodium = content(labs::sodium);
        l.amino_nitrogen = content(labs::amino_nitrogen);
        l.id = ids.of(reader, row, reading.season.labs.size());
        if (!l.id.is_nil()) {
            reading.season.labs.push_back(std::move(l));
        }
    });
}

/// Gathers rows that belong to one sheet; both beet tables start with the same columns.
class Sheets {
 public:
    Sheets(const FolderReading& reading, const Table& table) : reading_(reading), table_(table) {}

    /// The sheet of this row; nothing where it contradicts an earlier row of its sheet.
    check::BeetSheet* of(TableReader& reader, const TableRow& row) {
        const std::string name = row.text(beets::sheet);
        auto& sheets = reading_.season.beet_sheets;
        check::BeetSheet one;
        one.field = row.text(beets::field);
        one.machine = row.text(beets::machine);
        one.operator_name = row.text(beets::operator_name);
        one.at = row.instant(beets::at);
        one.seen_at = static_cast<check::SeenAt>(row.word(beets::seen_at, 0));
        const auto found = places_.find(name);
        if (found == places_.end()) {
            one.id = sheet_id(name, one.field);
            const Where here{.file = file_, .line = row.line(), .field = ""};
            const auto [first, is_new] = reading_.places.try_emplace(one.id, here);
            if (!is_new) {
                reader.fail(beets::sheet, "this sheet stands in " + first->second.file + " already",
                            "count each beet once: leave it out of one of the two tables");
                return nullptr;
            }
            reading_.corrections.add({.table = &table_,
                                      .kind = Observed::sheet,
                                      .index = sheets.size(),
                                      .line = row.line(),
                                      .id = one.id,
                                      .text = row.text(beets::supersedes),
                                      .name = name,
                                      .field = one.field});
            places_[name] = {sheets.size(), row.line(), row.text(beets::supersedes)};
            sheets.push_back(std::move(one));
            return &sheets.back();
        }
        auto& known = sheets[found->second.index];
        const bool same =
            known.field == one.field && known.at == one.at && known.machine == one.machine &&
            known.operator_name == one.operator_name && known.seen_at == one.seen_at &&
            found->second.supersedes == row.view(beets::supersedes);
        if (!same) {
            reader.fail(beets::sheet,
                        "this sheet began on line " + std::to_string(found->second.line) +
                            " with another field, machine, operator, time, place or correction",
                        "say the same on each of its rows, or give this one another sheet");
            return nullptr;
        }
        return &known;
    }

 private:
    struct Place {
        std::size_t index;
        int line;
        std::string supersedes;
    };
    const FolderReading& reading_;
    const Table& table_;
    std::string file_{table_.file};
    std::map<std::string, Place, std::less<>> places_;
};

// The two beet tables are read by one Sheets: their first columns must be the same.
static_assert(static_cast<std::size_t>(beets::seen_at) == spots::seen_at &&
              static_cast<std::size_t>(beets::spot) == spots::spot);

void read_beets(const FolderReading& reading) {
    Sheets sheets(reading, beets::table);
    reading.each(beets::table, [&](TableReader& reader, const TableRow& row) {
        auto* sheet = sheets.of(reader, row);
        if (sheet == nullptr) {
            return;
        }
        check::CountedBeet b;
        b.spot = static_cast<std::int32_t>(row.number(beets::spot));
        b.topping = static_cast<check::Topping>(row.word(beets::topping, 0));
        b.scar = Length(row.number(beets::scar));
        b.tip = {Length(row.number(beets::tip_break)), Length(row.upper(beets::tip_break))};
        b.skin_damage = Area(row.number(beets::skin_damage));
        b.rot = static_cast<check::Seen>(row.word(beets::rot, 0));
        b.frost = static_cast<check::Seen>(row.word(beets::frost, 0));
        sheet->beets.push_back(b);
    });
}

struct ToppingColumn {
    std::size_t column;
    check::Topping topping;
};
constexpr ToppingColumn kToppings[] = {{spots::petioles_long, check::Topping::petioles_long},
                                       {spots::petioles_short, check::Topping::petioles_short},
                                       {spots::correct, check::Topping::correct},
                                       {spots::too_deep, check::Topping::too_deep},
                                       {spots::slanted, check::Topping::slanted},
                                       {spots::crown_untouched, check::Topping::crown_untouched}};

struct TipColumn {
    std::size_t column;
    double from_cm;
    double to_cm;
};
constexpr TipColumn kTips[] = {{spots::tip_whole, 0.0, 0.0}, {spots::tip_0_2, 0.0, 2.0},
                               {spots::tip_2_4, 2.0, 4.0},   {spots::tip_4_6, 4.0, 6.0},
                               {spots::tip_6_8, 6.0, 8.0},   {spots::tip_over_8, 8.0, HUGE_VAL}};

/// Deals the counts of one spot out to its beets, class by class; nothing where they do not fit.
bool deal(TableReader& reader, const TableRow& row, std::vector<check::CountedBeet>& spot) {
    const auto beets_here = static_cast<std::size_t>(row.number(spots::beets));
    spot.assign(beets_here, {});
    const auto count = [&](std::size_t column) {
        return row.has(column) ? static_cast<std::size_t>(row.number(column)) : 0;
    };
    const auto too_many = [&](std::size_t column, std::size_t counted) {
        reader.fail(column,
                    std::to_string(counted) + " counted where " + std::to_string(beets_here) +
                        " beets were judged",
                    "the classes of one spot add up to its beets or less");
        return false;
    };
    std::size_t next = 0;
    for (const auto& [column, topping] : kToppings) {
        for (std::size_t k = count(column); k > 0; --k, ++next) {
            if (next >= beets_here) {
                return too_many(column, next + k);
            }
            spot[next].topping = topping;
        }
    }
    next = 0;
    for (const auto& [column, from_cm, to_cm] : kTips) {
        for (std::size_t k = count(column); k > 0; --k, ++next) {
            if (next >= beets_here) {
                return too_many(column, next + k);
            }
            spot[next].tip = {from_cm * unit::cm, to_cm * unit::cm};
        }
    }
    const auto mark = [&](std::size_t column, check::Seen check::CountedBeet::*seen) {
        if (!row.has(column)) {
            return true;
        }
        if (count(column) > beets_here) {
            return too_many(column, count(column));
        }
        for (std::size_t k = 0; k < beets_here; ++k) {
            spot[k].*seen = k < count(column) ? check::Seen::yes : check::Seen::no;
        }
        return true;
    };
    return mark(spots::rot, &check::CountedBeet::rot) &&
           mark(spots::frost, &check::CountedBeet::frost);
}

void read_spots(const FolderReading& reading) {
    Sheets sheets(reading, spots::table);
    std::vector<check::CountedBeet> spot;
    std::map<std::pair<Uuid, std::int32_t>, int> lines;
    reading.each(spots::table, [&](TableReader& reader, const TableRow& row) {
        if (!deal(reader, row, spot)) {
            return;
        }
        auto* sheet = sheets.of(reader, row);
        if (sheet == nullptr) {
            return;
        }
        const auto number = static_cast<std::int32_t>(row.number(spots::spot));
        const auto [first, is_new] = lines.try_emplace({sheet->id, number}, row.line());
        if (!is_new) {
            reader.fail(spots::spot,
                        "this spot of the sheet stands on line " + std::to_string(first->second) +
                            " already",
                        "count each beet once: leave one out, or number the spots anew");
            return;
        }
        for (auto& beet : spot) {
            beet.spot = number;
            sheet->beets.push_back(beet);
        }
    });
}

}  // namespace

void read_observations(const FolderReading& reading) {
    read_loads(reading);
    read_beets(reading);
    read_spots(reading);
    read_strips(reading);
    read_tares(reading);
    read_labs(reading);
}

}  // namespace beetwright::io
