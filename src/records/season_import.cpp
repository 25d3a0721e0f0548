#include <algorithm>
#include <bit>
#include <cstdio>

#include "io/season_folder.hpp"
#include "io/terms_json.hpp"
#include "records/corrections_check.hpp"
#include "records/edited_rows.hpp"
#include "records/fingerprint.hpp"
#include "records/season_file.hpp"
#include "records/season_load.hpp"

namespace beetwright::records {
namespace {

std::int64_t day_number(Day day) {
    return day.time_since_epoch().count();
}
std::int64_t milliseconds(Instant at) {
    return at.time_since_epoch().count();
}
std::optional<std::int64_t> day_number(const std::optional<Day>& day) {
    return day ? std::optional(day_number(*day)) : std::nullopt;
}

template <class Enum>
std::int64_t code(Enum value) {
    return static_cast<std::int64_t>(value);
}

/// Writes one season in one transaction, one kind of thing after another. Each step returns false
/// once something has failed; the problems are kept.
class Importer {
 public:
    Importer(const Database& database, const io::RowPlaces& places)
        : database_(database), places_(places) {}

    bool import(const ledger::Season& season) {
        return look_for_edited_rows(season) && write_season(season) && write_fields(season) &&
               write_machines(season) && write_destinations(season) && write_replacements(season) &&
               write_loads(season) && write_sheets(season) && write_strips(season) &&
               write_tares(season) && write_labs(season) && corrections_are_sound();
    }

    [[nodiscard]] const Problems& problems() const { return problems_; }
    [[nodiscard]] const ImportReport& report() const { return report_; }

 private:
    template <class T>
    bool passed(const Result<T>& result) {
        if (!result.ok()) {
            problems_.insert(problems_.end(), result.problems().begin(), result.problems().end());
        }
        return result.ok();
    }

    template <class... Values>
    bool run(Statement& statement, const Values&... values) {
        (statement.bind(values), ...);
        return passed(statement.run());
    }

    bool prepared(const char* sql, Statement& into) {
        auto statement = database_.prepare(sql);
        if (!passed(statement)) {
            return false;
        }
        into = std::move(*statement);
        return true;
    }

    /// Notes rows that were edited; the rest is looked at all the same, so that all is told. False:
    /// the season file could not be read.
    bool look_for_edited_rows(const ledger::Season& season) {
        auto stored = load_observations(database_, Beets::leave);
        if (stored.ok() && looks_at_beets(*stored, season)) {
            stored = load_observations(database_, Beets::load);
        }
        if (!passed(stored)) {
            return false;
        }
        problems_ = edited_rows(*stored, season, places_);
        return true;
    }

    /// A folder of another season, brought to the wrong file, would be mixed with this one.
    bool is_this_season(const ledger::Season& s) {
        Statement select;
        if (!prepared("SELECT name, first_day FROM season", select)) {
            return false;
        }
        const auto row = select.step();
        if (!passed(row) || !*row) {
            return row.ok();
        }
        const std::string name = select.text(0);
        const Day first_day = Day(std::chrono::days(select.integer(1)));
        if (name != s.name && first_day != s.first_day) {
            problems_.push_back({ProblemKind::conflict,
                                 {.file = "season.json", .line = 0, .field = "name"},
                                 "the folder is of \"" + s.name + "\", which begins on " +
                                     to_text(s.first_day) + "; the season file holds \"" + name +
                                     "\", which begins on " + to_text(first_day),
                                 "import it into a season file of its own; to rename the season, "
                                 "leave first_day as it was"});
        }
        return passed(select.step());
    }

    bool write_season(const ledger::Season& s) {
        Statement insert;
        return is_this_season(s) &&
               prepared(
                   "INSERT INTO season VALUES (1, ?, ?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET "
                   "name = excluded.name, currency = excluded.currency, units = excluded.units, "
                   "first_day = excluded.first_day, seed = excluded.seed, "
                   "terms = iif(excluded.terms = '', terms, excluded.terms)",
                   insert) &&
               run(insert, std::string_view(s.name), std::string_view(s.currency), code(s.units),
                   day_number(s.first_day), std::bit_cast<std::int64_t>(s.seed),
                   std::string_view(io::has_terms(s) ? io::write_terms(s.terms) : "")) &&
               currency_is_kept(s);
    }

