// The part of a step that is water and carbon dioxide.
#include <algorithm>
#include <cmath>

#include "num/lanes.hpp"
#include "num/sums.hpp"
#include "num/wide.hpp"
#include "pile/conversions.hpp"
#include "pile/humid.hpp"
#include "pile/step.hpp"

namespace beetwright::pile {
namespace {

constexpr double kWaterCapacity = 4186.0;  ///< [J/kg/K]
constexpr double kHeat_J_kg = 1000.0 * kHeat_J_g;
/// d ln saturation / d T near 5 °C [1/K]: only Newton's slopes use it.
constexpr double kSaturationGrowth = 0.07;
/// Rounds along the flow for carbon dioxide: more of them change what turns in circles by some
/// hundredths.
constexpr int kRounds = 2;
/// Where air hardly passes, as under a tight sheet, it spreads in circles, and two rounds leave it
/// where it is: with this much of it somewhere [kg/kg] they go on, or it would be more than there
/// was oxygen to make it of.
constexpr double kMuchCarbonDioxide = 0.02;
constexpr int kRoundsOfMuch = 60;
constexpr double kTrace = 1e-9;  ///< of film [kg/m3]
/// Of what earlier steps left over, the share that is handed out in a step. All of it at once would
/// swing where the flow turns in circles.
constexpr double kHandedOut = 0.2;

/// What comes into a cell's air beside what its neighbours send [kg/s].
BEETWRIGHT_WIDE
void vapour_rows(std::size_t begin, std::size_t end, const double* offers, const double* saturation,
                 const double* there, const double* led_on, double* right) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        right[i] = there[i] + offers[i] * saturation[i] + led_on[i];
    }
}

/// A warmer cell sends moister air on, of which the next keeps a share.
BEETWRIGHT_WIDE
void latent_slopes(std::size_t begin, std::size_t end, const double* offers,
                   const double* saturation, const double* per_diagonal, const double* keeps,
                   double* rise, double* latent_slope) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double grows = kSaturationGrowth * offers[i] * saturation[i];
        rise[i] = grows * per_diagonal[i];
        // What the cell keeps of it itself is no loss.
        latent_slope[i] = grows * (kEvaporation - keeps[i]);
    }
}

struct WetFields {
    const double *saturation, *humidity, *all_wet, *film, *volume, *surface, *wounds, *unhealed;
    double *wet, *dry;
};
struct VapourFields {
    const double *held, *sends, *from_outside;
    double *offers, *there, *per_diagonal, *keeps;
};

BEETWRIGHT_WIDE
void wet_shares(std::size_t begin, std::size_t end, double seconds, double outside,
                const PileConstants& c, const WetFields& f, const VapourFields& v) {
    const double skin_transfer = c.skin_transfer;
    const double activity = c.water_activity;
    const double most_film = c.film;
    const double per_second = 1.0 / seconds;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double saturation = f.saturation[i];
        // Pressure per humidity ratio changes by a hundredth with it: taken as before the step.
        const double per_humidity = kAirPressure_Pa / (kWaterToAir + f.humidity[i]);
        const double pressure = per_humidity * f.humidity[i];
        const double all_wet = f.all_wet[i];
        const double gap = saturation - pressure;
        // The film dries as it thins: what a step takes never exceeds what is there.
        const double could_dry = seconds * all_wet * (gap > 0.0 ? gap : 0.0);
        const double thinned = f.film[i] / (most_film * f.volume[i] + could_dry + 1e-30);
        const double covered = thinned < 1.0 ? thinned : 1.0;
        // Dew falls on every surface.
        const double share = gap < 0.0 ? 1.0 : covered;
        const double open = open_to_water(f.unhealed[i], c.closed_at);
        const double skin = f.surface[i] * skin_transfer * (1.0 + f.wounds[i] * open);
        const double in_series = all_wet * skin / (all_wet + skin + 1e-300);
        // Beet takes up no water from moister air than it would give water to.
        const bool gives = pressure < activity * saturation;
        const double wet = share * all_wet;
        const double dry = (gives ? 1.0 : 0.0) * (1.0 - share) * in_series;
        const double taken = (wet + dry) * per_humidity;
        const double diagonal = v.held[i] * per_second + v.sends[i] + taken;
        const double per = 1.0 / (diagonal > 0.0 ? diagonal : 1.0);
        f.wet[i] = wet;
        f.dry[i] = dry;
        v.offers[i] = wet + dry * activity;
        v.there[i] = v.held[i] * per_second * f.humidity[i] + v.from_outside[i] * outside;
        v.per_diagonal[i] = per;
        v.keeps[i] = kEvaporation * taken * per;
    }
}

