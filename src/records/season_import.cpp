#include <algorithm>
#include <bit>
#include <cstdio>

#include "io/season_folder.hpp"
#include "io/terms_json.hpp"
#include "records/corrections_check.hpp"
#include "records/edited_rows.hpp"
#include "records/machine_writer.hpp"
#include "records/machines_check.hpp"
#include "records/observation_writer.hpp"
#include "records/pile_writer.hpp"
#include "records/piles_check.hpp"
#include "records/season_file.hpp"
#include "records/season_load.hpp"
#include "records/weather_store.hpp"
#include "records/writing.hpp"

namespace beetwright::records {
namespace {

std::int64_t day_number(Day day) {
    return day.time_since_epoch().count();
}
std::optional<std::int64_t> day_number(const std::optional<Day>& day) {
    return day ? std::optional(day_number(*day)) : std::nullopt;
}

template <class Enum>
std::int64_t code(Enum value) {
    return static_cast<std::int64_t>(value);
}

/// Where a season that is written comes from.
enum class Origin {
    a_folder,     ///< it must be of the season that the file holds
    this_season,  ///< it was loaded from the file and changed: its facts replace the file's
};

/// Writes one season in one transaction, one kind of thing after another.
class Importer : private Writing {
 public:
    Importer(const Database& database, const io::RowPlaces& places, Origin origin)
        : Writing(database), places_(places), origin_(origin) {}

    bool import(const ledger::Season& season) {
        return look_for_edited_rows(season) && write_season(season) && write_fields(season) &&
               write_machines(season) && write_soils(season) && write_destinations(season) &&
               days_follow_each_other() && write_piles(season) && write_replacements(season) &&
               write_weather(season) && write_observations(season) && machines_are_sound() &&
               piles_are_sound() && corrections_are_sound();
    }

    using Writing::problems;
    [[nodiscard]] const ImportReport& report() const { return report_; }

 private:
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

    /// A folder of another season, brought to the wrong file, would be mixed with this one. A
    /// season without fields has nothing to be mixed with.
    bool is_this_season(const ledger::Season& s) {
        if (origin_ == Origin::this_season) {
            return true;
        }
        Statement select;
        if (!prepared("SELECT name, first_day FROM season WHERE EXISTS (SELECT 1 FROM fields)",
                      select)) {
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

    bool write_machines(const ledger::Season& season) {
        MachineWriter writer(database_);
        const bool written = writer.write(season.machines);
        problems_.insert(problems_.end(), writer.problems().begin(), writer.problems().end());
        return written;
    }

    bool write_soils(const ledger::Season& s) {
        Statement insert;
        if (!prepared("INSERT INTO soils (name, class, holds, stop_filling, drains_to, drain_lag, "
                      "rain_stop) VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (name) DO UPDATE SET "
                      "class = excluded.class, holds = excluded.holds, "
                      "stop_filling = excluded.stop_filling, drains_to = excluded.drains_to, "
                      "drain_lag = excluded.drain_lag, rain_stop = excluded.rain_stop",
                      insert)) {
            return false;
        }
        return std::ranges::all_of(s.soils, [&](const ledger::SoilRules& soil) {
            const auto soil_class =
                soil.soil_class ? std::optional(code(*soil.soil_class)) : std::nullopt;
            return run(insert, std::string_view(soil.name), soil_class, soil.holds.si(),
                       soil.stop_filling, soil.drains_to, soil.drain_lag.si(), soil.rain_stop.si());
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

    /// A folder's days have no gap of their own, but may leave one behind those of an earlier
    /// import.
    bool days_follow_each_other() {
        const auto tell = [&](const Statement& row) {
            const auto day = [&](int column) {
                return to_text(Day(std::chrono::days(row.integer(column))));
            };
            problems_.push_back(
                {ProblemKind::conflict,
                 {.file = "temperatures.csv", .line = 0, .field = "day"},
                 "with what was imported before, the days of " + row.text(0) + " go from " +
                     day(1) + " to " + day(2) + " without those between",
                 "add the days between; days of one destination follow without gaps"});
        };
        return passed(for_each_row(database_,
                                   "SELECT destination, day, next FROM (SELECT destination, day, "
                                   "lead(day) OVER (PARTITION BY destination ORDER BY day) AS next "
                                   "FROM temperatures) WHERE next > day + 1",
                                   tell));
    }

    bool write_piles(const ledger::Season& season) {
        PileWriter writer(database_);
        const bool written = writer.write(season.piles);
        problems_.insert(problems_.end(), writer.problems().begin(), writer.problems().end());
        return written;
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

    /// Of a season that came from the file itself the weather is what it was.
    bool write_weather(const ledger::Season& season) {
        return season.weather == nullptr || origin_ == Origin::this_season ||
               (passed(store_weather(database_, *season.weather)) &&
                passed(database_.execute("UPDATE revision SET weather = number + 1")));
    }

    bool write_observations(const ledger::Season& season) {
        ObservationWriter writer(database_);
        const bool written = writer.write(season);
        problems_.insert(problems_.end(), writer.problems().begin(), writer.problems().end());
        report_ = writer.report();
        return written;
    }

    /// What was imported before may not go with what is said of a machine now.
    bool machines_are_sound() { return passed(check_machines(database_, places_, problems_)); }

    /// Nor with how a pile is laid out.
    bool piles_are_sound() { return passed(check_piles(database_, places_, problems_)); }

    bool corrections_are_sound() {
        return passed(check_corrections(database_, places_, problems_)) && problems_.empty();
    }

    const io::RowPlaces& places_;
    Origin origin_;
    ImportReport report_;
};

/// Within a transaction that the caller commits.
Result<ImportReport> write(const Database& database, const ledger::Season& season,
                           const io::RowPlaces& places, Origin origin) {
    Importer importer(database, places, origin);
    if (!importer.import(season)) {
        return importer.problems();
    }
    if (auto counted = database.execute("UPDATE revision SET number = number + 1"); !counted) {
        return counted.problems();
    }
    return importer.report();
}

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
    auto written = write(database_, season, places, Origin::a_folder);
    if (!written) {
        return written;
    }
    if (auto committed = transaction->commit(); !committed) {
        return committed.problems();
    }
    return written;
}

Result<ImportReport> SeasonFile::set(const ledger::Season& season, const AuditEntry& by) {
    auto transaction = Transaction::begin(database_);
    if (!transaction) {
        return transaction.problems();
    }
    // The season holds all that the file did: what is not in it any more was taken out.
    for (const char* sql :
         {"DELETE FROM replacements", "DELETE FROM temperatures", "DELETE FROM controls",
          "DELETE FROM dial_points", "DELETE FROM piles", "DELETE FROM fans"}) {
        if (auto cleared = database_.execute(sql); !cleared) {
            return cleared.problems();
        }
    }
    auto written = write(database_, season, {}, Origin::this_season);
    if (!written) {
        return written;
    }
    if (auto noted = note(database_, by); !noted) {
        return noted.problems();
    }
    if (auto committed = transaction->commit(); !committed) {
        return committed.problems();
    }
    return written;
}

}  // namespace beetwright::records
