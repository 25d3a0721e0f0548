#include "pile/airflow.hpp"

#include <algorithm>
#include <cmath>

#include "num/wide.hpp"
#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

/// So that a face at rest has a law: far below any flow that matters [kg/m2/s].
constexpr double kRest = 1e-9;
/// Flows below this are none: nobody asks how exactly they are known [kg/m2/s].
constexpr double kStill = 1e-7;

/// One face's law about its last flow: flow = permeance (drop) + held.
struct FaceLaw {
    double permeance, held;
};

inline FaceLaw face_law(double reach, double density, double darcy, double inertia, double speed,
                        double flow, double flux, double rise) {
    const double size = flux < 0.0 ? -flux : flux;
    const double fast = (speed > size ? speed : size) + kRest;
    const double curved = inertia * flux * flux / fast;
    const double full = darcy + inertia * fast + curved;
    const double permeance = reach * density / full;
    return {permeance, flow * curved / full + permeance * rise};
}

BEETWRIGHT_WIDE
void face_laws(std::size_t begin, std::size_t end, std::size_t stride, const double* reach,
               const double* per_opening, const double* inverse_permeability, const double* inertia,
               const double* density, const double* speed, const double* flow, const double* rise,
               double outside, double* permeance, double* held) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double rho = 0.5 * (density[i] + density[i + stride]);
        const double darcy =
            0.5 * kAirViscosity * (inverse_permeability[i] + inverse_permeability[i + stride]);
        const double form = 0.5 * (inertia[i] + inertia[i + stride]);
        const auto law =
            face_law(reach[i], rho, darcy + 1e-30, form, 0.5 * (speed[i] + speed[i + stride]),
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

BEETWRIGHT_WIDE
void new_flows(std::size_t begin, std::size_t end, std::size_t stride, const double* permeance,
               const double* held, const double* pressure, double* flow, double* lanes) {
    double changes[4] = {};
    double sizes[4] = {};
    std::size_t i = begin;
    for (; i + 4 <= end; i += 4) {
        for (std::size_t lane = 0; lane < 4; ++lane) {
            const std::size_t c = i + lane;
            const double now = permeance[c] * (pressure[c] - pressure[c + stride]) + held[c];
            changes[lane] += (now - flow[c]) * (now - flow[c]);
            sizes[lane] += now * now;
            flow[c] = now;
        }
    }
    for (; i < end; ++i) {
        const double now = permeance[i] * (pressure[i] - pressure[i + stride]) + held[i];
        changes[0] += (now - flow[i]) * (now - flow[i]);
        sizes[0] += now * now;
        flow[i] = now;
    }
    lanes[0] += (changes[0] + changes[2]) + (changes[1] + changes[3]);
    lanes[1] += (sizes[0] + sizes[2]) + (sizes[1] + sizes[3]);
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
void roots_per_volume(std::size_t begin, std::size_t end, const double* volume, double* square) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        square[i] = std::sqrt(square[i]) / (volume[i] > 0.0 ? volume[i] : 1.0);
    }
}

}  // namespace

Airflow::Airflow(const num::Box& box)
    : solver_(box),
      density_(box.field(1.25)),
      speed_(box.field()),
      pressure_(box.field()),
      right_(box.field()),
      source_(box.field()),
      rest_(box.field()),
      part_(box.field()) {
    for (auto* fields : {&flow_, &held_, &rise_, &per_opening_, &half_way_}) {
        for (std::size_t d = 0; d < box.directions(); ++d) {
            (*fields)[d] = box.field();
        }
    }
}

void Airflow::lay(const Bed& bed, const Grid& grid) {
    bed_ = &bed;
    const auto& box = bed.box;
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(static_cast<Direction>(d));
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            const double opening = bed.air_opening[d][i];
            const bool is_open = opening > 0.0;
            flow_[d][i] = is_open ? flow_[d][i] : 0.0;
            per_opening_[d][i] = is_open ? 1.0 / opening : 0.0;
            rise_[d][i] =
                is_open ? kGravity * (grid.centre[2][i + stride] - grid.centre[2][i]) : 0.0;
            half_way_[d][i] = is_open ? 0.5 * grid.distance[d][i] : 0.0;
        }
    }
    const std::size_t facets = bed.facets.size();
    facet_flow_.assign(facets, 0.0);
    facet_held_.assign(facets, 0.0);
    facet_permeance_.assign(facets, 0.0);
    facet_rise_.assign(facets, 0.0);
    constexpr std::array<std::size_t, num::kDirections> kAxis{2, 0, 1};
    for (auto& levers : facet_lever_) {
        levers.assign(facets, 0.0);
    }
    for (std::size_t f = 0; f < facets; ++f) {
        const auto& facet = bed.facets[f];
        const auto& outward = grid.sides[facet.side].plane.outward;
        facet_rise_[f] = kGravity * facet.depth * outward[2];
        for (std::size_t d = 0; d < num::kDirections; ++d) {
            facet_lever_[d][f] = facet.depth * outward[kAxis[d]];
        }
    }
    at_rest_ = 0.0;
    for (std::size_t d = 0; d < box.directions(); ++d) {
        at_rest_ += kStill * kStill * num::dot(box, bed.air_opening[d], bed.air_opening[d]);
    }
    plant_tree();
}

