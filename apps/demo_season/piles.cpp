#include "demo_season/piles.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "demo_season/hidden_pile.hpp"
#include "demo_season/story.hpp"

namespace beetwright::demo {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

constexpr double kDegree = std::numbers::pi / 180.0;
constexpr double kSpare = 1.06;  ///< of its length, for what is more than was thought
constexpr double kFirstTaken_m = 3.0;

// One fan, as its plate says: at 60 % of efficiency it draws 12.5 m3/s x 350 Pa / 0.6.
constexpr double kFlow_m3_h = 45'000.0;
constexpr double kPressure_Pa = 350.0;
constexpr double kPower_kW = 7.5;
constexpr double kColder_K = 3.0;

/// One pile: what is brought there, and how far it reaches.
class Pile {
 public:
    Pile(const PilePlan& plan, std::span<const FieldTruth> truth, const Reader& reader,
         const LossPhysics& physics, const ledger::Season& season)
        : plan_(plan), reader_(reader), physics_(physics) {
        CleanMass brought = CleanMass::zero();
        double gross_kg = 0.0;
        double lifted_kg = 0.0;
        for (std::size_t i = 0; i < truth.size(); ++i) {
            const auto& field = season.fields[i];
            if (field.destination != plan.name) {
                continue;
            }
            const auto clean = truth[i].delivered() * field.area;
            brought += clean;
            if (field.lifted) {
                lifted_kg += clean.si();
                gross_kg += clean.si() * (1.0 + truth[i].soil + truth[i].tops);
            }
        }
        site_.name = plan.name;
        site_.base_width = read(plan.base_m);
        site_.top_width = read(plan.top_m);
        site_.height = reader.read(plan.height_m * unit::m, scale::probe);
        site_.orientation_rad = reader.read(plan.orientation_degrees * kDegree, scale::compass);
        site_.ground = plan.ground;
        site_.built = plan.built;
        const auto length_of = [&](CleanMass mass) {
            return mass / physics.piled / site_.section();
        };
        site_.length = reader.read(kSpare * length_of(brought), scale::pile);
        // One that grows in layers reaches as far as it ever will from the first.
        const bool grows = plan.built == ledger::PileBuilding::from_one_end;
        filled_ = length_of(grows ? CleanMass(lifted_kg) : brought);
        gross_per_clean_ = gross_kg / lifted_kg;
        for (int fan = 0; fan < plan.fans; ++fan) {
            add_fan(fan);
        }
    }

    [[nodiscard]] const ledger::PileSite& site() const { return site_; }
    [[nodiscard]] Length filled() const { return filled_; }

    /// Puts loads one behind the other.
    void tip(std::vector<ledger::Load>& loads) const {
        double all_kg = 0.0;
        for (const auto& load : loads) {
            all_kg += load.destination == plan_.name ? load.gross.si() : 0.0;
        }
        double before_kg = 0.0;
        for (auto& load : loads) {
            if (load.destination != plan_.name) {
                continue;
            }
            const double after_kg = before_kg + load.gross.si();
            load.stretch.from = reader_.read(before_kg / all_kg * filled_, scale::pile);
            load.stretch.to = reader_.read(after_kg / all_kg * filled_, scale::pile);
            before_kg = after_kg;
        }
    }
    /// What lies on a stretch of it, with soil and tops.
    [[nodiscard]] MassWithSoil gross_on(const check::Stretch& stretch) const {
        const CleanMass clean = physics_.piled * (site_.section() * (stretch.to - stretch.from));
        return MassWithSoil(gross_per_clean_ * clean.si());
    }

 private:
    [[nodiscard]] Length read(double metres) const {
        return reader_.read(metres * unit::m, scale::pile);
    }
    void add_fan(int number) {
        const auto end = [&](int of) {
            return reader_.read(static_cast<double>(of) / plan_.fans * site_.length, scale::pile);
        };
        ledger::Fan fan;
        fan.stretch = {.from = end(number), .to = end(number + 1)};
        fan.flow = reader_.read(VolumePerTime(kFlow_m3_h / 3600.0), scale::fan_flow);
        fan.pressure = reader_.read(Pressure(kPressure_Pa), scale::fan_pressure);
        fan.power = reader_.read(Power(1000.0 * kPower_kW), scale::fan_power);
        fan.rule = ledger::FanRule::difference;
        fan.difference = reader_.read(TemperatureDifference(kColder_K), scale::difference);
        fan.not_below = reader_.read(Temperature::celsius(0.0), scale::air);
        site_.fans.push_back(fan);
    }

