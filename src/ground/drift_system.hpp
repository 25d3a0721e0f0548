// Ground and drift as one linear system of least squares, solved by conjugate gradients. drift.hpp.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace beetwright::ground {

/// The mean of some heights of one pass: what it says of four nodes of ground and two of drift.
struct Seen {
    std::array<std::uint32_t, 6> node{};  ///< among all unknowns: the ground's, then the drift's
    std::array<double, 6> weight{};
    double height_m = 0.0;
    double count = 0.0;  ///< of heights
    int pass = -1;
};

class DriftSystem {
 public:
    /// Nodes of ground `columns` x `rows`, then `steps` of drift.
    DriftSystem(std::vector<Seen> seen, std::size_t columns, std::size_t rows, std::size_t steps)
        : seen_(std::move(seen)), columns_(columns), rows_(rows), steps_(steps) {}

    [[nodiscard]] std::size_t unknowns() const { return columns_ * rows_ + steps_; }
    [[nodiscard]] const std::vector<Seen>& seen() const { return seen_; }

    /// Unknowns that make most likely what was seen, but for passes left out. `bend` and `wander`:
    /// variances of the ground's second difference and of the drift's step, in that of a height's
    /// noise. Begins at `start`.
    [[nodiscard]] std::vector<double> solved(double bend, double wander, int left_out, int of,
                                             std::vector<double> start) const;
    /// What the unknowns say of one that was seen.
    [[nodiscard]] static double said(const Seen& one, std::span<const double> unknowns);

 private:
    void apply(std::span<const double> x, double bend, double wander, int left_out, int of,
               std::span<double> product) const;
    void add_bends(std::span<const double> x, double weight, std::span<double> product) const;

    std::vector<Seen> seen_;
    std::size_t columns_;
    std::size_t rows_;
    std::size_t steps_;
};

}  // namespace beetwright::ground