/// Where the water that evaporated was taken from; what beets gave off, into `given`.
struct TakenFields {
    const double *evaporation, *humidity, *saturation, *wet, *dry, *volume;
    double *film, *dried, *given;
};
inline void take_water_of(std::size_t begin, std::size_t end, double seconds, double activity,
                          const TakenFields& f) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double water = seconds * f.evaporation[i];
        const double pressure = vapour_Pa(f.humidity[i]);
        const double over_film = f.saturation[i] - pressure;
        const double over_beet = activity * f.saturation[i] - pressure;
        const double of_film = f.wet[i] * (over_film > 0.0 ? over_film : 0.0);
        const double both = of_film + f.dry[i] * (over_beet > 0.0 ? over_beet : 0.0);
        const double there = f.film[i];
        const double wanted = both > 0.0 ? water * of_film / both : water;
        const double some = there < wanted ? there : wanted;
        // The last trace goes at once: a film that halves for ever slows the machine down.
        const double all = there - some < kTrace * f.volume[i] ? there : some;
        // Dew is all film.
        const double film = water <= 0.0 ? water : all;
        const double given = water <= 0.0 ? 0.0 : water - film;
        f.film[i] = there - film;
        f.dried[i] += given;
        f.given[i] = given;
    }
}

/// The same, and the sum of what beets gave off.
BEETWRIGHT_WIDE
double take_water(std::size_t begin, std::size_t end, double seconds, double activity,
                  const TakenFields& f) {
    double sums[num::kLanes] = {};
    for (std::size_t from = begin; from < end; from += num::kBlock) {
        const std::size_t to = from + num::kBlock < end ? from + num::kBlock : end;
        take_water_of(from, to, seconds, activity, f);
        std::size_t i = from;
        for (; i + num::kLanes <= to; i += num::kLanes) {
            for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
                sums[lane] += f.given[i + lane];
            }
        }
        for (; i < to; ++i) {
            sums[0] += f.given[i];
        }
    }
    return num::sum_of_lanes(sums);
}

struct GasFields {
    const double *breath, *led_on, *held, *sends, *gas;
    double *owed, *right, *per_diagonal;
};
BEETWRIGHT_WIDE
void gas_rows(std::size_t begin, std::size_t end, double seconds, double made_per_joule,
              const GasFields& f) {
    const double per_second = 1.0 / seconds;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double source = made_per_joule * f.breath[i];
        const double passes = f.held[i] * per_second + f.sends[i];
        const double handed_out = kHandedOut * f.owed[i];
        const double total = f.held[i] * f.gas[i] + seconds * source + handed_out;
        // Both `total` and what is not handed out are held against the solution afterwards.
        f.owed[i] += total - handed_out;
        f.right[i] = total * per_second + f.led_on[i];
        f.per_diagonal[i] = passes > 0.0 ? 1.0 / passes : 1.0;
    }
}

BEETWRIGHT_WIDE
void settle(std::size_t begin, std::size_t end, double seconds, const double* net,
            const double* held, const double* gas, double* owed) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        owed[i] += seconds * net[i] - held[i] * gas[i];
    }
}

/// Whether any cell holds more film than it can.
BEETWRIGHT_WIDE
bool is_over(std::size_t begin, std::size_t end, double most_film, const double* film,
             const double* volume) {
    double over = 0.0;
    for (std::size_t i = begin; i < end; ++i) {
        over = film[i] > most_film * volume[i] ? 1.0 : over;
    }
    return over > 0.0;
}

}  // namespace

void Step::set_evaporation(const State& state, const Outside& outside, double seconds) {
    const auto& bed = *bed_;
    wet_shares(bed.box.begin(), bed.box.end(), seconds, outside.humidity, constants_,
               {saturation_.data(), state.humidity.data(), wet_transfer_.data(), film_.data(),
                bed.volume.data(), bed.surface.data(), skin_.data(), state.health.unhealed.data(),
                wet_.data(), dry_.data()},
               {gases_.held().data(), gases_.sends().data(), gases_.from_outside().data(),
                offers_.data(), there_.data(), gas_per_diagonal_.data(), keeps_.data()});
}

void Step::set_latent_slopes() {
    const auto& box = bed_->box;
    latent_slopes(box.begin(), box.end(), offers_.data(), saturation_.data(),
                  gas_per_diagonal_.data(), keeps_.data(), rise_.data(), latent_slope_.data());
}

