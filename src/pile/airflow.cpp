#include "pile/airflow.hpp"

#include <algorithm>
#include <cmath>

#include "num/lanes.hpp"
#include "num/wide.hpp"
#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

/// So that a face at rest has a law: far below any flow that matters [kg/m2/s].
constexpr double kRest = 1e-9;
/// Flows below this are none: nobody asks how exactly they are known [kg/m2/s].
constexpr double kStill = 1e-7;
/// Steps in which a fan follows what its duct is at. Then it stays where it is until the next hour,
/// so that under a fan that is far too large the air alone can come to a stand.
constexpr int kFanSteps = 15;
/// So that cells without beet have a law [Pa s/m2].
constexpr double kLeastResistance = 1e-30;

/// One face's law about its last flow: flow = permeance (drop) + held.
struct FaceLaw {
    double permeance, held;
};

inline FaceLaw face_law(double reach, double density, double darcy, double inertia, double speed,
                        double flow, double flux, double rise) {
    const double size = flux < 0.0 ? -flux : flux;
    const double fast = (speed > size ? speed : size) + kRest;
    const double curved = inertia * flux * flux / fast;
    const double per_full = 1.0 / (darcy + inertia * fast + curved);
    const double permeance = reach * density * per_full;
    return {permeance, flow * curved * per_full + permeance * rise};
}

BEETWRIGHT_WIDE
void face_laws(std::size_t begin, std::size_t end, std::size_t stride, const double* reach,
               const double* per_opening, const double* viscous, const double* inertia,
               const double* density, const double* speed, const double* flow, const double* rise,
               double outside, double* permeance, double* held) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double rho = 0.5 * (density[i] + density[i + stride]);
        const double darcy = 0.5 * (viscous[i] + viscous[i + stride]);
        const double form = 0.5 * (inertia[i] + inertia[i + stride]);
        const auto law = face_law(reach[i], rho, darcy, form, 0.5 * (speed[i] + speed[i + stride]),
                                  flow[i], flow[i] * per_opening[i], (outside - rho) * rise[i]);
        permeance[i] = law.permeance;
        held[i] = law.held;
    }
}

BEETWRIGHT_WIDE
void add_to_system(std::size_t begin, std::size_t end, std::size_t stride, const double* permeance,
                   const double* held, double* diagonal, double* right) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        diagonal[i] += permeance[i] + permeance[i - stride];
        right[i] += held[i - stride] - held[i];
    }
}

/// The flows that the pressure drives; lanes 0-7 and 8-15 gather the squares of what changes and of
/// what there is.
BEETWRIGHT_WIDE
void new_flows(std::size_t begin, std::size_t end, std::size_t stride, const double* permeance,
               const double* held, const double* pressure, double* flow, double* lanes) {
    std::size_t i = begin;
    for (; i + num::kLanes <= end; i += num::kLanes) {
        for (std::size_t lane = 0; lane < num::kLanes; ++lane) {
            const std::size_t c = i + lane;
            const double now = permeance[c] * (pressure[c] - pressure[c + stride]) + held[c];
            const double change = now - flow[c];
            lanes[lane] += change * change;
            lanes[num::kLanes + lane] += now * now;
            flow[c] = now;
        }
    }
    for (; i < end; ++i) {
        const double now = permeance[i] * (pressure[i] - pressure[i + stride]) + held[i];
        const double change = now - flow[i];
        lanes[0] += change * change;
        lanes[num::kLanes] += now * now;
        flow[i] = now;
    }
}

/// Of inverse permeabilities.
BEETWRIGHT_WIDE
void to_viscous(std::size_t begin, std::size_t end, double* viscous) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        viscous[i] = kAirViscosity * viscous[i] + kLeastResistance;
    }
}

BEETWRIGHT_WIDE
void densities(std::size_t begin, std::size_t end, const double* celsius, const double* humidity,
               double* density) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        density[i] = air_density(celsius[i], humidity[i]);
    }
}

/// What the pressure changed by since `last`, which is brought up to it.
BEETWRIGHT_WIDE
void changes_of(std::size_t begin, std::size_t end, const double* pressure, float* last,
                float* change) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const float now = static_cast<float>(pressure[i]);
        change[i] = now - last[i];
        last[i] = now;
    }
}

