// The air's own temperature: the two-temperature form of a pile's heat.
//
// Air that passes through a cell takes on the share 1 - exp(-N) of the way from the temperature it
// came with to the beets', N the heat transfer over the heat capacity that flows through; it holds
// next to no heat itself. Where N is large it leaves as warm as the beets are, which is the form of
// one temperature. A difference quotient for each cell's well mixed air was the alternative: it
// smears a front by a cell's length. docs/methods/pile_heat.md.
#pragma once

#include <cstdint>
#include <span>

#include "num/carried_system.hpp"
#include "pile/airflow.hpp"

namespace beetwright::pile {

class AirHeat {
 public:
    /// For this flow and transfer between beets and air [W/K by cell]; `order` as the flow visits
    /// the cells. Takes its memory when it is first asked.
    void follow(const Bed& bed, const Airflow& flow, std::span<const double> transfer,
                std::span<const std::uint32_t> order);
    /// The air's temperatures between beets of these.
    void update(std::span<const double> celsius, double outside_C);
    /// The heat that air leaves in each cell [W], at the last update's temperatures.
    void add_net(std::span<double> net) const;
    /// What it brought into the pile [W].
    [[nodiscard]] double came_in() const;
    /// What Newton's steps need to know: how that heat changes with the beets' temperatures.
    void add_to_system(num::CarriedSystem& system, std::span<double> diagonal) const;

    [[nodiscard]] const num::Field& celsius() const { return celsius_; }
    /// Nought for each cell: no heat is carried as the beets' temperature.
    [[nodiscard]] const num::Field& none() const { return none_; }

 private:
    num::Box box_;
    const Bed* bed_ = nullptr;
    const Airflow* flow_ = nullptr;
    std::span<const std::uint32_t> order_;
    double outside_C_ = 0.0;
    num::Field celsius_, none_, fixed_;
    num::Field passes_;  ///< heat capacity that flows through [W/K]
    num::Field comes_;   ///< of that, from outside [W/K]
    num::Field takes_;   ///< 1 - exp(-N)
    std::array<num::Field, num::kDirections> from_low_, from_high_;  ///< [W/K]
};

}  // namespace beetwright::pile
