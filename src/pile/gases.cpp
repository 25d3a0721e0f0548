#include "pile/gases.hpp"

#include <algorithm>
#include <cmath>

#include "num/wide.hpp"
#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

using num::Direction;

/// An order of cells serves for so many flows.
constexpr int kOrderServes = 6;

/// Pores wind: diffusion through them is slower by this power of porosity more than by their area
/// alone (Bruggeman).
double pore_diffusion(double porosity_share) {
    return air_density(5.0, 0.005) * kDiffusivity * porosity_share * std::sqrt(porosity_share);
}

struct Ways {
    std::array<const double*, num::kDirections> low{}, high{};
    std::array<std::size_t, num::kDirections> stride{};
};

BEETWRIGHT_WIDE
void nets(std::size_t directions, std::size_t begin, std::size_t end, const Ways& w,
          const double* sends, const double* from_outside, double outside, const double* led_on,
          const double* v, double* into) {
    const double* low0 = w.low[0];
    const double* high0 = w.high[0];
    const double* low1 = w.low[1];
    const double* high1 = w.high[1];
    const std::size_t s = w.stride[1];
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        into[i] = (low0[i] * v[i - 1] + high0[i] * v[i + 1]) +
                  (low1[i] * v[i - s] + high1[i] * v[i + s]) + led_on[i] +
                  (from_outside[i] * outside - sends[i] * v[i]);
    }
    if (directions < num::kDirections) {
        return;
    }
    const double* low2 = w.low[2];
    const double* high2 = w.high[2];
    const std::size_t t = w.stride[2];
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        into[i] += low2[i] * v[i - t] + high2[i] * v[i + t];
    }
}

BEETWRIGHT_WIDE
void split_sources(std::size_t begin, std::size_t end, const double* source, double* out,
                   double* in) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        out[i] = source[i] < 0.0 ? -source[i] : 0.0;
        in[i] = source[i] > 0.0 ? source[i] : 0.0;
    }
}

constexpr std::uint32_t index(std::size_t i) {
    return static_cast<std::uint32_t>(i);
}

}  // namespace

Gases::Gases(const num::Box& box)
    : held_(box.field()),
      sends_flow_(box.field()),
      sends_(box.field()),
      in_flow_(box.field()),
      from_outside_(box.field()) {
    for (std::size_t d = 0; d < box.directions(); ++d) {
        spread_[d] = box.field();
        open_[d] = box.field();
        from_low_[d] = box.field();
        from_high_[d] = box.field();
    }
    order_.reserve(box.cells());
    waiting_.assign(box.room(), 0);
}

void Gases::lay(const Bed& bed) {
    bed_ = &bed;
    const auto& box = bed.box;
    const auto porosity_of = [&](std::size_t i) {
        return bed.volume[i] > 0.0 ? bed.pores[i] / bed.volume[i] : 0.0;
    };
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        held_[i] = bed.pores[i] * dry_air_density(5.0, 0.005);
    }
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(num::kEveryDirection[d]);
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            const double both = 0.5 * (porosity_of(i) + porosity_of(i + stride));
            spread_[d][i] = bed.air_reach[d][i] * pore_diffusion(both);
            open_[d][i] = bed.air_opening[d][i] > 0.0 ? 1.0 : 0.0;
        }
    }
    facet_spread_.assign(bed.facets.size(), 0.0);
    order_age_ = kOrderServes;
}

void Gases::follow(const Airflow& flow) {
    flow_ = &flow;
    const auto& box = bed_->box;
    split_sources(box.begin(), box.end(), flow.source().data(), sends_flow_.data(),
                  in_flow_.data());
    blown_.clear();
    if (!flow.duct_flow().empty()) {
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            if (flow.source()[i] != 0.0) {
                blown_.push_back(i);
            }
        }
    }
    for (std::size_t d = 0; d < box.directions(); ++d) {
        num::add_ways(box, num::kEveryDirection[d], spread_[d], flow.flow(d), from_low_[d],
                      from_high_[d], sends_flow_);
    }
    const auto facets = flow.facet_flow();
    for (std::size_t f = 0; f < facets.size(); ++f) {
        const std::size_t cell = bed_->facets[f].cell;
        (facets[f] > 0.0 ? sends_flow_ : in_flow_)[cell] += std::abs(facets[f]);
    }
    // Any order comes to the same solution; one that the flow has changed from, in more rounds.
    if (++order_age_ > kOrderServes) {
        put_in_order();
        order_age_ = 0;
    }
}

