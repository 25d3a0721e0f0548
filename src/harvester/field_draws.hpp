// Draws of what is known after a field's own checks, without taking it for normal.
//
// A normal approximation is good enough to carry what was learned from day to day; what to do in
// this field is decided by draws of the posterior itself. They come by elliptical slice sampling
// about that approximation (Murray, Adams and MacKay 2010, AISTATS 9:541-548; Nishihara, Murray and
// Adams 2014, J. Mach. Learn. Res. 15:2087-2112): no step size, and nearly one draw from the next
// independent where the approximation is good. docs/methods/harvester_learning.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "harvester/likelihood.hpp"
#include "harvester/look.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

/// A check, what it was made in, and how sights scatter.
struct SeenCheck {
    Look look;
    Situation situation;
    SightConstants constants;
};

/// Jointly normal unknowns: the parameters, then what the field adds to each level.
struct Unknowns {
    std::vector<double> mean;
    std::vector<double> covariance;  ///< row by row
};
inline constexpr std::size_t kUnknowns = kParameters + kLevelCount;

/// How much a predictor moves with each unknown, in a situation.
std::array<double, kUnknowns> loadings(Predictor predictor, const Situation& situation);

/// `count` draws of all unknowns, kUnknowns each: before the checks they were `before`, after them
/// they are about `after`. `check_sd`: by level, what a single check adds.
std::vector<double> field_draws(const Unknowns& before, const Unknowns& after,
                                std::span<const SeenCheck> checks, std::span<const double> check_sd,
                                std::size_t count, std::uint64_t seed);

}  // namespace beetwright::harvester
