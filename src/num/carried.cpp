#include "num/carried.hpp"

#include <algorithm>

#include "num/wide.hpp"

namespace beetwright::num {
namespace {

BEETWRIGHT_WIDE
void slopes_of(std::size_t begin, std::size_t end, std::size_t stride, const double* open,
               const double* value, double* slope) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double before = open[i - stride] * (value[i] - value[i - stride]);
        const double after = open[i] * (value[i + stride] - value[i]);
        const double product = before * after;
        // Twice the harmonic mean where both rise or both fall; the small number keeps 0/0 away.
        const double sum = before + after;
        const double both = product > 0.0 ? product : 0.0;
        const double apart = product > 0.0 ? sum : 1.0;
        slope[i] = 2.0 * both / apart;
    }
}

BEETWRIGHT_WIDE
void faces_of(std::size_t begin, std::size_t end, std::size_t stride, const double* spread,
              const double* flow, const double* value, const double* slope, double* face) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double from_here = value[i] + 0.5 * slope[i];
        const double from_there = value[i + stride] - 0.5 * slope[i + stride];
        face[i] = spread[i] * (value[i] - value[i + stride]) +
                  flow[i] * (flow[i] > 0.0 ? from_here : from_there);
    }
}

BEETWRIGHT_WIDE
void slope_faces_of(std::size_t begin, std::size_t end, std::size_t stride, const double* flow,
                    const double* slope, double* face) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        face[i] = 0.5 * flow[i] * (flow[i] > 0.0 ? slope[i] : -slope[i + stride]);
    }
}

BEETWRIGHT_WIDE
void gather(std::size_t begin, std::size_t end, std::size_t stride, const double* face,
            double* net) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        net[i] += face[i - stride] - face[i];
    }
}

BEETWRIGHT_WIDE
void ways_of(std::size_t begin, std::size_t end, std::size_t stride, const double* flow,
             const double* spread, double* from_low, double* from_high, double* out) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double below = flow[i - stride];
        const double above = flow[i];
        const double in_low = below > 0.0 ? below : 0.0;
        const double out_low = below < 0.0 ? -below : 0.0;
        const double in_high = above < 0.0 ? -above : 0.0;
        const double out_high = above > 0.0 ? above : 0.0;
        const double spread_low = spread[i - stride];
        const double spread_high = spread[i];
        from_low[i] = spread_low + in_low;
        from_high[i] = spread_high + in_high;
        out[i] += spread_low + spread_high + out_low + out_high;
    }
}

}  // namespace

void add_carried(const Box& box, const Passage& passage, std::span<const double> value,
                 Slopes slopes, std::span<double> net, std::span<double> slope,
                 std::span<double> face) {
    if (slopes == Slopes::none) {
        std::ranges::fill(slope, 0.0);
    }
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(kEveryDirection[d]);
        if (slopes == Slopes::van_leer) {
            slopes_of(box.begin(), box.end(), stride, passage.open[d], value.data(), slope.data());
        }
        faces_of(box.begin(), box.end(), stride, passage.spread[d], passage.flow[d], value.data(),
                 slope.data(), face.data());
        gather(box.begin(), box.end(), stride, face.data(), net.data());
    }
}

void add_slopes(const Box& box, const Passage& passage, std::span<const double> value,
                std::span<double> net, std::span<double> slope, std::span<double> face) {
    for (std::size_t d = 0; d < box.directions(); ++d) {
        const std::size_t stride = box.stride(kEveryDirection[d]);
        slopes_of(box.begin(), box.end(), stride, passage.open[d], value.data(), slope.data());
        slope_faces_of(box.begin(), box.end(), stride, passage.flow[d], slope.data(), face.data());
        gather(box.begin(), box.end(), stride, face.data(), net.data());
    }
}

void add_ways(const Box& box, Direction direction, std::span<const double> spread,
              std::span<const double> flow, std::span<double> from_low, std::span<double> from_high,
              std::span<double> out) {
    ways_of(box.begin(), box.end(), box.stride(direction), flow.data(), spread.data(),
            from_low.data(), from_high.data(), out.data());
}

}  // namespace beetwright::num
