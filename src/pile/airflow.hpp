// Air through a pile: what drives it is warmth, wind and fans; what holds it is the bed.
//
//     -grad p + g (rho_outside - rho) up = (mu inverse_permeability + inertia |G|) G / rho
//     div G = fans
//
// G is the flow of dry air [kg/m2/s], p the pressure beyond that of the outside air at the same
// height. Darcy's law alone, without the second term, would give six times too much under a few
// degrees of warmth. Newton's steps on the flows, each a multigrid solution for p; then what is
// left of each cell's balance is sent outside along a tree of openings, so that the flow leaves
// nothing anywhere, to rounding, however coarse the solution was: heat and water are carried by it
// and their balances are held to 1e-9. docs/methods/pile_air.md.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "num/multigrid.hpp"
#include "pile/bed.hpp"

namespace beetwright::pile {

/// A fan and the cells its duct opens into. Its pressure falls with the square of its flow:
/// p = still_Pa (1 - (flow / free)^2).
struct Duct {
    std::vector<std::size_t> cells;
    double free_kg_s = 0.0;  ///< dry air against no pressure
    double still_Pa = 0.0;   ///< pressure at no flow
    enum class Way { blows, sucks } way = Way::blows;
    bool runs = true;
};

/// What is outside, for the flow.
struct AirOutside {
    double density = 0.0;                      ///< of humid air [kg/m3]
    std::span<const double> wind_Pa;           ///< by side of the grid
    std::span<const double> cover_Pa_s_m2_kg;  ///< by side
};

struct FlowRules {
    int most_steps = 25;
    double change = 0.1;       ///< of the flows, by norm, below which they stand
    double tightness = 0.002;  ///< of the pressure's solution, of the flows' norm
};

struct FlowOutcome {
    int steps = 0;        ///< Newton's
    int iterations = 0;   ///< of the pressure's solutions
    double change = 0.0;  ///< of the last step, as a share
    bool stands = false;
};

class Airflow {
 public:
    explicit Airflow(const num::Box& box);

    /// Another bed on the same box; flows start from nought where there was none. The first takes
    /// all the memory that will be used.
    void lay(const Bed& bed, const Grid& grid);

    /// The flow under these temperatures [°C], humidity ratios and surroundings, from the last one
    /// on.
    FlowOutcome update(std::span<const double> celsius, std::span<const double> humidity,
                       const AirOutside& outside, std::span<const Duct> ducts,
                       const FlowRules& rules);

    /// From a cell to the next in a direction [kg/s].
    [[nodiscard]] const num::Field& flow(std::size_t direction) const { return flow_[direction]; }
    /// Outwards, by facet of the bed [kg/s].
    [[nodiscard]] std::span<const double> facet_flow() const { return facet_flow_; }
    /// Into a cell from its duct; negative: out of it [kg/s].
    [[nodiscard]] const num::Field& source() const { return source_; }
    /// Of each duct [kg/s], and the pressure that its cells are at, against which it works [Pa].
    [[nodiscard]] std::span<const double> duct_flow() const { return duct_flow_; }
    [[nodiscard]] std::span<const double> duct_Pa() const { return duct_Pa_; }
    /// |G| in a cell [kg/m2/s].
    [[nodiscard]] const num::Field& speed() const { return speed_; }
    [[nodiscard]] const num::Field& pressure() const { return pressure_; }
    /// The greatest rest of a cell's balance [kg/s], and the sum of what enters [kg/s].
    [[nodiscard]] double greatest_rest() const;
    [[nodiscard]] double throughput() const;

 private:
    // Cells of beet alone, without the ground, in a box of their own: fields that are named so lie
    // in it. What is asked for from outside lies in the pile's box.
    struct Link {
        std::uint32_t cell = 0;  ///< whose rest goes on through
        std::uint32_t parent = 0;
        std::uint32_t via = 0;  ///< 0, 1, 2: a direction; beyond: 3 + facet
        bool is_low = true;     ///< the cell is the lower one of the two
    };
    /// A facet that air passes, among those of the bed.
    struct Opening {
        std::size_t facet = 0;
        std::size_t cell = 0;
        std::size_t side = 0;
        double area = 0.0, depth = 0.0;
        double rise = 0.0;                             ///< g times the height from cell to facet
        std::array<double, num::kDirections> lever{};  ///< from cell to facet [m]
    };
    void make_room(const Grid& grid);
    /// A flow that was tried of a fan [kg/s], and by how much it missed what the fan would give.
    struct DuctTry {
        double flow = 0.0, miss = 0.0;
        double too_little = 0.0, too_much = 0.0;  ///< tries between which it lies
    };
    static double next_flow(DuctTry& last, double flow, double wanted);
    void plant_tree();
    void set_speeds();
    void set_sources(std::span<const Duct> ducts, bool fans_follow);
    void assemble(const AirOutside& outside);
    double renew_flows();
    void remember_pressure();
    void balance();
    void fill_rest(num::Field& rest) const;
    /// From the pile's box into that of the beet, and back.
    void take_in(std::span<const double> from, num::Field& into) const;
    void give_out(const num::Field& from, num::Field& into) const;
    [[nodiscard]] std::size_t inner(std::size_t cell) const;

    const Bed* bed_ = nullptr;
    num::Box box_;       ///< of the beet
    num::Box pile_box_;  ///< with the ground below
    std::size_t ground_layers_ = 0;
    std::optional<num::Multigrid> solver_;
    /// Where the pressure may lie from where it was: itself, and its last two changes.
    num::Tries tries_;
    // In the pile's box.
    std::array<num::Field, num::kDirections> flow_;
    num::Field speed_, pressure_, source_;
    // In the beet's.
    std::array<num::Field, num::kDirections> flow_in_, held_, rise_, per_opening_, half_way_,
        reach_;
    num::Field viscous_, inertia_, density_, speed_in_, pressure_in_;
    num::Field right_, source_in_, rest_, part_, per_volume_, has_beet_;
    std::vector<Opening> openings_;
    std::vector<double> facet_flow_, facet_held_, facet_permeance_;
    std::vector<double> duct_flow_, duct_Pa_;
    std::vector<DuctTry> duct_tries_;
    std::vector<Link> tree_;           ///< from the leaves to the roots
    std::vector<std::size_t> pinned_;  ///< cells whose pressure is nought: nothing is open
    double size_ = 0.0;                ///< sum of squares of the flows, facets' too
    double at_rest_ = 0.0;             ///< sum of squares of flows that are none
    bool speeds_stand_ = false;        ///< they are those of the flows
};

}  // namespace beetwright::pile
