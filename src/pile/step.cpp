#include "pile/step.hpp"

#include <algorithm>
#include <cmath>

#include "num/sums.hpp"
#include "pile/conversions.hpp"
#include "pile/humid.hpp"
#include "pile/step_loops.hpp"

namespace beetwright::pile {
namespace {

constexpr double kDay_s = 86400.0;
constexpr int kMostIterations = 300;

}  // namespace

Step::Step(const num::Box& box) : breathing_(box), gases_(box), system_(box) {
    for (auto* field : {&celsius_,      &heat_,
                        &humidity_,     &conductivity_,
                        &net_,          &change_,
                        &last_change_,  &pace_,
                        &breath_W_,     &evaporation_,
                        &extra_W_,      &rain_W_,
                        &wet_,          &dry_,
                        &wet_transfer_, &skin_,
                        &saturation_,   &slope_,
                        &face_,         &right_,
                        &capacity_,     &led_on_,
                        &latent_slope_, &fixed_diagonal_,
                        &gas_right_,    &gas_per_diagonal_,
                        &film_,         &rise_,
                        &keeps_,        &net_gas_,
                        &owed_,         &per_share_,
                        &offers_,       &there_}) {
        *field = box.field();
    }
    for (std::size_t d = 0; d < box.directions(); ++d) {
        conductance_[d] = box.field();
        heat_flow_[d] = box.field();
    }
}

void Step::lay(const Bed& bed, const Grid& grid, std::span<const Lot> lots,
               const PileConstants& constants) {
    bed_ = &bed;
    constants_ = constants;
    breathing_.lay(bed, lots, constants);
    gases_.lay(bed);
    facet_conductance_.assign(bed.facets.size(), 0.0);
    facet_level_.clear();
    for (const auto& facet : bed.facets) {
        facet_level_.push_back(std::cos(grid.sides[facet.side].tilt));
    }
    bottom_.clear();
    const auto& box = bed.box;
    if (grid.ground_layers > 0) {
        for (std::size_t i = box.begin(); i < box.end(); i += box.up) {
            bottom_.push_back({i, grid.cell[0] * grid.cell[1], 0.5 * grid.layer_height.front()});
        }
    }
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        // What a beet's skin lets through; wounds that have not healed let through more.
        skin_[i] = 0.0;
        if (bed.has_beet(i)) {
            const auto& beet = lots[bed.lot[i]].beet;
            skin_[i] = constants.wound_transpiration *
                       (beet.tail_wound + beet.crown_wound + beet.skin_wound);
        }
        last_change_[i] = bed.has_beet(i) ? last_change_[i] : 0.0;
        owed_[i] = bed.has_beet(i) ? owed_[i] : 0.0;
    }
}

void Step::set_conductances(const Outside& outside) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    loops::conductivities(box.begin(), box.end(), celsius_.data(), bed.freezing.data(),
                          bed.still.data(), bed.ice_adds.data(), bed.radiation.data(),
                          conductivity_.data());
    for (std::size_t d = 0; d < box.directions(); ++d) {
        loops::conductances(box.begin(), box.end(), box.stride(num::kEveryDirection[d]),
                            bed.reach[d].data(), conductivity_.data(), conductance_[d].data());
    }
    for (std::size_t f = 0; f < bed.facets.size(); ++f) {
        const auto& facet = bed.facets[f];
        const auto& on = outside.sides[facet.side];
        facet_conductance_[f] = facet.area / (1.0 / on.heat_transfer + on.resistance +
                                              facet.depth / conductivity_[facet.cell]);
    }
}

void Step::set_air_heat() {
    // What passes to a root's surface goes on into it: on the way to its mean temperature a sphere
    // resists as diameter / 10 of its stuff does.
    const double within = constants_.root_diameter / (10.0 * constants_.root_conductivity);
    const auto& box = bed_->box;
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        const double through_air = wet_transfer_[i] / loops::kVapourPerHeat;
        face_[i] = through_air > 0.0 ? 1.0 / (1.0 / through_air + within / bed_->surface[i]) : 0.0;
    }
    air_heat_.follow(*bed_, *flow_, face_, gases_.order());
}

const double* Step::carried_by_beets(std::size_t direction) const {
    return is_two_ ? air_heat_.none().data() : heat_flow_[direction].data();
}

