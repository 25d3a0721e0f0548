#include "demo_season/loads.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "demo_season/chance.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr double kPayload_kg = 27'500.0;
constexpr double kHectaresPerTicket = 3.5;
constexpr int kTrucks = 4;

}  // namespace

void add_loads(const Look& look, Area field_area, std::vector<ledger::Load>& loads) {
    RandomStream chances(look.seed, "demo loads", look.plan.name);
    const FieldTruth& truth = look.truth;
    const double gross_kg = (truth.delivered() * field_area).si() * (1.0 + truth.soil + truth.tops);
    // A little falls on the road and the bridge has its own error: 0.4 % on a whole field.
    const double weighed_kg = gross_kg * factor(chances, 0.004);
    const int tickets =
        std::clamp(static_cast<int>(std::lround(look.plan.area_ha / kHectaresPerTicket)), 3, 12);
    std::vector<double> trips;
    double all_trips = 0.0;
    for (int i = 0; i < tickets; ++i) {
        const double even = weighed_kg / kPayload_kg / tickets;
        trips.push_back(std::max(1.0, std::round(even * factor(chances, 0.15))));
        all_trips += trips.back();
    }
    for (int i = 0; i < tickets; ++i) {
        ledger::Load load;
        load.field = look.plan.name;
        load.destination = look.plan.destination;
        load.at = (truth.lifted + i / kTrucks).on(kFirstDay) + hours(15) +
                  minutes(20 * (i % kTrucks) + static_cast<int>(chances.below(20)));
        const std::uint64_t high = chances.word64();
        load.id = Uuid::version7(load.at, high, chances.word64());
        const double kg = weighed_kg * trips[static_cast<std::size_t>(i)] / all_trips;
        load.gross = Reader(look.units).read(MassWithSoil(kg), scale::load_mass);
        loads.push_back(std::move(load));
    }
}

void number_tickets(std::vector<ledger::Load>& loads) {
    int number = 1001;
    for (auto& load : loads) {
        load.ticket = "OM-" + std::to_string(number++);
    }
}

}  // namespace beetwright::demo
