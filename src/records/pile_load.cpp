#include "records/pile_load.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "records/row.hpp"

namespace beetwright::records {
namespace {

/// Rows of one kind, each made of a row that the query gives.
template <class One, class Read>
Result<std::vector<One>> load_all(const Database& database, const char* sql, Read&& read) {
    std::vector<One> all;
    const auto done = for_each_row(
        database, sql, [&](const Statement& statement) { all.push_back(read(Row(statement))); });
    if (!done) {
        return done.problems();
    }
    return all;
}

check::Stretch stretch_of(Row& row) {
    check::Stretch stretch;
    stretch.from = Length(row.real());
    stretch.to = Length(row.real());
    return stretch;
}

/// What every observation of a pile begins with.
template <class Observation>
Observation seen_in(Row& row) {
    Observation one;
    one.id = row.uuid();
    one.supersedes = row.uuid();
    one.pile = row.text();
    one.at = row.instant();
    return one;
}

ledger::PileSite read_site(Row row) {
    ledger::PileSite site;
    site.name = row.text();
    site.base_width = Length(row.real());
    site.top_width = Length(row.real());
    site.height = Length(row.real());
    site.length = Length(row.real());
    site.orientation_rad = row.real();
    site.ground = row.word_if_any<ledger::PileGround>();
    site.built = row.word_if_any<ledger::PileBuilding>();
    return site;
}

std::optional<Temperature> temperature_if_any(Row& row) {
    const double kelvin = row.real();
    return std::isnan(kelvin) ? std::nullopt : std::optional(Temperature::kelvin(kelvin));
}

ledger::Fan read_fan(Row& row) {
    ledger::Fan fan;
    fan.stretch = stretch_of(row);
    fan.flow = VolumePerTime(row.real());
    fan.pressure = Pressure(row.real());
    fan.power = Power(row.real());
    fan.rule = row.word<ledger::FanRule>();
    fan.difference = TemperatureDifference(row.real());
    fan.not_below = temperature_if_any(row);
    fan.only_below = temperature_if_any(row);
    return fan;
}

}  // namespace

Result<std::vector<ledger::PileSite>> load_piles(const Database& database) {
    auto piles = load_all<ledger::PileSite>(
        database,
        "SELECT name, base_width, top_width, height, length, orientation, ground, built "
        "FROM piles ORDER BY position",
        read_site);
    if (!piles) {
        return piles;
    }
    const auto read = for_each_row(
        database,
        "SELECT pile, along_from, along_to, flow, pressure, power, rule, difference, not_below, "
        "only_below FROM fans ORDER BY pile, number",
        [&](const Statement& statement) {
            Row row(statement);
            const auto pile = std::ranges::find(*piles, row.text(), &ledger::PileSite::name);
            if (pile != piles->end()) {
                pile->fans.push_back(read_fan(row));
            }
        });
    if (!read) {
        return read.problems();
    }
    return piles;
}

Result<std::vector<check::CoverChange>> load_covers(const Database& database) {
    return load_all<check::CoverChange>(
        database,
        "SELECT id, supersedes, pile, at, along_from, along_to, cover FROM cover_changes "
        "ORDER BY position",
        [](Row row) {
            auto change = seen_in<check::CoverChange>(row);
            change.stretch = stretch_of(row);
            change.cover = row.word<check::PileCover>();
            return change;
        });
}

Result<std::vector<check::ProbeReading>> load_probes(const Database& database) {
    return load_all<check::ProbeReading>(
        database,
        "SELECT id, supersedes, pile, at, probe, kind, along, across, height, temperature "
        "FROM probe_readings ORDER BY position",
        [](Row row) {
            auto reading = seen_in<check::ProbeReading>(row);
            reading.probe = row.text();
            reading.kind = row.word<check::ProbeKind>();
            reading.along = Length(row.real());
            reading.across = Length(row.real());
            reading.height = Length(row.real());
            reading.temperature = Temperature::kelvin(row.real());
            return reading;
        });
}

Result<std::vector<check::PileRemoval>> load_removals(const Database& database) {
    return load_all<check::PileRemoval>(
        database,
        "SELECT id, supersedes, pile, at, along_from, along_to, gross FROM pile_removals "
        "ORDER BY position",
        [](Row row) {
            auto removal = seen_in<check::PileRemoval>(row);
            removal.stretch = stretch_of(row);
            removal.gross = MassWithSoil(row.real());
            return removal;
        });
}

}  // namespace beetwright::records