void Airflow::plant_tree() {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    std::vector<bool> is_reached(box.room(), false);
    std::vector<Link> order;
    pinned_.clear();
    std::size_t next = 0;
    const auto spread = [&] {
        for (; next < order.size(); ++next) {
            const std::size_t cell = order[next].cell;
            for (std::size_t d = 0; d < box.directions(); ++d) {
                const std::size_t stride = box.stride(static_cast<Direction>(d));
                if (bed.air_opening[d][cell] > 0.0 && !is_reached[cell + stride]) {
                    is_reached[cell + stride] = true;
                    order.push_back({cell + stride, cell, d, false});
                }
                if (bed.air_opening[d][cell - stride] > 0.0 && !is_reached[cell - stride]) {
                    is_reached[cell - stride] = true;
                    order.push_back({cell - stride, cell, d, true});
                }
            }
        }
    };
    for (std::size_t f = 0; f < bed.facets.size(); ++f) {
        const std::size_t cell = bed.facets[f].cell;
        if (bed.facets[f].is_open && bed.has_beet(cell) && !is_reached[cell]) {
            is_reached[cell] = true;
            order.push_back({cell, cell, num::kDirections + f, true});
        }
    }
    spread();
    for (std::size_t cell = box.begin(); cell < box.end(); ++cell) {
        if (bed.has_beet(cell) && !is_reached[cell]) {
            is_reached[cell] = true;
            pinned_.push_back(cell);
            order.push_back({cell, cell, 0, true});
            spread();
        }
    }
    std::ranges::reverse(order);
    tree_ = std::move(order);
}

void Airflow::set_speeds() {
    const auto& box = bed_->box;
    std::ranges::fill(speed_, 0.0);
    for (std::size_t d = 0; d < box.directions(); ++d) {
        std::ranges::fill(part_, 0.0);
        component(box.begin(), box.end(), box.stride(static_cast<Direction>(d)), flow_[d].data(),
                  half_way_[d].data(), part_.data());
        for (std::size_t f = 0; f < facet_flow_.size(); ++f) {
            part_[bed_->facets[f].cell] += facet_flow_[f] * facet_lever_[d][f];
        }
        add_squares(box.begin(), box.end(), part_.data(), speed_.data());
    }
    roots_per_volume(box.begin(), box.end(), bed_->volume.data(), speed_.data());
}

void Airflow::set_sources(std::span<const Duct> ducts) {
    duct_flow_.resize(ducts.size(), 0.0);
    duct_Pa_.resize(ducts.size(), 0.0);
    std::ranges::fill(source_, 0.0);
    for (std::size_t n = 0; n < ducts.size(); ++n) {
        const auto& duct = ducts[n];
        double mean = 0.0;
        std::size_t open = 0;
        for (const std::size_t cell : duct.cells) {
            if (bed_->has_beet(cell)) {
                mean += pressure_[cell];
                ++open;
            }
        }
        const double sign = duct.way == Duct::Way::blows ? 1.0 : -1.0;
        duct_Pa_[n] = open > 0 ? sign * mean / static_cast<double>(open) : 0.0;
        const double share =
            std::clamp(1.0 - duct_Pa_[n] / std::max(duct.still_Pa, 1e-9), 0.0, 1.0);
        const double wanted =
            duct.runs && open > 0 ? sign * duct.free_kg_s * std::sqrt(share) : 0.0;
        const double most = sign * duct.free_kg_s;
        duct_flow_[n] = duct.runs && open > 0
                            ? std::clamp(next_flow(duct_tries_[n], duct_flow_[n], wanted),
                                         std::min(0.0, most), std::max(0.0, most))
                            : 0.0;
        for (const std::size_t cell : duct.cells) {
            if (bed_->has_beet(cell)) {
                source_[cell] += duct_flow_[n] / static_cast<double>(open);
            }
        }
    }
}

