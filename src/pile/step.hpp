// One step in time of heat, water, gases and beets under a given flow of air.
//
//     d heat/dt = spread + carried + breathing - evaporation + faces        in each cell
//
// Each cell's heat is taken at a share of the step: its middle where the cell exchanges slowly
// against the step, which is of second order; nearer to the end the faster it does, so that no
// value overshoots. Vapour, which is renewed in seconds, is taken at the end. Newton's steps on
// heat; what the last evaluation of the fluxes says is what is added, so that balances close to
// rounding whatever is left of Newton's steps. docs/methods/pile_heat.md.
#pragma once

#include <span>
#include <vector>

#include "num/carried_system.hpp"
#include "pile/air_heat.hpp"
#include "pile/gases.hpp"
#include "pile/state.hpp"
#include "pile/step_loops.hpp"

namespace beetwright::pile {

/// Beets and their air as warm as each other, or each with a temperature of its own.
enum class HeatForm { one_temperature, two_temperatures };

struct StepRules {
    double kelvin = 0.1;  ///< Newton's greatest rest, beyond which it goes on
    int most = 25;
    num::Slopes slopes = num::Slopes::van_leer;
    HeatForm heat = HeatForm::one_temperature;
};

struct StepOutcome {
    int evaluations = 0;
    double rest_K = 0.0;
    std::size_t worst = 0;  ///< cell of the greatest rest
    bool stands = false;
};

class Step {
 public:
    explicit Step(const num::Box& box);

    void lay(const Bed& bed, const Grid& grid, std::span<const Lot> lots,
             const PileConstants& constants);
    /// After Airflow::update.
    void follow(const Airflow& flow);

    /// The state `seconds` later. A step that does not stand leaves the state as it was.
    StepOutcome advance(State& state, const Outside& outside, double seconds,
                        const StepRules& rules, Balance& balance);

    /// A source of heat by cell [W] beside breathing; nought unless set. For what is known in
    /// closed form.
    [[nodiscard]] num::Field& extra_W() {
        has_extra_ = true;
        return extra_W_;
    }
    [[nodiscard]] const Breathing& breathing() const { return breathing_; }
    /// Carbon dioxide that belongs to a cell beside what its air holds [kg].
    [[nodiscard]] const num::Field& owed() const { return owed_; }

 private:
    void set_conductances(const Outside& outside);
    void renew_temperatures();
    [[nodiscard]] loops::HeatFields heat_fields() const;
    void set_evaporation(const State& state, const Outside& outside, double seconds);
    void set_latent_slopes();
    void set_air_heat();
    /// Heat carried per beets' temperature, between a cell and the next: none of two temperatures.
    [[nodiscard]] const double* carried_by_beets(std::size_t direction) const;
    void set_system(double seconds);
    /// Everything that comes into each cell [W] at the values in celsius_ and humidity_.
    void evaluate(const Outside& outside, double seconds, const State& state);
    /// What slopes of v lead on, where gases are followed from cell to cell.
    void lead_on(std::span<const double> v);
    void vapour(const Outside& outside);
    /// Of change_, where the first relaxation of Newton's step stands.
    std::size_t find_worst() const;
    void book(State& state, const Outside& outside, double seconds, Balance& balance);
    void share_out_water(State& state, double seconds, Balance& balance);
    void let_rain(const State& state, const Outside& outside, double seconds);
    /// What a column's cells cannot hold goes on to the ones below, from the top.
    void drain(std::size_t column, std::size_t top, double seconds);
    void spread_carbon_dioxide(State& state, double seconds, double breath_W, Balance& balance);

    const Bed* bed_ = nullptr;
    const Airflow* flow_ = nullptr;
    PileConstants constants_;
    Breathing breathing_;
    Gases gases_;
    AirHeat air_heat_;
    num::CarriedSystem system_;
    std::array<num::Field, num::kDirections> conductance_, heat_flow_;
    std::vector<double> facet_conductance_;
    struct Bottom {
        std::size_t cell;
        double area, depth;
    };
    std::vector<Bottom> bottom_;
    num::Field celsius_, heat_, humidity_, conductivity_, net_, change_, last_change_;
    num::Field pace_, breath_W_, evaporation_, extra_W_, rain_W_;
    num::Field wet_, dry_, wet_transfer_, skin_, saturation_, slope_, face_, right_, capacity_;
    num::Field led_on_, latent_slope_, fixed_diagonal_, gas_right_, gas_per_diagonal_;
    num::Field offers_, there_;
    num::Field rise_, keeps_, net_gas_, per_share_;
    std::vector<std::size_t> blown_;   ///< cells that ducts open into
    num::Field owed_;                  ///< carbon dioxide that the last step left over [kg]
    std::vector<double> facet_level_;  ///< share of a facet's area that rain falls on
    num::Field film_;                  ///< with the step's rain
    double rained_ = 0.0, drained_ = 0.0;
    double last_seconds_ = 0.0;
    num::Slopes slopes_ = num::Slopes::van_leer;
    bool has_extra_ = false;
    bool is_two_ = false;    ///< temperatures
    bool drains_ = false;    ///< some cell held more water than it can
    bool leads_on_ = false;  ///< led_on_ holds what slopes lead on
    /// Whether the step is short enough to follow air from cell to cell. If it is not, gases are
    /// taken from upstream without slopes: led on through many cells at once they would swing.
    bool follows_gases_ = false;
};

}  // namespace beetwright::pile
