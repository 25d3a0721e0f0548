#include "demo_season/invent.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/contract.hpp"
#include "base/estimate.hpp"
#include "demo_season/chance.hpp"
#include "demo_season/hours.hpp"
#include "demo_season/loads.hpp"
#include "demo_season/machine_log.hpp"
#include "demo_season/observe.hpp"
#include "demo_season/piles.hpp"
#include "demo_season/receiver.hpp"
#include "demo_season/scenes.hpp"
#include "demo_season/standing.hpp"
#include "demo_season/terms.hpp"

namespace beetwright::demo {
namespace {

void add_machines_and_soils(const Reader& reader, ledger::Season& season) {
    for (const auto& plan : machine_plans()) {
        const ledger::Wheel wheel{
            .load = reader.read(tonnes<Mass>(plan.wheel_load_t), scale::wheel_load),
            .pressure = reader.read(Pressure(1e5 * plan.tyre_bar), scale::tyre_pressure),
            .width = reader.read(plan.tyre_width_cm * unit::cm, scale::tyre),
            .diameter = reader.read(plan.tyre_diameter_cm * unit::cm, scale::tyre)};
        season.machines.push_back({.name = std::string(plan.name),
                                   .kind = std::string(plan.kind),
                                   .rows = 6,
                                   .row_spacing = reader.is_us() ? plan.row_spacing_in * unit::inch
                                                                 : plan.row_spacing_cm * unit::cm,
                                   .heaviest_wheel = wheel});
        describe(plan, reader, season.machines.back());
    }
    for (const auto& plan : soil_plans()) {
        season.soils.push_back(
            {.name = std::string(plan.word),
             .soil_class = plan.soil_class,
             .holds = reader.read(plan.holds_mm * unit::mm, scale::water),
             .stop_filling = reader.read(0.01 * plan.stop_percent, scale::percent),
             .drains_to = reader.read(0.01 * plan.drains_to_percent, scale::percent),
             .drain_lag = reader.read(plan.drain_lag_h * unit::hour, scale::hour),
             .rain_stop = reader.read(plan.rain_stop_mm * unit::mm, scale::water)});
    }
}

void add_places(const Weather& weather, const Reader& reader, ledger::Season& season) {
    for (const auto& plan : destination_plans()) {
        auto series = beet_temperatures(weather, plan);
        for (auto& day : series) {
            day.mean = reader.read(day.mean, scale::air);
        }
        season.destinations.push_back(
            {.name = std::string(plan.name), .kind = plan.kind, .temperatures = std::move(series)});
    }
}

/// What the grower expects, wrong by about 8 %, with an interval that admits as much.
ledger::ExpectedYield expected_yield(const FieldTruth& truth, std::uint64_t seed,
                                     const Reader& reader) {
    RandomStream guess(seed, "demo expected yield", truth.field);
    constexpr double kLogSd = 0.08;
    const auto value = factor(guess, kLogSd) * truth.standing;
    const double reach = kIntervalZ * kLogSd;
    return {.value = reader.read(value, scale::yield),
            .low = reader.read((1.0 - reach) * value, scale::yield),
            .high = reader.read((1.0 + reach) * value, scale::yield)};
}

ledger::Field written_field(const FieldPlan& plan, const FieldTruth& truth, std::uint64_t seed,
                            const Reader& reader) {
    ledger::Field field;
    field.name = plan.name;
    field.grower = plan.grower;
    field.area = reader.read(plan.area_ha * unit::ha, scale::field_area);
    field.soil = plan.soil;
    field.variety = plan.variety;
    field.machine = plan.machine;
    field.operator_name = plan.operator_name;
    field.destination = plan.destination;
    field.haul = reader.read(plan.haul_km * unit::km, scale::haul);
    field.expected_yield = expected_yield(truth, seed, reader);
    if (plan.is_lifted()) {
        field.lifted = truth.lifted.on(kFirstDay);
    }
    if (plan.slicing_day) {
        field.sliced = CampaignDay(*plan.slicing_day).on(kFirstDay);
    }
    return field;
}

void add_observations(const Look& look, ledger::Season& season) {
    const Sampling& sampling = look.plan.sampling;
    for (int i = 0; i < sampling.sheets; ++i) {
        auto sheet = observed_sheet(look, i);
        if (look.plan.name == kCorrectedField && i == 0) {
            auto both = corrected(look, sheet);
            season.beet_sheets.push_back(std::move(both.wrong));
            sheet = std::move(both.right);
        }
        season.beet_sheets.push_back(std::move(sheet));
    }
    for (int i = 0; i < sampling.strips; ++i) {
        season.strips.push_back(observed_strip(look, i));
    }
    for (int i = 0; i < sampling.tares; ++i) {
        season.tares.push_back(observed_tare(look, i));
    }
    for (int i = 0; i < sampling.labs; ++i) {
        season.labs.push_back(observed_lab(look, i));
    }
    for (const Visit visit : {Visit::august, Visit::september, Visit::before_lifting}) {
        season.standing.push_back(observed_standing(look, visit));
    }
}

const ledger::Machine& machine_in(const ledger::Season& season, const FieldPlan& plan) {
    const auto found = std::ranges::find(season.machines, plan.machine, &ledger::Machine::name);
    require(found != season.machines.end(), "the story names only those it has introduced");
    return *found;
}

template <class Observation>
void order_by_instant(std::vector<Observation>& observations) {
    std::ranges::sort(observations, {},
                      [](const Observation& one) { return std::pair(one.at, one.id); });
}

}  // namespace

Invented invent(std::uint64_t seed, UnitSystem units, const LossPhysics& physics) {
    Weather weather(seed);
    auto truth = season_truth(weather, seed, physics);
    const Reader reader(units);

    ledger::Season season;
    season.name = kSeasonName;
    season.units = units;
    season.first_day = kFirstDay;
    season.seed = seed;
    season.terms = invented_terms(reader);
    season.currency = season.terms.currency;
    add_machines_and_soils(reader, season);
    add_places(weather, reader, season);
    const auto plans = field_plans();
    for (std::size_t i = 0; i < plans.size(); ++i) {
        season.fields.push_back(written_field(plans[i], truth[i], seed, reader));
        const Look look{.plan = plans[i], .truth = truth[i], .seed = seed, .units = units};
        add_observations(look, season);
        const FieldTruth whole = with_scenes(plans[i], truth[i], physics);
        if (plans[i].is_lifted()) {
            add_loads({.plan = plans[i], .truth = whole, .seed = seed, .units = units},
                      season.fields.back().area, season.loads);
            const ledger::Machine& machine = machine_in(season, plans[i]);
            season.settings.push_back(observed_settings(look, machine));
            add_scenes(look, machine, physics, season);
        }
        truth[i] = whole;
    }
    order_by_instant(season.beet_sheets);
    order_by_instant(season.strips);
    order_by_instant(season.tares);
    order_by_instant(season.labs);
    order_by_instant(season.standing);
    order_by_instant(season.settings);
    season.parts = part_changes(seed);
    order_by_instant(season.loads);
    season.places = places_of_sheets(season);
    order_by_instant(season.places);
    number_tickets(season.loads);
    season.weather =
        std::make_shared<const weather::KnownWeather>(known_weather(weather, seed, reader));
    add_piles(truth, seed, reader, physics, season);
    return {.weather = std::move(weather), .truth = std::move(truth), .season = std::move(season)};
}

}  // namespace beetwright::demo