BEETWRIGHT_WIDE
void leave_empty_cells_out(std::size_t begin, std::size_t end, const double* has_beet,
                           double* diagonal, double* right) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        diagonal[i] = has_beet[i] > 0.0 ? diagonal[i] : 1.0;
        right[i] = has_beet[i] > 0.0 ? right[i] : 0.0;
    }
}

BEETWRIGHT_WIDE
void add_differences(std::size_t begin, std::size_t end, std::size_t stride, const double* flow,
                     double* rest) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        rest[i] += flow[i - stride] - flow[i];
    }
}

BEETWRIGHT_WIDE
void component(std::size_t begin, std::size_t end, std::size_t stride, const double* flow,
               const double* half_way, double* part) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        part[i] += flow[i] * half_way[i] + flow[i - stride] * half_way[i - stride];
    }
}

BEETWRIGHT_WIDE
void add_squares(std::size_t begin, std::size_t end, const double* part, double* sum) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] += part[i] * part[i];
    }
}

BEETWRIGHT_WIDE
void roots_per_volume(std::size_t begin, std::size_t end, const double* per_volume,
                      double* square) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        square[i] = std::sqrt(square[i]) * per_volume[i];
    }
}

}  // namespace

Airflow::Airflow(const num::Box& box)
    : pile_box_(box), speed_(box.field()), pressure_(box.field()), source_(box.field()) {
    for (std::size_t d = 0; d < box.directions(); ++d) {
        flow_[d] = box.field();
    }
}

void Airflow::make_room(const Grid& grid) {
    ground_layers_ = grid.ground_layers;
    box_ = pile_box_;
    box_.up -= ground_layers_;
    solver_.emplace(box_);
    density_ = box_.field(1.25);
    for (auto* field : {&viscous_, &inertia_, &speed_in_, &pressure_in_, &right_, &source_in_,
                        &rest_, &part_, &per_volume_, &has_beet_}) {
        *field = box_.field();
    }
    for (auto* fields : {&flow_in_, &held_, &rise_, &per_opening_, &half_way_, &reach_}) {
        for (std::size_t d = 0; d < box_.directions(); ++d) {
            (*fields)[d] = box_.field();
        }
    }
}

std::size_t Airflow::inner(std::size_t cell) const {
    const std::size_t at = cell - pile_box_.begin();
    return box_.begin() + at / pile_box_.up * box_.up + at % pile_box_.up - ground_layers_;
}

void Airflow::take_in(std::span<const double> from, num::Field& into) const {
    for (std::size_t column = 0; column < box_.across * box_.along; ++column) {
        std::copy_n(&from[pile_box_.begin() + column * pile_box_.up + ground_layers_], box_.up,
                    &into[box_.begin() + column * box_.up]);
    }
}

void Airflow::give_out(const num::Field& from, num::Field& into) const {
    for (std::size_t column = 0; column < box_.across * box_.along; ++column) {
        std::copy_n(&from[box_.begin() + column * box_.up], box_.up,
                    &into[pile_box_.begin() + column * pile_box_.up + ground_layers_]);
    }
}

