#include <bit>
#include <map>

#include "io/terms_json.hpp"
#include "records/machine_load.hpp"
#include "records/pile_load.hpp"
#include "records/row.hpp"
#include "records/season_file.hpp"
#include "records/season_load.hpp"
#include "records/weather_store.hpp"

namespace beetwright::records {
namespace {

ledger::Field read_field(Row row) {
    ledger::Field f;
    f.name = row.text();
    f.grower = row.text();
    f.area = Area(row.real());
    f.soil = row.text();
    f.variety = row.text();
    f.machine = row.text();
    f.operator_name = row.text();
    f.destination = row.text();
    f.haul = Length(row.real());
    ledger::ExpectedYield expected;
    expected.value = CleanMassPerArea(row.real());
    expected.low = CleanMassPerArea(row.real());
    expected.high = CleanMassPerArea(row.real());
    if (expected.value.is_known()) {
        f.expected_yield = expected;
    }
    f.lifted = row.day_if_any();
    f.sliced = row.day_if_any();
    return f;
}

check::CountedBeet read_beet(Row& row) {
    check::CountedBeet b;
    b.spot = static_cast<std::int32_t>(row.integer());
    b.topping = row.word<check::Topping>();
    b.scar = Length(row.real());
    b.tip.from = Length(row.real());
    b.tip.to = Length(row.real());
    b.skin_damage = Area(row.real());
    b.rot = row.word<check::Seen>();
    b.frost = row.word<check::Seen>();
    return b;
}

class Loader {
 public:
    explicit Loader(const Database& database) : database_(database) {}

    Result<ledger::Season> load() {
        bool found = false;
        std::string terms;
        const bool read = each("SELECT name, currency, units, first_day, seed, terms FROM season",
                               [&](Row row) {
                                   found = true;
                                   season_.name = row.text();
                                   season_.currency = row.text();
                                   season_.units = row.word<UnitSystem>();
                                   season_.first_day = day_of(row.integer());
                                   season_.seed = std::bit_cast<std::uint64_t>(row.integer());
                                   terms = row.text();
                               }) &&
                          masters() && observations(Beets::load);
        if (!read) {
            return problems_;
        }
        if (!found) {
            return Problem{ProblemKind::missing,
                           {.file = database_.path(), .line = 0, .field = ""},
                           "this season file holds no season yet",
                           "import a folder of tables into it"};
        }
        auto weather = load_weather(database_);
        if (!weather) {
            return weather.problems();
        }
        season_.weather = std::move(*weather);
        season_.terms.currency = season_.currency;
        if (terms.empty()) {
            return std::move(season_);
        }
        auto parsed = io::read_terms(terms, database_.path());
        if (!parsed) {
            return parsed.problems();
        }
        season_.terms = std::move(*parsed);
        return std::move(season_);
    }

    Result<ledger::Season> load_observations(Beets beets) {
        if (!observations(beets)) {
            return problems_;
        }
        return std::move(season_);
    }

 private:
    /// Calls `read(Row)` for each row of a query.
    template <class Read>
    bool each(const char* sql, Read&& read) {
        const auto done =
            for_each_row(database_, sql, [&](const Statement& row) { read(Row(row)); });
        if (!done) {
            problems_ = done.problems();
        }
        return done.ok();
    }

    template <class T>
    bool taken(Result<T> loaded, T& into) {
        if (!loaded) {
            problems_ = loaded.problems();
            return false;
        }
        into = std::move(*loaded);
        return true;
    }

    bool masters() {
        return each(
                   "SELECT name, grower, area, soil, variety, machine, operator, destination, "
                   "haul, "
                   "yield, yield_low, yield_high, lifted, sliced FROM fields ORDER BY position",
                   [&](Row row) { season_.fields.push_back(read_field(row)); }) &&
               taken(load_machines(database_), season_.machines) && soils() && destinations() &&
               taken(load_piles(database_), season_.piles) &&
               each("SELECT id, value, low, high, why FROM replacements ORDER BY position",
                    [&](Row row) {
                        ledger::Replacement r;
                        r.id = row.text();
                        r.value = row.real();
                        r.low = row.real();
                        r.high = row.real();
                        r.why = row.text();
                        season_.replacements.push_back(r);
                    });
    }