    const PilePlan& plan_;
    Reader reader_;
    const LossPhysics& physics_;
    ledger::PileSite site_;
    Length filled_;
    double gross_per_clean_ = 1.0;
};

Uuid id_at(std::uint64_t seed, const char* purpose, std::size_t number, Instant at) {
    RandomStream bits(seed, purpose, number);
    const std::uint64_t high = bits.word64();
    return Uuid::version7(at, high, bits.word64());
}

void add_covers(std::uint64_t seed, ledger::Season& season) {
    for (const CoverPlan& plan : cover_plans()) {
        const Instant at = CampaignDay(plan.day).on(kFirstDay) + hours(plan.hour);
        season.covers.push_back({.id = id_at(seed, "demo id cover", season.covers.size(), at),
                                 .supersedes = {},
                                 .pile = std::string(plan.pile),
                                 .at = at,
                                 .stretch = {},
                                 .cover = plan.cover});
    }
}

/// A pile's readings but for their temperatures, probe by probe.
std::vector<check::ProbeReading> planned_readings(const Pile& pile, std::uint64_t seed,
                                                  const Reader& reader) {
    std::vector<check::ProbeReading> planned;
    std::size_t number = 0;
    std::size_t made = 0;
    for (const ProbePlan& plan : probe_plans()) {
        for (CampaignDay day = kProbesBegin; plan.pile == pile.site().name && day < kToldOn;
             day = day + plan.every_days) {
            check::ProbeReading reading;
            reading.at = day.on(kFirstDay) + hours(7) + minutes(30 + 3 * number);
            reading.id = id_at(seed, "demo id probe", 1000 * number + made++, reading.at);
            reading.pile = plan.pile;
            reading.probe = plan.name;
            reading.kind = plan.kind;
            reading.along = reader.read(plan.along_share * pile.filled(), scale::pile);
            reading.across = reader.read(plan.across_m * unit::m, scale::probe);
            reading.height = reader.read(plan.height_m * unit::m, scale::probe);
            planned.push_back(std::move(reading));
        }
        ++number;
    }
    std::ranges::sort(planned, {},
                      [](const check::ProbeReading& one) { return std::pair(one.at, one.id); });
    return planned;
}

/// `season` with its piles, covers and removals, and the readings of other piles.
void add_readings(const Pile& pile, std::uint64_t seed, const Reader& reader,
                  ledger::Season& season) {
    auto planned = planned_readings(pile, seed, reader);
    std::vector<InPile> where;
    for (const auto& reading : planned) {
        where.push_back({reading.at, {reading.along, reading.across, reading.height}});
    }
    constexpr hours kToldAt{6};
    const HiddenPile hidden(season, pile.site().name, kToldOn.on(kFirstDay) + kToldAt);
    const auto true_temperatures = hidden.at(where);
    std::map<std::pair<std::string, double>, double> of_place;  // by probe and height
    for (std::size_t i = 0; i < planned.size(); ++i) {
        constexpr double kOwnPlace_K = 0.4;
        constexpr double kReading_K = 0.3;
        check::ProbeReading& reading = planned[i];
        if (!true_temperatures[i]) {
            continue;  // beets are not as high there yet
        }
        const auto place = of_place.try_emplace({reading.probe, reading.height.si()}, 0.0);
        if (place.second) {
            RandomStream chances(seed, "demo probe place",
                                 pile.site().name + std::to_string(of_place.size()));
            place.first->second = kOwnPlace_K * chances.normal();
        }
        RandomStream chances(seed, "demo probe", pile.site().name + std::to_string(i));
        const double error_K = place.first->second + kReading_K * chances.normal();
        reading.temperature =
            reader.read(*true_temperatures[i] + TemperatureDifference(error_K), scale::air);
        season.probes.push_back(std::move(reading));
    }
}

void add_first_removal(const Pile& pile, std::uint64_t seed, const Reader& reader,
                       ledger::Season& season) {
    const Instant at = kFirstTaken.on(kFirstDay) + hours(10);
    check::PileRemoval removal;
    removal.at = at;
    removal.id = id_at(seed, "demo id removal", 0, at);
    removal.pile = pile.site().name;
    removal.stretch = {.from = Length::zero(),
                       .to = reader.read(kFirstTaken_m * unit::m, scale::pile)};
    removal.gross = reader.read(pile.gross_on(removal.stretch), scale::load_mass);
    season.removals.push_back(std::move(removal));
}

}  // namespace

void add_piles(std::span<const FieldTruth> truth, std::uint64_t seed, const Reader& reader,
               const LossPhysics& physics, ledger::Season& season) {
    add_covers(seed, season);
    for (const PilePlan& plan : pile_plans()) {
        const Pile pile(plan, truth, reader, physics, season);
        season.piles.push_back(pile.site());
        if (plan.built == ledger::PileBuilding::from_one_end) {
            pile.tip(season.loads);
        }
        if (plan.name == kBegunPile) {
            add_first_removal(pile, seed, reader, season);
        }
        add_readings(pile, seed, reader, season);
    }
    std::ranges::sort(season.probes, {},
                      [](const check::ProbeReading& one) { return std::pair(one.at, one.id); });
}

}  // namespace beetwright::demo
