// Vapour and carbon dioxide in a pile's air: carried by its flow, spread by diffusion.
//
// Air is renewed within seconds where a step is an hour, so the step is implicit: cells are visited
// in the order that the flow visits them, each from what the ones before it send. Where the flow
// does not turn in circles one round is the solution, but for diffusion, which is slight.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "num/carried.hpp"
#include "pile/airflow.hpp"
#include "pile/outside.hpp"

namespace beetwright::pile {

class Gases {
 public:
    explicit Gases(const num::Box& box);

    void lay(const Bed& bed);
    /// The flow has changed.
    void follow(const Airflow& flow);
    /// The faces have changed.
    void meet(const Outside& outside);

    /// One round of  diagonal v - what the cells before it send = right  in the place of v, cell by
    /// cell along the flow.
    void round(std::span<double> v, std::span<const double> right,
               std::span<const double> per_diagonal) const;
    /// Cells of beet as the flow visits them.
    [[nodiscard]] std::span<const std::uint32_t> order() const { return order_; }
    /// What a cell sends out of itself and through facets, per value [kg/s].
    [[nodiscard]] const num::Field& sends() const { return sends_; }
    /// What comes in from outside per value there [kg/s].
    [[nodiscard]] const num::Field& from_outside() const { return from_outside_; }
    /// Dry air in a cell's pores [kg].
    [[nodiscard]] const num::Field& held() const { return held_; }
    /// For add_carried: between the cells only.
    [[nodiscard]] num::Passage passage() const;
    /// What comes into each cell [kg/s] at these values within and one without, with what slopes
    /// lead on.
    void net(std::span<const double> v, double outside, std::span<const double> led_on,
             std::span<double> into) const;
    /// Through facets and ducts alone: what came into the pile [kg/s].
    [[nodiscard]] double came_in(std::span<const double> v, double outside) const;

 private:
    void put_in_order();
    template <std::size_t directions>
    void round_of(std::span<double> v, std::span<const double> right,
                  std::span<const double> per_diagonal) const;

    const Bed* bed_ = nullptr;
    const Airflow* flow_ = nullptr;
    num::Field held_, sends_flow_, sends_, in_flow_, from_outside_;
    std::array<num::Field, num::kDirections> spread_, open_;
    std::vector<double> facet_spread_;
    /// What comes into a cell from the one below and above it, by direction [kg/s].
    std::array<num::Field, num::kDirections> from_low_, from_high_;
    std::vector<std::uint32_t> order_;  ///< of cells along the flow
    std::vector<std::size_t> blown_;    ///< cells that ducts open into
    int order_age_ = 0;
    std::vector<unsigned> waiting_;
};

}  // namespace beetwright::pile