void Airflow::lay(const Bed& bed, const Grid& grid) {
    bed_ = &bed;
    if (!solver_) {
        make_room(grid);
    }
    solver_->begin_anew();
    take_in(bed.beet, has_beet_);
    take_in(bed.volume, per_volume_);
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        per_volume_[i] = per_volume_[i] > 0.0 ? 1.0 / per_volume_[i] : 1.0;
        // What is gone has no pressure to begin from.
        pressure_in_[i] = has_beet_[i] > 0.0 ? pressure_in_[i] : 0.0;
    }
    for (auto& of : tries_) {
        of.assign(box_.room(), 0.0F);
    }
    at_rest_ = 0.0;
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        const std::size_t stride = pile_box_.stride(num::kEveryDirection[d]);
        take_in(bed.air_reach[d], reach_[d]);
        for (std::size_t i = pile_box_.begin(); i < pile_box_.end(); ++i) {
            if (grid.is_ground(i)) {
                continue;
            }
            const double opening = bed.air_opening[d][i];
            const bool is_open = opening > 0.0;
            const std::size_t c = inner(i);
            flow_in_[d][c] = is_open ? flow_in_[d][c] : 0.0;
            per_opening_[d][c] = is_open ? 1.0 / opening : 0.0;
            rise_[d][c] =
                is_open ? kGravity * (grid.centre[2][i + stride] - grid.centre[2][i]) : 0.0;
            half_way_[d][c] = is_open ? 0.5 * grid.distance[d][i] : 0.0;
        }
        at_rest_ += kStill * kStill * num::dot(pile_box_, bed.air_opening[d], bed.air_opening[d]);
    }
    const std::size_t facets = bed.facets.size();
    facet_flow_.assign(facets, 0.0);
    facet_held_.assign(facets, 0.0);
    facet_permeance_.assign(facets, 0.0);
    openings_.clear();
    constexpr std::array<std::size_t, num::kDirections> kAxis{2, 0, 1};
    for (std::size_t f = 0; f < facets; ++f) {
        const auto& facet = bed.facets[f];
        if (!facet.is_open || !bed.has_beet(facet.cell)) {
            continue;
        }
        const auto& outward = grid.sides[facet.side].plane.outward;
        Opening opening{.facet = f,
                        .cell = inner(facet.cell),
                        .side = facet.side,
                        .area = facet.area,
                        .depth = facet.depth,
                        .rise = kGravity * facet.depth * outward[2]};
        for (std::size_t d = 0; d < num::kDirections; ++d) {
            opening.lever[d] = facet.depth * outward[kAxis[d]];
        }
        openings_.push_back(opening);
    }
    speeds_stand_ = false;
    plant_tree();
}

void Airflow::plant_tree() {
    const auto& box = box_;
    std::vector<bool> is_reached(box.room(), false);
    std::vector<Link> order;
    order.reserve(static_cast<std::size_t>(
        std::ranges::count_if(has_beet_, [](double kg) { return kg > 0.0; })));
    const auto reach = [&](std::size_t cell, std::size_t parent, std::size_t via, bool is_low) {
        is_reached[cell] = true;
        order.push_back({static_cast<std::uint32_t>(cell), static_cast<std::uint32_t>(parent),
                         static_cast<std::uint32_t>(via), is_low});
    };
    pinned_.clear();
    std::size_t next = 0;
    const auto spread = [&] {
        for (; next < order.size(); ++next) {
            const std::size_t cell = order[next].cell;
            for (std::size_t d = 0; d < box.directions(); ++d) {
                const std::size_t stride = box.stride(num::kEveryDirection[d]);
                if (reach_[d][cell] > 0.0 && !is_reached[cell + stride]) {
                    reach(cell + stride, cell, d, false);
                }
                if (reach_[d][cell - stride] > 0.0 && !is_reached[cell - stride]) {
                    reach(cell - stride, cell, d, true);
                }
            }
        }
    };
    for (const auto& opening : openings_) {
        if (!is_reached[opening.cell]) {
            reach(opening.cell, opening.cell, num::kDirections + opening.facet, true);
        }
    }
    spread();
    for (std::size_t cell = box.begin(); cell < box.end(); ++cell) {
        if (has_beet_[cell] > 0.0 && !is_reached[cell]) {
            pinned_.push_back(cell);
            reach(cell, cell, 0, true);
            spread();
        }
    }
    std::ranges::reverse(order);
    tree_ = std::move(order);
}

void Airflow::set_speeds() {
    std::ranges::fill(speed_in_, 0.0);
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        std::ranges::fill(part_, 0.0);
        component(box_.begin(), box_.end(), box_.stride(num::kEveryDirection[d]),
                  flow_in_[d].data(), half_way_[d].data(), part_.data());
        for (const auto& opening : openings_) {
            part_[opening.cell] += facet_flow_[opening.facet] * opening.lever[d];
        }
        add_squares(box_.begin(), box_.end(), part_.data(), speed_in_.data());
    }
    roots_per_volume(box_.begin(), box_.end(), per_volume_.data(), speed_in_.data());
    speeds_stand_ = true;
}