    bool soils() {
        return each(
            "SELECT name, class, holds, stop_filling, drains_to, drain_lag, rain_stop FROM soils "
            "ORDER BY position",
            [&](Row row) {
                ledger::SoilRules s;
                s.name = row.text();
                s.soil_class = row.word_if_any<weather::SoilClass>();
                s.holds = Length(row.real());
                s.stop_filling = row.real();
                s.drains_to = row.real();
                s.drain_lag = Duration(row.real());
                s.rain_stop = Length(row.real());
                season_.soils.push_back(std::move(s));
            });
    }

    bool destinations() {
        std::map<std::string, std::vector<ledger::DayTemperature>> temperatures;
        return each("SELECT destination, day, mean FROM temperatures ORDER BY destination, day",
                    [&](Row row) {
                        auto& series = temperatures[row.text()];
                        const Day day = day_of(row.integer());
                        series.push_back({day, Temperature::kelvin(row.real())});
                    }) &&
               each("SELECT name, kind FROM destinations ORDER BY position", [&](Row row) {
                   ledger::Destination d;
                   d.name = row.text();
                   d.kind = row.word<ledger::DestinationKind>();
                   d.temperatures = std::move(temperatures[d.name]);
                   season_.destinations.push_back(std::move(d));
               });
    }

    bool observations(Beets wanted) {
        return loads() && sheets() && (wanted == Beets::leave || beets()) && strips() && tares() &&
               labs() && standing() && crowns() &&
               taken(load_settings(database_), season_.settings) &&
               taken(load_parts(database_), season_.parts) &&
               taken(load_covers(database_), season_.covers) &&
               taken(load_probes(database_), season_.probes) &&
               taken(load_removals(database_), season_.removals) && places();
    }

    bool places() {
        return each(
            "SELECT id, supersedes, field, at, of, spot, latitude, longitude, accuracy FROM places "
            "ORDER BY position",
            [&](Row row) {
                check::Place p;
                p.id = row.uuid();
                p.supersedes = row.uuid();
                p.field = row.text();
                p.at = row.instant();
                p.of = row.uuid();
                p.spot = static_cast<std::int32_t>(row.integer());
                p.latitude_rad = row.real();
                p.longitude_rad = row.real();
                p.accuracy = Length(row.real());
                season_.places.push_back(std::move(p));
            });
    }

    bool loads() {
        return each(
            "SELECT id, supersedes, field, at, destination, ticket, gross, along_from, along_to "
            "FROM loads ORDER BY position",
            [&](Row row) {
                ledger::Load l;
                l.id = row.uuid();
                l.supersedes = row.uuid();
                l.field = row.text();
                l.at = row.instant();
                l.destination = row.text();
                l.ticket = row.text();
                l.gross = MassWithSoil(row.real());
                l.stretch.from = Length(row.real());
                l.stretch.to = Length(row.real());
                season_.loads.push_back(std::move(l));
            });
    }

    bool sheets() {
        return each(
            "SELECT position, id, supersedes, field, machine, operator, at, seen_at "
            "FROM beet_sheets ORDER BY position",
            [&](Row row) {
                sheet_at_[row.integer()] = season_.beet_sheets.size();
                check::BeetSheet sheet;
                sheet.id = row.uuid();
                sheet.supersedes = row.uuid();
                sheet.field = row.text();
                sheet.machine = row.text();
                sheet.operator_name = row.text();
                sheet.at = row.instant();
                sheet.seen_at = row.word<check::SeenAt>();
                season_.beet_sheets.push_back(std::move(sheet));
            });
    }

