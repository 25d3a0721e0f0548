// A pile through its hours: the plan carried out, under weather hour by hour.
//
//     auto pile = Pile::make(plan, constants);
//     for (const auto& hour : weather) { auto done = (*pile)->pass(hour); ... }
//     (*pile)->state().celsius[(*pile)->grid().box.index(i, j, k)]
//
// One thread works on a pile: members of an ensemble are piles of their own, and run side by side.
// docs/methods/pile.md.
#pragma once

#include <memory>

#include "pile/plan.hpp"
#include "pile/step.hpp"

namespace beetwright::pile {

struct RunRules {
    FlowRules flow{};
    StepRules step{};
    double longest_s = 3600.0;  ///< of a step
    double shortest_s =
        56.25;  ///< a 64th of an hour; a step that does not stand at that is a Problem
};

struct Work {
    long steps = 0;
    long evaluations = 0;
    long flows = 0;  ///< hours for which the flow was worked out
    long flow_steps = 0;
    long flow_iterations = 0;
    long halvings = 0;
    long covers_put_on = 0;     ///< spans that were put on, each time it was done
    long covers_taken_off = 0;  ///< and taken off, by a rule or at a span's end
};

class Pile {
 public:
    /// Problems: those of the shape, the grid and the lots; no lot; none that reaches into the
    /// pile; a duct beside it; a cover or a fan with negative figures.
    static Result<std::unique_ptr<Pile>> make(const Plan& plan, const PileConstants& constants,
                                              const RunRules& rules = {});

    /// An hour passes. Problems: weather that is no weather; steps or a flow that do not stand,
    /// with the hour and the cell.
    Result<Done> pass(const WeatherHour& hour);

    [[nodiscard]] double hour() const { return hour_; }
    [[nodiscard]] const Grid& grid() const { return grid_; }
    [[nodiscard]] const Bed& bed() const { return bed_; }
    [[nodiscard]] const State& state() const { return state_; }
    [[nodiscard]] const Airflow& airflow() const { return airflow_; }
    /// Carbon dioxide by cell that the last step left over [kg]: it counts among what is held.
    [[nodiscard]] const num::Field& owed_carbon_dioxide() const { return step_.owed(); }
    [[nodiscard]] const Balance& balance() const { return balance_; }
    [[nodiscard]] const Work& work() const { return work_; }
    [[nodiscard]] std::span<const Lot> lots() const { return plan_.lots; }
    [[nodiscard]] const PileConstants& constants() const { return constants_; }
    [[nodiscard]] const std::vector<Duct>& ducts() const { return ducts_; }
    /// By side, as they lay in the last hour.
    [[nodiscard]] std::span<const Cover> covers() const { return covers_; }

 private:
    Pile(const Plan& plan, const PileConstants& constants, const RunRules& rules, Grid grid);
    void lay_bed();
    void put_new_beet(const Bed& before);
    void set_covers(const WeatherHour& hour);
    void set_fans(const WeatherHour& hour);
    double mean_celsius() const;
    Result<Done> blow();
    Result<Done> step(double seconds);
    Problem does_not_stand(const char* what, std::size_t cell) const;

    Plan plan_;
    PileConstants constants_;
    RunRules rules_;
    Grid grid_;
    std::vector<std::size_t> lot_of_cell_;
    Bed bed_;
    State state_;
    Airflow airflow_;
    Step step_;
    Balance balance_;
    Work work_;
    Outside outside_;
    std::vector<Cover> covers_;
    std::vector<bool> lies_;  ///< each of the plan's covers
    std::vector<Duct> ducts_;
    double hour_ = 0.0;
    bool is_laid_ = false;
};

/// Sums over a pile, for balances and for people.
struct Totals {
    double heat = 0.0;            ///< [J], of everything, ground too
    double film = 0.0;            ///< [kg]
    double vapour = 0.0;          ///< [kg]
    double carbon_dioxide = 0.0;  ///< beyond the outside air's [kg]
    double beet = 0.0;            ///< clean, as piled [kg]
    double sugar_piled = 0.0;     ///< [kg]
    double sugar_left = 0.0;      ///< [kg]
    double invert = 0.0;          ///< [kg]
    double dried = 0.0;           ///< [kg]
    double mean_C = 0.0;          ///< of beet, by mass
    double warmest_C = -99.0;
    double coldest_C = 99.0;
    std::size_t warmest = 0;  ///< cell
};
Totals totals(const Pile& pile);

}  // namespace beetwright::pile
