#include <algorithm>

#include "io/names_once.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"

namespace beetwright::io {
namespace {

void read_fields(const FolderReading& reading) {
    NamesOnce names;
    reading.each(fields::table, [&](TableReader& reader, const TableRow& row) {
        if (!names.add(reader, row, fields::name)) {
            return;
        }
        ledger::Field f;
        f.name = row.text(fields::name);
        f.grower = row.text(fields::grower);
        f.area = Area(row.number(fields::area));
        f.soil = row.text(fields::soil);
        f.variety = row.text(fields::variety);
        f.machine = row.text(fields::machine);
        f.operator_name = row.text(fields::operator_name);
        f.destination = row.text(fields::destination);
        f.haul = Length(row.number(fields::haul));
        f.lifted = row.day(fields::lifted);
        f.sliced = row.day(fields::sliced);
        if (row.has(fields::yield)) {
            ledger::ExpectedYield expected;
            expected.value = CleanMassPerArea(row.number(fields::yield));
            expected.low = CleanMassPerArea(row.number(fields::yield_low));
            expected.high = CleanMassPerArea(row.number(fields::yield_high));
            const bool ordered = expected.low <= expected.value && expected.value <= expected.high;
            if (!ordered) {
                reader.fail(fields::yield, "the yield lies outside its own range, or has none",
                            "give yield_low, yield and yield_high in that order");
                return;
            }
            f.expected_yield = expected;
        }
        if (f.lifted && f.sliced && *f.sliced < *f.lifted) {
            reader.fail(fields::sliced,
                        "sliced on " + to_text(*f.sliced) + ", before it was lifted",
                        "beets are lifted first");
            return;
        }
        reading.season.fields.push_back(std::move(f));
    });
}

void read_soils(const FolderReading& reading) {
    NamesOnce names;
    reading.each(soils::table, [&](TableReader& reader, const TableRow& row) {
        if (!names.add(reader, row, soils::name)) {
            return;
        }
        ledger::SoilRules s;
        s.name = row.text(soils::name);
        if (row.has(soils::soil_class)) {
            s.soil_class = static_cast<weather::SoilClass>(row.word(soils::soil_class, 0));
        }
        s.holds = Length(row.number(soils::holds));
        s.stop_filling = row.number(soils::stop_filling);
        s.drains_to = row.number(soils::drains_to);
        s.drain_lag = Duration(row.number(soils::drain_lag));
        s.rain_stop = Length(row.number(soils::rain_stop));
        if (s.drains_to >= s.stop_filling) {
            reader.fail(soils::drains_to,
                        "it drains to the filling from which one stops, or not even to that",
                        "give less than stop_filling: else only the sun would ever dry it");
            return;
        }
        reading.season.soils.push_back(std::move(s));
    });
}

void read_destinations(const FolderReading& reading) {
    NamesOnce names;
    reading.each(destinations::table, [&](TableReader& reader, const TableRow& row) {
        if (!names.add(reader, row, destinations::name)) {
            return;
        }
        ledger::Destination d;
        d.name = row.text(destinations::name);
        d.kind = static_cast<ledger::DestinationKind>(row.word(destinations::kind, 0));
        reading.season.destinations.push_back(std::move(d));
    });
}

void read_temperatures(const FolderReading& reading) {
    auto& places = reading.season.destinations;
    reading.each(temperatures::table, [&](TableReader& reader, const TableRow& row) {
        const auto place = std::ranges::find(places, row.view(temperatures::destination),
                                             &ledger::Destination::name);
        if (place == places.end()) {
            if (!reading.files.contains(std::string(destinations::table.file))) {
                reader.fail(temperatures::destination, "there is no destinations.csv",
                            "add the table that names the destination and its kind");
            }
            return;  // otherwise the name, or the row that introduces it, is told
        }
        const Day day = *row.day(temperatures::day);
        auto& series = place->temperatures;
        if (!series.empty() && day != series.back().day + std::chrono::days(1)) {
            const Day wanted = series.back().day + std::chrono::days(1);
            reader.fail(temperatures::day,
                        "the day after " + to_text(series.back().day) + " should come here, not " +
                            to_text(day),
                        "add " + to_text(wanted) + "; days of one destination follow without gaps");
            return;
        }
        series.push_back({day, Temperature::kelvin(row.number(temperatures::mean))});
    });
}

void read_constants(const FolderReading& reading) {
    NamesOnce names;
    reading.each(constants::table, [&](TableReader& reader, const TableRow& row) {
        if (!names.add(reader, row, constants::id)) {
            return;
        }
        ledger::Replacement r;
        r.id = row.text(constants::id);
        r.value = row.number(constants::value);
        r.low = row.number(constants::low);
        r.high = row.number(constants::high);
        r.why = row.text(constants::why);
        Catalogue trial;
        if (auto replaced = trial.replace(r.id, r.value, r.low, r.high); !replaced) {
            reader.fail(constants::id, replaced.problems().front().what,
                        replaced.problems().front().fix);
            return;
        }
        reading.season.replacements.push_back(std::move(r));
    });
}

}  // namespace

void read_masters(const FolderReading& reading) {
    read_fields(reading);
    read_machines(reading);
    read_soils(reading);
    read_destinations(reading);
    read_piles(reading);
    read_temperatures(reading);
    read_constants(reading);
}

}  // namespace beetwright::io