    bool beets() {
        return each(
            "SELECT sheet, spot, topping, scar, tip_from, tip_to, skin_damage, rot, frost "
            "FROM beets ORDER BY sheet, number",
            [&](Row row) {
                const auto found = sheet_at_.find(row.integer());
                if (found != sheet_at_.end()) {
                    season_.beet_sheets[found->second].beets.push_back(read_beet(row));
                }
            });
    }

    bool strips() {
        return each(
            "SELECT id, supersedes, field, machine, at, area, whole_roots, pieces, tails "
            "FROM strips ORDER BY position",
            [&](Row row) {
                check::DugStrip d;
                d.id = row.uuid();
                d.supersedes = row.uuid();
                d.field = row.text();
                d.machine = row.text();
                d.at = row.instant();
                d.area = Area(row.real());
                d.whole_roots = CleanMass(row.real());
                d.pieces = CleanMass(row.real());
                d.tails = CleanMass(row.real());
                season_.strips.push_back(std::move(d));
            });
    }

    bool tares() {
        return each(
            "SELECT id, supersedes, field, at, gross, soil, tops FROM tares ORDER BY position",
            [&](Row row) {
                check::TareSample t;
                t.id = row.uuid();
                t.supersedes = row.uuid();
                t.field = row.text();
                t.at = row.instant();
                t.gross = MassWithSoil(row.real());
                t.soil = Mass(row.real());
                t.tops = Mass(row.real());
                season_.tares.push_back(std::move(t));
            });
    }

    bool labs() {
        return each(
            "SELECT id, supersedes, field, at, pol, potassium, sodium, amino_nitrogen FROM labs "
            "ORDER BY position",
            [&](Row row) {
                check::LabSample l;
                l.id = row.uuid();
                l.supersedes = row.uuid();
                l.field = row.text();
                l.at = row.instant();
                l.pol = SugarContent(row.real());
                l.potassium = AmountContent(row.real());
                l.sodium = AmountContent(row.real());
                l.amino_nitrogen = AmountContent(row.real());
                season_.labs.push_back(std::move(l));
            });
    }

    bool standing() {
        return each(
            "SELECT position, id, supersedes, field, at, spots, area, roots, pol, potassium, "
            "sodium, amino_nitrogen, leaf_sick, leaf_frozen, soil_in_hand, crown_height, evenness, "
            "plants, root_mass FROM standing_looks ORDER BY position",
            [&](Row row) {
                look_at_[row.integer()] = season_.standing.size();
                check::StandingLook s;
                s.id = row.uuid();
                s.supersedes = row.uuid();
                s.field = row.text();
                s.at = row.instant();
                s.spots = static_cast<std::int32_t>(row.integer());
                s.area = Area(row.real());
                s.roots = CleanMass(row.real());
                s.pol = SugarContent(row.real());
                s.potassium = AmountContent(row.real());
                s.sodium = AmountContent(row.real());
                s.amino_nitrogen = AmountContent(row.real());
                s.leaf_sick = row.real();
                s.leaf_frozen = row.word<check::Seen>();
                s.soil_in_hand = row.word<check::SoilInHand>();
                s.crown_height = Length(row.real());
                s.evenness = row.word<check::Evenness>();
                s.plants = BeetsPerArea(row.real());
                s.root_mass = CleanMass(row.real());
                season_.standing.push_back(std::move(s));
            });
    }

    bool crowns() {
        return each("SELECT look, height FROM crowns ORDER BY look, number", [&](Row row) {
            const auto found = look_at_.find(row.integer());
            if (found != look_at_.end()) {
                season_.standing[found->second].crowns.emplace_back(row.real());
            }
        });
    }

    const Database& database_;
    ledger::Season season_;
    std::map<std::int64_t, std::size_t> sheet_at_;  ///< its place among the sheets, by position
    std::map<std::int64_t, std::size_t> look_at_;   ///< likewise among looks at standing crops
    Problems problems_;
};

}  // namespace

Result<ledger::Season> load_observations(const Database& database, Beets beets) {
    return Loader(database).load_observations(beets);
}

Result<ledger::Season> SeasonFile::load() const {
    return Loader(database_).load();
}

}  // namespace beetwright::records
