#include <cmath>
#include <initializer_list>
#include <map>

#include "io/season_read.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

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
                                      .named_within = one.field});
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

/// Whether a row judges nothing that cannot be seen of a beet in the row; else that is told. None
/// counted is no judgement.
bool is_seen_in_the_row(const Table& table, TableReader& reader, const TableRow& row,
                        std::initializer_list<std::size_t> out_of_sight) {
    if (static_cast<check::SeenAt>(row.word(beets::seen_at, 0)) != check::SeenAt::row) {
        return true;
    }
    for (const std::size_t column : out_of_sight) {
        const bool is_count = &table == &spots::table;
        if (row.has(column) && !(is_count && row.number(column) == 0.0)) {
            reader.fail(column, "this cannot be judged of a beet that stands in the row",
                        "leave it empty, or say where the beet was picked up under seen_at");
            return false;
        }
    }
    return true;
}

void read_beets(const FolderReading& reading) {
    Sheets sheets(reading, beets::table);
    reading.each(beets::table, [&](TableReader& reader, const TableRow& row) {
        auto* sheet = sheets.of(reader, row);
        if (sheet == nullptr || !is_seen_in_the_row(beets::table, reader, row,
                                                    {beets::tip_break, beets::skin_damage})) {
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
        if (!is_seen_in_the_row(spots::table, reader, row,
                                {spots::tip_whole, spots::tip_0_2, spots::tip_2_4, spots::tip_4_6,
                                 spots::tip_6_8, spots::tip_over_8}) ||
            !deal(reader, row, spot)) {
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

void read_counted_beets(const FolderReading& reading) {
    read_beets(reading);
    read_spots(reading);
}

}  // namespace beetwright::io