void Gases::put_in_order() {
    const auto& box = bed_->box;
    order_.clear();
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        unsigned count = 0;
        for (std::size_t d = 0; d < box.directions(); ++d) {
            const auto& f = flow_->flow(d);
            const std::size_t stride = box.stride(num::kEveryDirection[d]);
            count += f[i - stride] > 0.0 ? 1U : 0U;
            count += f[i] < 0.0 ? 1U : 0U;
        }
        waiting_[i] = count;
        if (count == 0 && bed_->has_beet(i)) {
            order_.push_back(index(i));
        }
    }
    std::size_t next = 0;
    std::size_t circle = box.begin();  // where to break into a circle of flow, if there is one
    const auto release = [&](std::size_t cell) {
        if (waiting_[cell] == 0) {
            return;
        }
        waiting_[cell] -= 1;
        if (waiting_[cell] == 0) {
            order_.push_back(index(cell));
        }
    };
    while (true) {
        for (; next < order_.size(); ++next) {
            const std::size_t i = order_[next];
            for (std::size_t d = 0; d < box.directions(); ++d) {
                const auto& f = flow_->flow(d);
                const std::size_t stride = box.stride(num::kEveryDirection[d]);
                if (f[i] > 0.0) {
                    release(i + stride);
                }
                if (f[i - stride] < 0.0) {
                    release(i - stride);
                }
            }
        }
        while (circle < box.end() && (waiting_[circle] == 0 || !bed_->has_beet(circle))) {
            ++circle;
        }
        if (circle == box.end()) {
            break;
        }
        waiting_[circle] = 0;
        order_.push_back(index(circle));
    }
}

void Gases::meet(const Outside& outside) {
    std::ranges::copy(sends_flow_, sends_.begin());
    std::ranges::copy(in_flow_, from_outside_.begin());
    for (std::size_t f = 0; f < facet_spread_.size(); ++f) {
        const auto& facet = bed_->facets[f];
        const double skin = outside.sides[facet.side].spread;
        if (!facet.is_open || !bed_->has_beet(facet.cell) || skin <= 0.0) {
            facet_spread_[f] = 0.0;
            continue;
        }
        const double pores = bed_->pores[facet.cell] / bed_->volume[facet.cell];
        facet_spread_[f] = facet.area / (1.0 / skin + facet.depth / pore_diffusion(pores));
        sends_[facet.cell] += facet_spread_[f];
        from_outside_[facet.cell] += facet_spread_[f];
    }
}

void Gases::round(std::span<double> v, std::span<const double> right,
                  std::span<const double> per_diagonal) const {
    if (bed_->box.directions() == 2) {
        round_of<2>(v, right, per_diagonal);
    } else {
        round_of<3>(v, right, per_diagonal);
    }
}

template <std::size_t directions>
void Gases::round_of(std::span<double> v, std::span<const double> right,
                     std::span<const double> per_diagonal) const {
    std::array<std::size_t, directions> stride{};
    std::array<const double*, directions> low{};
    std::array<const double*, directions> high{};
    for (std::size_t d = 0; d < directions; ++d) {
        stride[d] = bed_->box.stride(num::kEveryDirection[d]);
        low[d] = from_low_[d].data();
        high[d] = from_high_[d].data();
    }
    double* value = v.data();
    for (const std::size_t i : order_) {
        double sum = right[i];
        for (std::size_t d = 0; d < directions; ++d) {
            sum += low[d][i] * value[i - stride[d]] + high[d][i] * value[i + stride[d]];
        }
        value[i] = sum * per_diagonal[i];
    }
}

num::Passage Gases::passage() const {
    num::Passage passage;
    for (std::size_t d = 0; d < bed_->box.directions(); ++d) {
        passage.spread[d] = spread_[d].data();
        passage.flow[d] = flow_->flow(d).data();
        passage.open[d] = open_[d].data();
    }
    return passage;
}

void Gases::net(std::span<const double> v, double outside, std::span<const double> led_on,
                std::span<double> into) const {
    const auto& box = bed_->box;
    Ways ways;
    for (std::size_t d = 0; d < box.directions(); ++d) {
        ways.low[d] = from_low_[d].data();
        ways.high[d] = from_high_[d].data();
        ways.stride[d] = box.stride(num::kEveryDirection[d]);
    }
    nets(box.directions(), box.begin(), box.end(), ways, sends_.data(), from_outside_.data(),
         outside, led_on.data(), v.data(), into.data());
}

double Gases::came_in(std::span<const double> v, double outside) const {
    double sum = 0.0;
    const auto facets = flow_->facet_flow();
    for (std::size_t f = 0; f < facets.size(); ++f) {
        const double within = v[bed_->facets[f].cell];
        const double carried = facets[f] > 0.0 ? -facets[f] * within : -facets[f] * outside;
        sum += carried + facet_spread_[f] * (outside - within);
    }
    for (const std::size_t i : blown_) {
        const double source = flow_->source()[i];
        sum += source * (source > 0.0 ? outside : v[i]);
    }
    return sum;
}

}  // namespace beetwright::pile