void Step::set_system(double seconds) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    auto& fixed = fixed_diagonal_;
    std::ranges::fill(fixed, 0.0);
    for (std::size_t d = 0; d < box.directions(); ++d) {
        loops::heat_ways(
            box.begin(), box.end(), box.stride(num::kEveryDirection[d]),
            {conductance_[d].data(), carried_by_beets(d), flow_->flow(d).data(), keeps_.data(),
             rise_.data(), system_.from_low[d].data(), system_.from_high[d].data(), fixed.data()});
    }
    const auto facets = flow_->facet_flow();
    for (std::size_t n = 0; n < facets.size(); ++n) {
        fixed[bed.facets[n].cell] +=
            facet_conductance_[n] + (is_two_ ? 0.0 : kHumidCapacity * std::max(0.0, facets[n]));
    }
    if (is_two_) {
        air_heat_.add_to_system(system_, fixed);
    }
    for (const auto& b : bottom_) {
        fixed[b.cell] += b.area * conductivity_[b.cell] / b.depth;
    }
    for (std::size_t n = 0; n < blown_.size() && !is_two_; ++n) {
        const std::size_t i = blown_[n];
        fixed[i] += kHumidCapacity * std::max(0.0, -flow_->source()[i]);
    }
    loops::shares(box.begin(), box.end(), seconds, fixed.data(), bed.warm.data(), bed.frozen.data(),
                  per_share_.data());
}

loops::HeatFields Step::heat_fields() const {
    return {bed_->warm.data(), bed_->frozen.data(), bed_->latent.data(), bed_->freezing.data()};
}

void Step::renew_temperatures() {
    const auto& box = bed_->box;
    loops::temperatures(box.begin(), box.end(), heat_fields(), heat_.data(), celsius_.data());
    loops::exponentials(box.begin(), box.end(), breathing_.growth(), celsius_.data(), pace_.data(),
                        saturation_.data());
}

void Step::follow(const Airflow& flow) {
    flow_ = &flow;
    gases_.follow(flow);
    const auto& box = bed_->box;
    for (std::size_t d = 0; d < box.directions(); ++d) {
        loops::scale(box.begin(), box.end(), kHumidCapacity, flow.flow(d).data(),
                     heat_flow_[d].data());
    }
    blown_.clear();
    for (std::size_t i = box.begin(); i < box.end() && !flow.duct_flow().empty(); ++i) {
        if (flow.source()[i] != 0.0) {
            blown_.push_back(i);
        }
    }
    loops::transfers(box.begin(), box.end(), constants_.root_diameter, flow.speed().data(),
                     bed_->surface.data(), wet_transfer_.data());
}

void Step::evaluate(const Outside& outside, double seconds, const State& state) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    vapour(outside);
    loops::sources(box.begin(), box.end(), 1.0 / seconds,
                   {pace_.data(), breathing_.at_5C_W().data(), gases_.held().data(),
                    humidity_.data(), state.humidity.data(), net_gas_.data(), extra_W_.data(),
                    rain_W_.data(), breath_W_.data(), evaporation_.data(), net_.data()});
    auto passage = gases_.passage();  // open where gases pass
    for (std::size_t d = 0; d < box.directions(); ++d) {
        passage.spread[d] = conductance_[d].data();
        passage.flow[d] = carried_by_beets(d);
    }
    num::add_carried(box, passage, celsius_, slopes_, net_, slope_, face_);
    const auto facets = flow_->facet_flow();
    for (std::size_t n = 0; n < facets.size(); ++n) {
        const std::size_t i = bed.facets[n].cell;
        const double t = celsius_[i];
        net_[i] += facet_conductance_[n] * (outside.sides[bed.facets[n].side].felt_C - t);
        if (!is_two_) {
            net_[i] -= kHumidCapacity * facets[n] * (facets[n] > 0.0 ? t : outside.air_C);
        }
    }
    for (const auto& b : bottom_) {
        net_[b.cell] +=
            b.area * conductivity_[b.cell] / b.depth * (outside.deep_ground_C - celsius_[b.cell]);
    }
    if (is_two_) {
        air_heat_.update(celsius_, outside.air_C);
        air_heat_.add_net(net_);
        return;
    }
    for (const std::size_t i : blown_) {
        const double source = flow_->source()[i];
        net_[i] += kHumidCapacity * source * (source > 0.0 ? outside.air_C : celsius_[i]);
    }
}