    /// A folder without terms leaves those of an earlier import standing: in the same currency.
    bool currency_is_kept(const ledger::Season& s) {
        Statement select;
        if (!prepared("SELECT terms FROM season WHERE terms <> ''", select)) {
            return false;
        }
        const auto row = select.step();
        if (!passed(row) || !*row) {
            return row.ok();
        }
        const auto terms = io::read_terms(select.text(0), database_.path());
        if (!passed(terms) || !passed(select.step())) {
            return false;
        }
        if (terms->currency != s.currency) {
            problems_.push_back({ProblemKind::conflict,
                                 {.file = "season.json", .line = 0, .field = "currency"},
                                 "the season's terms, imported before, pay in " + terms->currency +
                                     ", and the folder says " + s.currency,
                                 "write " + terms->currency + ", or bring a terms.json in " +
                                     s.currency + " with it; money is not converted"});
        }
        return true;
    }

    bool write_fields(const ledger::Season& s) {
        Statement insert;
        if (!prepared(
                "INSERT INTO fields (name, grower, area, soil, variety, machine, operator, "
                "destination, haul, yield, yield_low, yield_high, lifted, sliced) "
                "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (name) DO UPDATE "
                "SET grower = excluded.grower, area = excluded.area, soil = excluded.soil, "
                "variety = excluded.variety, machine = excluded.machine, "
                "operator = excluded.operator, destination = excluded.destination, "
                "haul = excluded.haul, yield = excluded.yield, yield_low = excluded.yield_low, "
                "yield_high = excluded.yield_high, lifted = excluded.lifted, "
                "sliced = excluded.sliced",
                insert)) {
            return false;
        }
        return std::ranges::all_of(s.fields, [&](const ledger::Field& f) {
            const auto expected = f.expected_yield.value_or(ledger::ExpectedYield{});
            return run(insert, std::string_view(f.name), std::string_view(f.grower), f.area.si(),
                       std::string_view(f.soil), std::string_view(f.variety),
                       std::string_view(f.machine), std::string_view(f.operator_name),
                       std::string_view(f.destination), f.haul.si(), expected.value.si(),
                       expected.low.si(), expected.high.si(), day_number(f.lifted),
                       day_number(f.sliced));
        });
    }

    bool write_machines(const ledger::Season& s) {
        Statement insert;
        if (!prepared(
                "INSERT INTO machines (name, kind, rows, row_spacing) VALUES (?, ?, ?, ?) "
                "ON CONFLICT (name) DO UPDATE SET kind = excluded.kind, rows = excluded.rows, "
                "row_spacing = excluded.row_spacing",
                insert)) {
            return false;
        }
        return std::ranges::all_of(s.machines, [&](const ledger::Machine& m) {
            return run(insert, std::string_view(m.name), std::string_view(m.kind),
                       std::int64_t{m.rows}, m.row_spacing.si());
        });
    }

    bool write_destinations(const ledger::Season& s) {
        Statement place;
        Statement day;
        if (!prepared("INSERT INTO destinations (name, kind) VALUES (?, ?) "
                      "ON CONFLICT (name) DO UPDATE SET kind = excluded.kind",
                      place) ||
            !prepared("INSERT OR REPLACE INTO temperatures VALUES (?, ?, ?)", day)) {
            return false;
        }
        return std::ranges::all_of(s.destinations, [&](const ledger::Destination& d) {
            return run(place, std::string_view(d.name), code(d.kind)) &&
                   std::ranges::all_of(d.temperatures, [&](const ledger::DayTemperature& t) {
                       return run(day, std::string_view(d.name), day_number(t.day),
                                  t.mean.in_kelvin());
                   });
        });
    }

