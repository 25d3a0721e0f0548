#include "ground/drift_system.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::ground {
namespace {

constexpr int kMostRounds = 300;
constexpr double kEnough = 1e-5;  // of the residual at first
constexpr double kLoose = 1e-4;   // holds the drift's mean and what no sample touches

bool is_left_out(const Seen& one, int left_out, int of) {
    return of > 0 && one.pass >= 0 && one.pass % of == left_out;
}

double dot(std::span<const double> a, std::span<const double> b) {
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        sum += a[i] * b[i];
    }
    return sum;
}

}  // namespace

double DriftSystem::said(const Seen& one, std::span<const double> unknowns) {
    double sum = 0.0;
    for (std::size_t k = 0; k < one.node.size(); ++k) {
        sum += one.weight[k] * unknowns[one.node[k]];
    }
    return sum;
}

/// Squares of second differences along rows and columns, and of the mixed one: all that a plane has
/// none of.
void DriftSystem::add_bends(std::span<const double> x, double weight,
                            std::span<double> product) const {
    const auto three = [&](std::size_t a, std::size_t b, std::size_t c) {
        const double bend = weight * (x[a] - 2.0 * x[b] + x[c]);
        product[a] += bend;
        product[b] -= 2.0 * bend;
        product[c] += bend;
    };
    for (std::size_t row = 0; row < rows_; ++row) {
        const std::size_t begin = row * columns_;
        for (std::size_t column = 1; column + 1 < columns_; ++column) {
            three(begin + column - 1, begin + column, begin + column + 1);
        }
    }
    for (std::size_t row = 1; row + 1 < rows_; ++row) {
        for (std::size_t column = 0; column < columns_; ++column) {
            const std::size_t here = row * columns_ + column;
            three(here - columns_, here, here + columns_);
        }
    }
    for (std::size_t row = 0; row + 1 < rows_; ++row) {
        for (std::size_t column = 0; column + 1 < columns_; ++column) {
            const std::size_t here = row * columns_ + column;
            const double twist =
                2.0 * weight *
                (x[here] - x[here + 1] - x[here + columns_] + x[here + columns_ + 1]);
            product[here] += twist;
            product[here + 1] -= twist;
            product[here + columns_] -= twist;
            product[here + columns_ + 1] += twist;
        }
    }
}

void DriftSystem::apply(std::span<const double> x, double bend, double wander, int left_out, int of,
                        std::span<double> product) const {
    std::ranges::fill(product, 0.0);
    for (const auto& one : seen_) {
        if (is_left_out(one, left_out, of)) {
            continue;
        }
        const double value = one.count * said(one, x);
        for (std::size_t k = 0; k < one.node.size(); ++k) {
            product[one.node[k]] += one.weight[k] * value;
        }
    }
    add_bends(x, 1.0 / bend, product);
    const std::size_t first = columns_ * rows_;
    for (std::size_t i = first; i + 1 < x.size(); ++i) {
        const double step = (x[i + 1] - x[i]) / wander;
        product[i + 1] += step;
        product[i] -= step;
    }
    for (std::size_t i = 0; i < x.size(); ++i) {
        product[i] += kLoose * x[i];
    }
}

std::vector<double> DriftSystem::solved(double bend, double wander, int left_out, int of,
                                        std::vector<double> start) const {
    const std::size_t n = unknowns();
    std::vector<double> right(n, 0.0);
    std::vector<double> diagonal(n, kLoose);
    for (const auto& one : seen_) {
        if (is_left_out(one, left_out, of)) {
            continue;
        }
        for (std::size_t k = 0; k < one.node.size(); ++k) {
            right[one.node[k]] += one.count * one.weight[k] * one.height_m;
            diagonal[one.node[k]] += one.count * one.weight[k] * one.weight[k];
        }
    }
    for (std::size_t i = 0; i < columns_ * rows_; ++i) {
        diagonal[i] += 20.0 / bend;  // of an inner node: 6 along, 6 across, 8 mixed
    }
    for (std::size_t i = columns_ * rows_; i < n; ++i) {
        diagonal[i] += 2.0 / wander;
    }
    std::vector<double> x = std::move(start);
    std::vector<double> product(n);
    std::vector<double> residual(n);
    std::vector<double> way(n);
    std::vector<double> eased(n);
    apply(x, bend, wander, left_out, of, product);
    for (std::size_t i = 0; i < n; ++i) {
        residual[i] = right[i] - product[i];
        eased[i] = residual[i] / diagonal[i];
    }
    way = eased;
    double size = dot(residual, eased);
    std::vector<double> eased_right(n);
    for (std::size_t i = 0; i < n; ++i) {
        eased_right[i] = right[i] / diagonal[i];
    }
    const double enough = kEnough * kEnough * dot(right, eased_right);
    for (int round = 0; round < kMostRounds && size > enough; ++round) {
        apply(way, bend, wander, left_out, of, product);
        const double step = size / dot(way, product);
        for (std::size_t i = 0; i < n; ++i) {
            x[i] += step * way[i];
            residual[i] -= step * product[i];
            eased[i] = residual[i] / diagonal[i];
        }
        const double next = dot(residual, eased);
        const double turn = next / size;
        for (std::size_t i = 0; i < n; ++i) {
            way[i] = eased[i] + turn * way[i];
        }
        size = next;
    }
    return x;
}

}  // namespace beetwright::ground