void Airflow::set_sources(std::span<const Duct> ducts, bool fans_follow) {
    duct_flow_.resize(ducts.size(), 0.0);
    duct_Pa_.resize(ducts.size(), 0.0);
    std::ranges::fill(source_in_, 0.0);
    for (std::size_t n = 0; n < ducts.size(); ++n) {
        const auto& duct = ducts[n];
        double mean = 0.0;
        std::size_t open = 0;
        for (const std::size_t cell : duct.cells) {
            if (bed_->has_beet(cell)) {
                mean += pressure_in_[inner(cell)];
                ++open;
            }
        }
        const double sign = duct.way == Duct::Way::blows ? 1.0 : -1.0;
        duct_Pa_[n] = open > 0 ? sign * mean / static_cast<double>(open) : 0.0;
        const double share =
            std::clamp(1.0 - duct_Pa_[n] / std::max(duct.still_Pa, 1e-9), 0.0, 1.0);
        const double wanted =
            duct.runs && open > 0 ? sign * duct.free_kg_s * std::sqrt(share) : 0.0;
        if (!duct.runs || open == 0) {
            duct_flow_[n] = 0.0;
        } else if (fans_follow) {
            duct_flow_[n] = next_flow(duct_tries_[n], duct_flow_[n], wanted);
        }
        for (const std::size_t cell : duct.cells) {
            if (bed_->has_beet(cell)) {
                source_in_[inner(cell)] += duct_flow_[n] / static_cast<double>(open);
            }
        }
    }
}

void Airflow::assemble(const AirOutside& outside) {
    const auto& box = box_;
    auto& matrix = solver_->matrix();
    std::ranges::fill(matrix.diagonal, 0.0);
    std::ranges::copy(source_in_, right_.begin());
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(num::kEveryDirection[d]);
        face_laws(box.begin(), box.end(), stride, reach_[d].data(), per_opening_[d].data(),
                  viscous_.data(), inertia_.data(), density_.data(), speed_in_.data(),
                  flow_in_[d].data(), rise_[d].data(), outside.density, matrix.coupling[d].data(),
                  held_[d].data());
        add_to_system(box.begin(), box.end(), stride, matrix.coupling[d].data(), held_[d].data(),
                      matrix.diagonal.data(), right_.data());
    }
    for (const auto& o : openings_) {
        const std::size_t i = o.cell;
        const double flow = facet_flow_[o.facet];
        const double rho = density_[i];
        const double rise = (outside.density - rho) * o.rise - outside.wind_Pa[o.side];
        // The cover resists in series, in proportion to the flow.
        const double cover = outside.cover_Pa_s_m2_kg[o.side] * rho / o.depth;
        const auto law = face_law(o.area / o.depth, rho, viscous_[i] + cover, inertia_[i],
                                  speed_in_[i], flow, flow / o.area, rise);
        facet_permeance_[o.facet] = law.permeance;
        facet_held_[o.facet] = law.held;
        matrix.diagonal[i] += law.permeance;
        right_[i] -= law.held;
    }
    for (const std::size_t cell : pinned_) {
        matrix.diagonal[cell] *= 2.0;
    }
    leave_empty_cells_out(box.begin(), box.end(), has_beet_.data(), matrix.diagonal.data(),
                          right_.data());
}

/// Where the fan's and the bed's curves meet: by the line through the last two tries where that
/// lies between what was too little and what was too much, else half way between those.
double Airflow::next_flow(DuctTry& last, double flow, double wanted) {
    const double miss = wanted - flow;
    (std::abs(flow) < std::abs(wanted) ? last.too_little : last.too_much) = flow;
    const double moved = flow - last.flow;
    const double slope = std::abs(moved) > 1e-9 * std::abs(flow) ? (miss - last.miss) / moved : 0.0;
    last.flow = flow;
    last.miss = miss;
    constexpr double kFlattest = -0.5;  ///< less falls no curve of the two together
    const double next =
        slope > kFlattest || std::isnan(slope) ? flow + 0.5 * miss : flow - miss / slope;
    const auto [least, most] = std::minmax(last.too_little, last.too_much);
    return next > least && next < most ? next : 0.5 * (least + most);
}

