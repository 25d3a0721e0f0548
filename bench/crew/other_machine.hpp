// Machines and fields whose truth is none of the model's own form: power laws instead of bends,
// thresholds instead of straight lines, crowns of two kinds, effects that go together, and wear.
#pragma once

#include <array>
#include <vector>

#include "base/random.hpp"
#include "harvester/look.hpp"
#include "harvester/machine.hpp"
#include "harvester/outcome.hpp"
#include "harvester/response.hpp"
#include "harvester/settings.hpp"

namespace beetwright::crew {

/// What a beet's tail broke at, and where; no diameter: whole.
struct TailOfABeet {
    double lifting_cm = 0.0;
    double cleaning_cm = 0.0;
};

class OtherMachine {
 public:
    OtherMachine(const harvester::Machine& machine, std::uint64_t seed, std::uint64_t number);

    /// As it is after this many hours of work since the first check.
    [[nodiscard]] harvester::Outcome outcome(const harvester::Settings& settings,
                                             double hours) const;
    /// What people believe of the field, who look at it as people do.
    [[nodiscard]] const harvester::Conditions& judged() const { return judged_; }
    /// How the crew had set it.
    [[nodiscard]] const harvester::Settings& found() const { return found_; }

    /// A check as people make it: classes mistaken for their neighbours, few beets.
    [[nodiscard]] harvester::Look look(const harvester::Settings& settings, double hours, int beets,
                                       harvester::SeenOnTheWay where, RandomStream& random) const;

 private:
    struct Cleaning {
        double turbines = 1.0;  ///< mean of speed over usual, to a power
        double power = 0.0;     ///< mean speed over usual
        double rolls = 1.0;
        double tined = 0.0;
        double clearance_m = 0.0;
    };
    struct Topping {
        std::array<double, harvester::kCrownsSeen> classes{};
        double untouched = 0.0, leaf_left = 0.0, right = 0.0, too_deep = 0.0, struck = 0.0;
        double excess_m = 0.0;  ///< of those too deep
        double long_stalks = 0.0;
    };
    [[nodiscard]] double rush(double kmh) const;
    [[nodiscard]] double value(const harvester::Settings& settings, const char* id) const;
    [[nodiscard]] Cleaning cleaning(const harvester::Settings& settings) const;
    [[nodiscard]] Topping topping(const harvester::Settings& settings, double hours) const;
    /// Chance that a stage breaks a tail at more than this.
    [[nodiscard]] double broken_lifting(double over_cm, const harvester::Settings& settings,
                                        double hours) const;
    [[nodiscard]] double broken_cleaning(double over_cm, const harvester::Settings& settings,
                                         double hours) const;

    harvester::Machine machine_;
    harvester::Conditions judged_;
    harvester::Settings found_;
    std::vector<double> heights_m_;  ///< of a row of crowns
    double spacing_m_ = 0.2;
    double row_m_ = 0.5;
    double crop_ = 7.0;  ///< kg/m2
    double root_ = 0.8;  ///< kg
    double wet_ = 0.0, hard_ = 0.0, limp_ = 0.0;
    // Traits of machine and field, each drawn about something sensible.
    double most_lifting_, depth_half_m_, depth_steep_, lift_speed_, rush_, rush_from_kmh_,
        lift_hard_, lift_cm_;
    double clean_rate_, clean_power_, clean_flow_, clean_roll_, clean_tined_, clean_cm_;
    double unlifted_, unlifted_steep_, rolls_lost_, guards_lost_, guards_size_;
    double soil_, soil_wet_, soil_depth_, soil_clean_, soil_roll_, soil_tined_, soil_bed_, clods_,
        before_, leaving_;
    double skin_, skin_power_;
    double knife_m_, remover_m_, wobble_m_, lag_s_, bounce_, leaf_free_m_, right_m_;
    double stalks_, stalks_rotor_, slant_, wear_;
};

}  // namespace beetwright::crew