void Step::lead_on(std::span<const double> v) {
    if (follows_gases_) {
        std::ranges::fill(led_on_, 0.0);
        num::add_slopes(bed_->box, gases_.passage(), v, led_on_, slope_, face_);
    } else if (leads_on_) {
        std::ranges::fill(led_on_, 0.0);
    }
    leads_on_ = follows_gases_;
}

void Step::vapour(const Outside& outside) {
    const auto& box = bed_->box;
    lead_on(humidity_);
    vapour_rows(box.begin(), box.end(), offers_.data(), saturation_.data(), there_.data(),
                led_on_.data(), gas_right_.data());
    gases_.round(humidity_, gas_right_, gas_per_diagonal_);
    // What evaporates is what the air's own balance says, so that no water is lost or made.
    gases_.net(humidity_, outside.humidity, led_on_, net_gas_);
}

void Step::share_out_water(State& state, double seconds, Balance& balance) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    balance.dried += take_water(
        box.begin(), box.end(), seconds, constants_.water_activity,
        {evaporation_.data(), humidity_.data(), saturation_.data(), wet_.data(), dry_.data(),
         bed.volume.data(), state.film.data(), state.dried.data(), face_.data()});
}

void Step::let_rain(const State& state, const Outside& outside, double seconds) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    std::ranges::copy(state.film, film_.begin());
    if (rained_ > 0.0 || drains_) {
        std::ranges::fill(rain_W_, 0.0);
    }
    rained_ = drained_ = 0.0;
    for (std::size_t f = 0; f < bed.facets.size(); ++f) {
        const auto& facet = bed.facets[f];
        const double rate = outside.sides[facet.side].rain;
        if (rate <= 0.0 || !bed.has_beet(facet.cell)) {
            continue;
        }
        const double kg_s = facet.area * facet_level_[f] * rate;
        film_[facet.cell] += seconds * kg_s;
        rained_ += seconds * kg_s;
        rain_W_[facet.cell] += kWaterCapacity * kg_s * (outside.air_C - celsius_[facet.cell]);
    }
    drains_ = is_over(box.begin(), box.end(), constants_.film, film_.data(), bed.volume.data());
    // Each column from the top: what a cell cannot hold goes on to the one below.
    for (std::size_t column = box.begin(); drains_ && column < box.end(); column += box.up) {
        const std::size_t top = column + box.up;
        if (is_over(column, top, constants_.film, film_.data(), bed.volume.data())) {
            drain(column, top, seconds);
        }
    }
}

void Step::drain(std::size_t column, std::size_t top, double seconds) {
    const auto& bed = *bed_;
    for (std::size_t i = top; i-- > column;) {
        const double over = film_[i] - constants_.film * bed.volume[i];
        if (over <= 0.0 || !bed.has_beet(i)) {
            continue;
        }
        film_[i] -= over;
        if (bed.air_opening[0][i - 1] > 0.0) {
            film_[i - 1] += over;
            rain_W_[i - 1] += kWaterCapacity * over / seconds * (celsius_[i] - celsius_[i - 1]);
        } else {
            drained_ += over;
        }
    }
}

void Step::spread_carbon_dioxide(State& state, double seconds, double breath_W, Balance& balance) {
    const auto& box = bed_->box;
    constexpr double kMadePerJoule = kCarbonDioxidePerSugar / kHeat_J_kg;
    auto& gas = state.carbon_dioxide;
    lead_on(gas);
    gas_rows(box.begin(), box.end(), seconds, kMadePerJoule,
             {breath_W_.data(), led_on_.data(), gases_.held().data(), gases_.sends().data(),
              gas.data(), owed_.data(), gas_right_.data(), gas_per_diagonal_.data()});
    for (int round = 0; round < kRounds; ++round) {
        gases_.round(gas, gas_right_, gas_per_diagonal_);
    }
    if (num::greatest(box, gas).size > kMuchCarbonDioxide) {
        for (int round = kRounds; round < kRoundsOfMuch; ++round) {
            gases_.round(gas, gas_right_, gas_per_diagonal_);
        }
    }
    // What the rounds leave over is owed to later steps, so that none is lost or made.
    gases_.net(gas, 0.0, led_on_, net_gas_);
    settle(box.begin(), box.end(), seconds, net_gas_.data(), gases_.held().data(), gas.data(),
           owed_.data());
    const double made = kMadePerJoule * breath_W;
    balance.carbon_dioxide_in += seconds * gases_.came_in(gas, 0.0);
    balance.carbon_dioxide_made += seconds * made;
    balance.sugar_lost += seconds * made / kCarbonDioxidePerSugar;
}

}  // namespace beetwright::pile
