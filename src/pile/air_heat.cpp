#include "pile/air_heat.hpp"

#include <algorithm>
#include <cmath>

#include "num/carried.hpp"
#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

/// Rounds along the flow: one where it does not turn in circles.
constexpr int kRounds = 3;

}  // namespace

void AirHeat::follow(const Bed& bed, const Airflow& flow, std::span<const double> transfer,
                     std::span<const std::uint32_t> order) {
    bed_ = &bed;
    flow_ = &flow;
    order_ = order;
    if (celsius_.empty()) {
        box_ = bed.box;
        for (auto* field : {&celsius_, &none_, &fixed_, &passes_, &comes_, &takes_}) {
            *field = box_.field();
        }
        for (std::size_t d = 0; d < box_.directions(); ++d) {
            from_low_[d] = box_.field();
            from_high_[d] = box_.field();
        }
    }
    std::ranges::fill(passes_, 0.0);
    std::ranges::fill(comes_, 0.0);
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        num::add_ways(box_, num::kEveryDirection[d], none_, flow.flow(d), from_low_[d],
                      from_high_[d], passes_);
    }
    const auto facets = flow.facet_flow();
    for (std::size_t f = 0; f < facets.size(); ++f) {
        (facets[f] > 0.0 ? passes_ : comes_)[bed.facets[f].cell] += std::abs(facets[f]);
    }
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        const double source = flow.source()[i];
        (source < 0.0 ? passes_ : comes_)[i] += std::abs(source);
    }
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        passes_[i] *= kHumidCapacity;
        comes_[i] *= kHumidCapacity;
        for (std::size_t d = 0; d < box_.directions(); ++d) {
            from_low_[d][i] *= kHumidCapacity;
            from_high_[d][i] *= kHumidCapacity;
        }
        takes_[i] = passes_[i] > 0.0 ? -std::expm1(-transfer[i] / passes_[i]) : 1.0;
    }
}

void AirHeat::update(std::span<const double> celsius, double outside_C) {
    outside_C_ = outside_C;
    for (int round = 0; round < kRounds; ++round) {
        for (const std::size_t i : order_) {
            double brought = comes_[i] * outside_C;
            for (std::size_t d = 0; d < box_.directions(); ++d) {
                const std::size_t stride = box_.stride(num::kEveryDirection[d]);
                brought += from_low_[d][i] * celsius_[i - stride] +
                           from_high_[d][i] * celsius_[i + stride];
            }
            celsius_[i] = takes_[i] * celsius[i];
            if (passes_[i] > 0.0) {
                celsius_[i] += (1.0 - takes_[i]) * brought / passes_[i];
            }
        }
    }
}

void AirHeat::add_net(std::span<double> net) const {
    for (const std::size_t i : order_) {
        double left = comes_[i] * outside_C_ - passes_[i] * celsius_[i];
        for (std::size_t d = 0; d < box_.directions(); ++d) {
            const std::size_t stride = box_.stride(num::kEveryDirection[d]);
            left +=
                from_low_[d][i] * celsius_[i - stride] + from_high_[d][i] * celsius_[i + stride];
        }
        net[i] += left;
    }
}

double AirHeat::came_in() const {
    double sum = 0.0;
    const auto facets = flow_->facet_flow();
    for (std::size_t f = 0; f < facets.size(); ++f) {
        sum -= facets[f] * (facets[f] > 0.0 ? celsius_[bed_->facets[f].cell] : outside_C_);
    }
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        const double source = flow_->source()[i];
        sum += source * (source > 0.0 ? outside_C_ : celsius_[i]);
    }
    return kHumidCapacity * sum;
}

void AirHeat::add_to_system(num::CarriedSystem& system, std::span<double> diagonal) const {
    for (const std::size_t i : order_) {
        diagonal[i] += passes_[i] * takes_[i];
        for (std::size_t d = 0; d < box_.directions(); ++d) {
            const std::size_t stride = box_.stride(num::kEveryDirection[d]);
            // Beets further upstream matter less by each cell that lies between.
            system.from_low[d][i] += from_low_[d][i] * takes_[i] * takes_[i - stride];
            system.from_high[d][i] += from_high_[d][i] * takes_[i] * takes_[i + stride];
        }
    }
}

}  // namespace beetwright::pile
