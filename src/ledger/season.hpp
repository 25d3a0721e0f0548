// One season as the ledger reads it: fields, machines, where the beets go, and all observations.
// Readers (io, records) fill it; nothing here does I/O.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"
#include "check/machine_log.hpp"
#include "check/pile_log.hpp"
#include "check/place.hpp"
#include "check/sheet.hpp"
#include "check/standing_look.hpp"
#include "ledger/machine.hpp"
#include "ledger/pile_site.hpp"
#include "ledger/soil_rules.hpp"
#include "weather/known.hpp"
#include "worth/terms.hpp"

namespace beetwright::ledger {

/// A yield somebody expects, with its 90 % interval, on clean beet topped correctly.
struct ExpectedYield {
    CleanMassPerArea value;
    CleanMassPerArea low;
    CleanMassPerArea high;
};

struct Field {
    std::string name;  ///< unique in the season
    std::string grower;
    Area area;
    std::string soil;  ///< the grower's word: "loam", "heavy clay"
    std::string variety;
    std::string machine;  ///< that lifted it, or will
    std::string operator_name;
    std::string destination;
    Length haul;  ///< from the field's loading place to the factory; NaN: not known
    std::optional<ExpectedYield> expected_yield;
    std::optional<Day> lifted;  ///< absent: not lifted yet
    std::optional<Day> sliced;  ///< when its beets are to be sliced; absent: not decided
};

enum class DestinationKind : std::uint8_t { factory, pile };

/// The daily mean temperature of the beets at one destination.
struct DayTemperature {
    Day day;
    Temperature mean;
};

struct Destination {
    std::string name;
    DestinationKind kind = DestinationKind::factory;
    std::vector<DayTemperature> temperatures;  ///< by day, ascending, no gaps
};

/// One weighed load.
struct Load {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string field;
    Instant at{};
    std::string destination;
    std::string ticket;
    MassWithSoil gross;        ///< beet as weighed, without the vehicle
    check::Stretch stretch{};  ///< of the pile, where it was tipped; NaN: not said

    [[nodiscard]] bool says_where() const {
        return stretch.from.is_known() || stretch.to.is_known();
    }
};

/// A season's own number in place of a catalogue row, in the row's unit.
struct Replacement {
    std::string id;
    double value = 0.0;
    double low = 0.0;
    double high = 0.0;
    std::string why;
};

/// The currency of a season that has not been told its own: no currency, in ISO 4217.
inline constexpr const char* kNoCurrencyYet = "XXX";

struct Season {
    std::string name;
    std::string currency;                   ///< ISO 4217 code, or the group's own word
    UnitSystem units = UnitSystem::metric;  ///< what its people read by default
    Day first_day{};                        ///< day 0 of the campaign
    std::uint64_t seed = 1;
    std::vector<Field> fields;
    std::vector<Machine> machines;
    std::vector<SoilRules> soils;
    std::vector<Destination> destinations;
    std::vector<PileSite> piles;  ///< each a destination, of which more is known
    std::vector<Load> loads;
    std::vector<check::BeetSheet> beet_sheets;
    std::vector<check::DugStrip> strips;
    std::vector<check::TareSample> tares;
    std::vector<check::LabSample> labs;
    std::vector<check::StandingLook> standing;
    std::vector<check::SettingsNote> settings;
    std::vector<check::PartChange> parts;
    std::vector<check::CoverChange> covers;
    std::vector<check::ProbeReading> probes;
    std::vector<check::PileRemoval> removals;
    std::vector<check::Place> places;
    std::vector<Replacement> replacements;
    worth::Terms terms;
    /// Null: none is known. Shared, for it is large and changes seldom.
    std::shared_ptr<const weather::KnownWeather> weather;
};

/// The class of a field's soil: as soils.csv says it, else by the grower's word, else loam.
weather::SoilClass soil_class_of(const Season& season, const std::string& soil);

/// Adds the observations of another, which holds nothing else, after one's own.
void add_observations(Season& season, const Season& more);
/// How many there are, each sheet of beets one.
std::size_t count_observations(const Season& season);
/// Of observations, those whose ids `season` does not hold.
Season only_new(const Season& season, Season observations);

}  // namespace beetwright::ledger