double Airflow::renew_flows() {
    const auto& matrix = solver_->matrix();
    std::array<double, 2 * num::kLanes> lanes{};
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        new_flows(box_.begin(), box_.end(), box_.stride(num::kEveryDirection[d]),
                  matrix.coupling[d].data(), held_[d].data(), pressure_in_.data(),
                  flow_in_[d].data(), lanes.data());
    }
    for (const auto& o : openings_) {
        const double now = facet_permeance_[o.facet] * pressure_in_[o.cell] + facet_held_[o.facet];
        const double change = now - facet_flow_[o.facet];
        lanes[0] += change * change;
        lanes[num::kLanes] += now * now;
        facet_flow_[o.facet] = now;
    }
    const double changes = num::sum_of_lanes(lanes.data());
    size_ = num::sum_of_lanes(lanes.data() + num::kLanes);
    // Where no beet lies yet, or any more, nothing flows and nothing changes.
    return changes > 0.0 ? std::sqrt(changes / (size_ + at_rest_)) : 0.0;
}

void Airflow::remember_pressure() {
    tries_[2].swap(tries_[1]);
    changes_of(box_.begin(), box_.end(), pressure_in_.data(), tries_[0].data(), tries_[1].data());
}

void Airflow::fill_rest(num::Field& rest) const {
    std::ranges::copy(source_in_, rest.begin());
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        add_differences(box_.begin(), box_.end(), box_.stride(num::kEveryDirection[d]),
                        flow_in_[d].data(), rest.data());
    }
    for (const auto& o : openings_) {
        rest[o.cell] -= facet_flow_[o.facet];
    }
}

void Airflow::balance() {
    fill_rest(rest_);
    for (const auto& link : tree_) {
        const double rest = rest_[link.cell];
        if (link.via >= num::kDirections) {
            facet_flow_[link.via - num::kDirections] += rest;
        } else if (link.parent != link.cell) {
            flow_in_[link.via][link.is_low ? link.cell : link.parent] += link.is_low ? rest : -rest;
            rest_[link.parent] += rest;
        }
    }
    speeds_stand_ = false;
}

FlowOutcome Airflow::update(std::span<const double> celsius, std::span<const double> humidity,
                            const AirOutside& outside, std::span<const Duct> ducts,
                            const FlowRules& rules) {
    const auto& box = box_;
    auto& celsius_in = rest_;  // neither is asked for again
    auto& humidity_in = part_;
    take_in(celsius, celsius_in);
    take_in(humidity, humidity_in);
    take_in(bed_->inertia, inertia_);
    take_in(bed_->inverse_permeability, viscous_);
    to_viscous(box.begin(), box.end(), viscous_.data());
    densities(box.begin(), box.end(), celsius_in.data(), humidity_in.data(), density_.data());
    duct_tries_.clear();
    for (const Duct& duct : ducts) {
        const double sign = duct.way == Duct::Way::blows ? 1.0 : -1.0;
        duct_tries_.push_back({.flow = std::nan(""), .too_much = sign * duct.free_kg_s});
    }
    FlowOutcome outcome;
    while (outcome.steps < rules.most_steps) {
        if (!speeds_stand_) {
            set_speeds();
        }
        set_sources(ducts, outcome.steps < kFanSteps);
        assemble(outside);
        solver_->prepare();
        // At first there is no flow to go by; what drives it stands on the right.
        const double scale = size_ > 0.0 ? size_ : num::dot(box, right_, right_);
        const double goal = rules.tightness * std::sqrt(scale);
        const auto solved = outcome.steps == 0
                                ? solver_->solve(right_, pressure_in_, goal, 60, tries_)
                                : solver_->solve(right_, pressure_in_, goal, 60);
        outcome.iterations += solved.iterations;
        outcome.change = renew_flows();
        balance();
        ++outcome.steps;
        if (outcome.change <= rules.change) {
            outcome.stands = true;
            break;
        }
    }
    remember_pressure();
    set_speeds();
    for (std::size_t d = 0; d < box.directions(); ++d) {
        give_out(flow_in_[d], flow_[d]);
    }
    give_out(speed_in_, speed_);
    give_out(pressure_in_, pressure_);
    give_out(source_in_, source_);
    return outcome;
}

double Airflow::greatest_rest() const {
    num::Field rest = box_.field();
    fill_rest(rest);
    double most = 0.0;
    for (const double r : rest) {
        most = std::max(most, std::abs(r));
    }
    return most;
}

double Airflow::throughput() const {
    double sum = 0.0;
    for (const double flow : facet_flow_) {
        sum += std::max(0.0, -flow);
    }
    for (const double flow : source_) {
        sum += std::max(0.0, flow);
    }
    return sum;
}

}  // namespace beetwright::pile