StepOutcome Step::advance(State& state, const Outside& outside, double seconds,
                          const StepRules& rules, Balance& balance) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    const std::size_t begin = box.begin();
    const std::size_t end = box.end();
    slopes_ = rules.slopes;
    is_two_ = rules.heat == HeatForm::two_temperatures;
    if (is_two_) {
        set_air_heat();
    }
    gases_.meet(outside);
    follows_gases_ = slopes_ == num::Slopes::van_leer;
    for (std::size_t i = begin; i < end && follows_gases_; ++i) {
        follows_gases_ = seconds * gases_.sends()[i] <= gases_.held()[i] || !bed.has_beet(i);
    }
    // Where the last step was heading is where this one begins to look.
    const double lead = last_seconds_ > 0.0 ? seconds / last_seconds_ : 0.0;
    loops::lead_by(begin, end, 0.5 * lead, state.heat.data(), last_change_.data(), heat_.data());
    std::ranges::copy(state.humidity, humidity_.begin());
    renew_temperatures();
    set_conductances(outside);
    breathing_.prepare(state.health, celsius_, pace_, state.carbon_dioxide, seconds / kDay_s);
    let_rain(state, outside, seconds);
    set_evaporation(state, outside, seconds);
    set_latent_slopes();
    set_system(seconds);

    StepOutcome outcome;
    while (true) {
        evaluate(outside, seconds, state);
        ++outcome.evaluations;
        outcome.rest_K = loops::newton_rows(
            begin, end, breathing_.growth(), heat_fields(),
            {net_.data(), heat_.data(), state.heat.data(), per_share_.data(), celsius_.data(),
             fixed_diagonal_.data(), latent_slope_.data(), breath_W_.data(), right_.data(),
             system_.per_diagonal.data(), capacity_.data(), change_.data()});
        outcome.stands = outcome.rest_K <= rules.kelvin;
        if (outcome.stands || outcome.evaluations >= rules.most || !(outcome.rest_K < 1e6)) {
            break;
        }
        system_.go_on(right_, change_, outcome.rest_K, 0.1 * std::min(rules.kelvin, outcome.rest_K),
                      kMostIterations);
        loops::add_products(begin, end, capacity_.data(), change_.data(), heat_.data());
        renew_temperatures();
    }
    if (!outcome.stands) {
        outcome.worst = find_worst();
        return outcome;
    }
    book(state, outside, seconds, balance);
    return outcome;
}

std::size_t Step::find_worst() const {
    std::size_t worst = bed_->box.begin();
    double most = -1.0;
    for (std::size_t i = bed_->box.begin(); i < bed_->box.end(); ++i) {
        const double rest = std::abs(change_[i]);
        if (!(rest <= most)) {
            most = rest;
            worst = i;
        }
    }
    return worst;
}

void Step::book(State& state, const Outside& outside, double seconds, Balance& balance) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    const auto facets = flow_->facet_flow();
    double faces = 0.0;
    double air = 0.0;
    double passed = 0.0;
    for (std::size_t n = 0; n < facets.size(); ++n) {
        const double t = celsius_[bed.facets[n].cell];
        const double through =
            facet_conductance_[n] * (outside.sides[bed.facets[n].side].felt_C - t);
        const double carried = -kHumidCapacity * facets[n] * (facets[n] > 0.0 ? t : outside.air_C);
        faces += through;
        air += carried;
        passed += std::abs(through) + std::abs(carried);
    }
    for (const auto& b : bottom_) {
        balance.from_ground += seconds * b.area * conductivity_[b.cell] / b.depth *
                               (outside.deep_ground_C - celsius_[b.cell]);
    }
    const auto sums =
        loops::source_sums(box.begin(), box.end(), breath_W_.data(), evaporation_.data());
    const double breath = sums.breath + (has_extra_ ? num::sum(box, extra_W_) : 0.0);
    const double evaporated = sums.evaporation;
    const double rain = rained_ > 0.0 || drains_ ? num::sum(box, rain_W_) : 0.0;
    for (const std::size_t i : blown_) {
        const double source = flow_->source()[i];
        air += kHumidCapacity * source * (source > 0.0 ? outside.air_C : celsius_[i]);
    }
    if (is_two_) {
        air = air_heat_.came_in();
    }
    balance.through_faces += seconds * faces;
    balance.by_air += seconds * air;
    balance.breathed += seconds * breath;
    balance.evaporated += seconds * kEvaporation * evaporated;
    balance.by_rain += seconds * rain;
    balance.heat_passed += seconds * (passed + breath + kEvaporation * std::abs(evaporated));

    spread_carbon_dioxide(state, seconds, sums.breath, balance);
    balance.vapour_in += seconds * gases_.came_in(humidity_, outside.humidity);
    balance.rain_in += rained_;
    balance.drained += drained_;
    balance.water_passed += seconds * sums.evaporation_size;
    state.film.swap(film_);
    share_out_water(state, seconds, balance);
    balance.sugar_spoilt += breathing_.pass(state.health, celsius_, pace_, seconds / kDay_s);
    loops::scale_and_add(box.begin(), box.end(), seconds, net_.data(), last_change_.data(),
                         state.heat.data());
    state.humidity.swap(humidity_);
    last_seconds_ = seconds;
    loops::temperatures(box.begin(), box.end(), heat_fields(), state.heat.data(),
                        state.celsius.data());
    if (is_two_) {
        // As it is at the step's end, where the beets are now.
        air_heat_.update(state.celsius, outside.air_C);
        state.air_celsius.assign(air_heat_.celsius().begin(), air_heat_.celsius().end());
    }
}

}  // namespace beetwright::pile