void Airflow::assemble(const AirOutside& outside) {
    const auto& bed = *bed_;
    const auto& box = bed.box;
    auto& matrix = solver_.matrix();
    std::ranges::fill(matrix.diagonal, 0.0);
    std::ranges::copy(source_, right_.begin());
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(static_cast<Direction>(d));
        face_laws(box.begin(), box.end(), stride, bed.air_reach[d].data(), per_opening_[d].data(),
                  bed.inverse_permeability.data(), bed.inertia.data(), density_.data(),
                  speed_.data(), flow_[d].data(), rise_[d].data(), outside.density,
                  matrix.coupling[d].data(), held_[d].data());
        add_to_system(box.begin(), box.end(), stride, matrix.coupling[d].data(), held_[d].data(),
                      matrix.diagonal.data(), right_.data());
    }
    for (std::size_t f = 0; f < bed.facets.size(); ++f) {
        const auto& facet = bed.facets[f];
        const std::size_t i = facet.cell;
        if (!facet.is_open || !bed.has_beet(i)) {
            continue;
        }
        const double flux = facet_flow_[f] / facet.area;
        const double rho = density_[i];
        const double rise = (outside.density - rho) * facet_rise_[f] - outside.wind_Pa[facet.side];
        // The cover resists in series, in proportion to the flow.
        const double cover = outside.cover_Pa_s_m2_kg[facet.side] * rho / facet.depth;
        const auto law = face_law(facet.area / facet.depth, rho,
                                  kAirViscosity * bed.inverse_permeability[i] + cover,
                                  bed.inertia[i], speed_[i], facet_flow_[f], flux, rise);
        facet_permeance_[f] = law.permeance;
        facet_held_[f] = law.held;
        matrix.diagonal[i] += law.permeance;
        right_[i] -= law.held;
    }
    for (const std::size_t cell : pinned_) {
        matrix.diagonal[cell] *= 2.0;
    }
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        if (!bed.has_beet(i)) {
            matrix.diagonal[i] = 1.0;
            right_[i] = 0.0;
        }
    }
}

/// Where the fan's and the bed's curves meet, by the line through the last two tries: half way
/// alone, a fan under a tight sheet and the sheet play ball. At first half way.
double Airflow::next_flow(DuctTry& last, double flow, double wanted) {
    const double miss = wanted - flow;
    const double moved = flow - last.flow;
    const double slope = std::abs(moved) > 1e-9 * std::abs(flow) ? (miss - last.miss) / moved : 0.0;
    last = {flow, miss};
    constexpr double kFlattest = -0.5;  ///< less falls no curve of the two together
    if (slope > kFlattest || std::isnan(slope)) {
        return flow + 0.5 * miss;
    }
    return flow - miss / slope;
}

double Airflow::renew_flows() {
    const auto& box = bed_->box;
    const auto& matrix = solver_.matrix();
    std::array<double, 2> sums{};
    for (std::size_t d = 0; d < box.directions(); ++d) {
        new_flows(box.begin(), box.end(), box.stride(static_cast<Direction>(d)),
                  matrix.coupling[d].data(), held_[d].data(), pressure_.data(), flow_[d].data(),
                  sums.data());
    }
    for (std::size_t f = 0; f < facet_flow_.size(); ++f) {
        const auto& facet = bed_->facets[f];
        if (facet.is_open && bed_->has_beet(facet.cell)) {
            const double now = facet_permeance_[f] * pressure_[facet.cell] + facet_held_[f];
            sums[0] += (now - facet_flow_[f]) * (now - facet_flow_[f]);
            sums[1] += now * now;
            facet_flow_[f] = now;
        }
    }
    return std::sqrt(sums[0] / (sums[1] + at_rest_));
}

void Airflow::fill_rest(num::Field& rest) const {
    const auto& box = bed_->box;
    std::ranges::copy(source_, rest.begin());
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(static_cast<Direction>(d));
        const auto& flow = flow_[d];
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            rest[i] += flow[i - stride] - flow[i];
        }
    }
    for (std::size_t f = 0; f < facet_flow_.size(); ++f) {
        rest[bed_->facets[f].cell] -= facet_flow_[f];
    }
}

void Airflow::balance() {
    fill_rest(rest_);
    for (const auto& link : tree_) {
        const double rest = rest_[link.cell];
        if (link.via >= num::kDirections) {
            facet_flow_[link.via - num::kDirections] += rest;
        } else if (link.parent != link.cell) {
            flow_[link.via][link.is_low ? link.cell : link.parent] += link.is_low ? rest : -rest;
            rest_[link.parent] += rest;
        }
    }
}

FlowOutcome Airflow::update(std::span<const double> celsius, std::span<const double> humidity,
                            const AirOutside& outside, std::span<const Duct> ducts,
                            const FlowRules& rules) {
    const auto& box = bed_->box;
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        density_[i] = air_density(celsius[i], humidity[i]);
    }
    duct_tries_.assign(ducts.size(), {.flow = std::nan(""), .miss = 0.0});
    FlowOutcome outcome;
    while (outcome.steps < rules.most_steps) {
        set_speeds();
        set_sources(ducts);
        assemble(outside);
        solver_.prepare();
        double size = 0.0;
        for (std::size_t d = 0; d < box.directions(); ++d) {
            size += num::dot(box, flow_[d], flow_[d]);
        }
        // At first there is no flow to go by; what drives it stands on the right.
        const double scale = size > 0.0 ? size : num::dot(box, right_, right_);
        const auto solved =
            solver_.solve(right_, pressure_, rules.tightness * std::sqrt(scale), 60);
        outcome.iterations += solved.iterations;
        outcome.change = renew_flows();
        balance();
        ++outcome.steps;
        if (outcome.change <= rules.change) {
            outcome.stands = true;
            break;
        }
    }
    set_speeds();
    return outcome;
}

double Airflow::greatest_rest() const {
    num::Field rest = bed_->box.field();
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