    bool write_replacements(const ledger::Season& s) {
        Statement insert;
        if (!prepared("INSERT INTO replacements (id, value, low, high, why) VALUES (?, ?, ?, ?, ?) "
                      "ON CONFLICT (id) DO UPDATE SET value = excluded.value, low = excluded.low, "
                      "high = excluded.high, why = excluded.why",
                      insert)) {
            return false;
        }
        return std::ranges::all_of(s.replacements, [&](const ledger::Replacement& r) {
            return run(insert, std::string_view(r.id), r.value, r.low, r.high,
                       std::string_view(r.why));
        });
    }

    enum class Met { fresh, known, edited, failed };

    /// Whether an observation is new, known with the same content, or contradicts what is known.
    Met meet(Statement& find, const Uuid& id, std::int64_t content) {
        find.bind(id);
        auto row = find.step();
        if (!passed(row)) {
            return Met::failed;
        }
        if (!*row) {
            return Met::fresh;
        }
        const std::int64_t known_content = find.integer(0);
        if (!passed(find.step())) {
            return Met::failed;
        }
        if (known_content == content) {
            return Met::known;
        }
        return Met::edited;  // and told by edited_rows()
    }

    /// Writes every observation of one kind; a contradiction is noted, and the rest looked at all
    /// the same, so that all are told.
    template <class Observation, class Content, class Write>
    bool write_all(const std::vector<Observation>& all, const char* table, const char* what,
                   Content&& content_of, Write&& write) {
        Statement find;
        const std::string sql = std::string("SELECT content FROM ") + table + " WHERE id = ?";
        if (!prepared(sql.c_str(), find)) {
            return false;
        }
        ImportReport::Row row{what, 0, 0};
        for (const auto& one : all) {
            const std::int64_t content = content_of(one).value();
            switch (meet(find, one.id, content)) {
                case Met::known: ++row.known; break;
                case Met::edited: break;
                case Met::failed: return false;
                case Met::fresh:
                    ++row.new_rows;
                    if (!write(one, content)) {
                        return false;
                    }
            }
        }
        report_.rows.push_back(row);
        return true;
    }

