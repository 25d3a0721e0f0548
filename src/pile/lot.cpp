#include "pile/lot.hpp"

#include <cmath>
#include <numbers>
#include <string>

namespace beetwright::pile {
namespace {

/// Less than this and the bed is mud: Ergun's law ends there.
constexpr double kLeastPorosity = 0.15;

Problem lot_problem(const char* field, const char* what, const char* fix) {
    return {ProblemKind::input, {.file = "", .line = 0, .field = field}, what, fix};
}

}  // namespace

double BreathingWaves::at(double width_share, double height_share) const {
    const double x = std::numbers::pi * width_share;
    const double z = std::numbers::pi * height_share;
    return std::exp(across * std::cos(x) + up * std::cos(z) + both * std::cos(x) * std::cos(z) -
                    middle * std::cos(2.0 * x));
}

Result<Done> check_lot(const Lot& lot, const PileConstants& constants) {
    Problems problems;
    const auto is_share = [](double x) { return x >= 0.0 && x <= 1.0; };
    const auto& b = lot.beet;
    if (!is_share(b.tail_wound) || !is_share(b.crown_wound) || !is_share(b.skin_wound) ||
        !is_share(b.rotten_share) || !is_share(b.frosted_share) || !is_share(b.soil) ||
        !is_share(b.leaf) || !is_share(lot.film)) {
        problems.push_back(lot_problem("beet", "a share of a load is below 0 or above 1",
                                       "give shares of the surface, of beets, or kg per kg"));
    } else if (porosity(b, constants) < kLeastPorosity) {
        problems.push_back(lot_problem("soil", "soil and leaf fill the pores: no air would pass",
                                       "look at soil and leaf again, in kg per kg of clean beet"));
    }
    if (!(lot.sugar > 0.0 && lot.sugar < 0.3)) {
        problems.push_back(lot_problem("sugar", "no beet has this sugar content",
                                       "give it in kg per kg, 0.175 for 17.5 %"));
    }
    if (!(lot.celsius > -30.0 && lot.celsius < 45.0)) {
        problems.push_back(
            lot_problem("celsius", "no beet is piled at this temperature", "give it in °C"));
    }
    if (!(lot.degree_days >= 0.0)) {
        problems.push_back(lot_problem("degree_days", "degree-days since lifting are negative",
                                       "give 0 for beet piled at once"));
    }
    if (!(lot.removed_h > lot.piled_h)) {
        problems.push_back(lot_problem("removed_h", "a load is taken away before it is piled",
                                       "exchange the two"));
    }
    if (!problems.empty()) {
        return problems;
    }
    return Done{};
}

}  // namespace beetwright::pile