    bool write_loads(const ledger::Season& s) {
        Statement insert;
        if (!prepared("INSERT INTO loads (id, content, supersedes, field, at, destination, "
                      "ticket, gross) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                      insert)) {
            return false;
        }
        return write_all(
            s.loads, "loads", "weighed loads",
            [](const ledger::Load& l) {
                // Loads of version 1 had no corrections, and are known by what they had.
                Fingerprint print;
                return (l.supersedes.is_nil() ? print : print.add(l.supersedes))
                    .add(l.field)
                    .add(std::uint64_t(milliseconds(l.at)))
                    .add(l.destination)
                    .add(l.ticket)
                    .add(l.gross.si());
            },
            [&](const ledger::Load& l, std::int64_t content) {
                return run(insert, l.id, content, l.supersedes, std::string_view(l.field),
                           milliseconds(l.at), std::string_view(l.destination),
                           std::string_view(l.ticket), l.gross.si());
            });
    }

    static Fingerprint content_of(const check::BeetSheet& sheet) {
        Fingerprint print;
        print.add(sheet.supersedes).add(sheet.field).add(sheet.machine).add(sheet.operator_name);
        print.add(std::uint64_t(milliseconds(sheet.at))).add(std::uint64_t(code(sheet.seen_at)));
        for (const auto& b : sheet.beets) {
            print.add(b);
        }
        return print;
    }

    bool write_sheets(const ledger::Season& s) {
        Statement insert;
        Statement beet;
        if (!prepared(
                "INSERT INTO beet_sheets (id, content, supersedes, field, machine, operator, at, "
                "seen_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                insert) ||
            !prepared("INSERT INTO beets VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", beet)) {
            return false;
        }
        return write_all(
            s.beet_sheets, "beet_sheets", "sheets of counted beets",
            [](const check::BeetSheet& sheet) { return content_of(sheet); },
            [&](const check::BeetSheet& sheet, std::int64_t content) {
                if (!run(insert, sheet.id, content, sheet.supersedes, std::string_view(sheet.field),
                         std::string_view(sheet.machine), std::string_view(sheet.operator_name),
                         milliseconds(sheet.at), code(sheet.seen_at))) {
                    return false;
                }
                const std::int64_t position = database_.last_row();
                std::int64_t number = 0;
                return std::ranges::all_of(sheet.beets, [&](const check::CountedBeet& b) {
                    return run(beet, position, ++number, std::int64_t{b.spot}, code(b.topping),
                               b.scar.si(), b.tip.from.si(), b.tip.to.si(), b.skin_damage.si(),
                               code(b.rot), code(b.frost));
                });
            });
    }

    bool write_strips(const ledger::Season& s) {
        Statement insert;
        if (!prepared("INSERT INTO strips (id, content, supersedes, field, machine, at, area, "
                      "whole_roots, pieces, tails) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                      insert)) {
            return false;
        }
        return write_all(
            s.strips, "strips", "dug strips",
            [](const check::DugStrip& d) {
                return Fingerprint()
                    .add(d.supersedes)
                    .add(d.field)
                    .add(d.machine)
                    .add(std::uint64_t(milliseconds(d.at)))
                    .add(d.area.si())
                    .add(d.whole_roots.si())
                    .add(d.pieces.si())
                    .add(d.tails.si());
            },
            [&](const check::DugStrip& d, std::int64_t content) {
                return run(insert, d.id, content, d.supersedes, std::string_view(d.field),
                           std::string_view(d.machine), milliseconds(d.at), d.area.si(),
                           d.whole_roots.si(), d.pieces.si(), d.tails.si());
            });
    }

    bool write_tares(const ledger::Season& s) {
        Statement insert;
        if (!prepared("INSERT INTO tares (id, content, supersedes, field, at, gross, soil, tops) "
                      "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                      insert)) {
            return false;
        }
        return write_all(
            s.tares, "tares", "tare samples",
            [](const check::TareSample& t) {
                return Fingerprint()
                    .add(t.supersedes)
                    .add(t.field)
                    .add(std::uint64_t(milliseconds(t.at)))
                    .add(t.gross.si())
                    .add(t.soil.si())
                    .add(t.tops.si());
            },
            [&](const check::TareSample& t, std::int64_t content) {
                return run(insert, t.id, content, t.supersedes, std::string_view(t.field),
                           milliseconds(t.at), t.gross.si(), t.soil.si(), t.tops.si());
            });
    }

    bool write_labs(const ledger::Season& s) {
        Statement insert;
        if (!prepared(
                "INSERT INTO labs (id, content, supersedes, field, at, pol, potassium, sodium, "
                "amino_nitrogen) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                insert)) {
            return false;
        }
        return write_all(
            s.labs, "labs", "laboratory samples",
            [](const check::LabSample& l) {
                return Fingerprint()
                    .add(l.supersedes)
                    .add(l.field)
                    .add(std::uint64_t(milliseconds(l.at)))
                    .add(l.pol.si())
                    .add(l.potassium.si())
                    .add(l.sodium.si())
                    .add(l.amino_nitrogen.si());
            },
            [&](const check::LabSample& l, std::int64_t content) {
                return run(insert, l.id, content, l.supersedes, std::string_view(l.field),
                           milliseconds(l.at), l.pol.si(), l.potassium.si(), l.sodium.si(),
                           l.amino_nitrogen.si());
            });
    }

    bool corrections_are_sound() {
        return passed(check_corrections(database_, places_, problems_)) && problems_.empty();
    }

    const Database& database_;
    const io::RowPlaces& places_;
    Problems problems_;
    ImportReport report_;
};

}  // namespace

std::string ImportReport::text() const {
    std::string text;
    for (const Row& row : rows) {
        char line[120];
        std::snprintf(line, sizeof line, "%-26s %8lld new %8lld known\n", row.what.c_str(),
                      static_cast<long long>(row.new_rows), static_cast<long long>(row.known));
        text += line;
    }
    return text;
}

Result<ImportReport> SeasonFile::import(const ledger::Season& season, const io::RowPlaces& places) {
    auto transaction = Transaction::begin(database_);
    if (!transaction) {
        return transaction.problems();
    }
    Importer importer(database_, places);
    if (!importer.import(season)) {
        return importer.problems();
    }
    if (auto committed = transaction->commit(); !committed) {
        return committed.problems();
    }
    return importer.report();
}

}  // namespace beetwright::records
