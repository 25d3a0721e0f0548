// What people do with a pile: its shape and loads, covers put on and off, fans and their rule.
#pragma once

#include <vector>

#include "pile/airflow.hpp"
#include "pile/lot.hpp"
#include "pile/outside.hpp"

namespace beetwright::pile {

/// By what a cover is put on and taken off within its span. As it is: it lies there throughout.
struct CoverRule {
    /// It is put on when it is to become colder than this, by the air now or by what is forecast.
    double on_below_C = 1e9;
    /// It is taken off when the air is warmer than this and it is not to become that cold.
    double off_above_C = 1e9;
};

struct CoverSpan {
    Cover cover{};
    std::vector<Side> on{};  ///< of these sides
    double from_h = 0.0;     ///< hours of the run; the later of two that meet holds
    double to_h = kNever_h;
    CoverRule rule{};
};

/// When a fan runs.
struct FanRule {
    double colder_K = 2.0;     ///< outside is colder than the pile's mean by this at least
    double not_below_C = 0.0;  ///< outside is not below this; -50 to freeze a pile down
    double only_below_C = 50.0;
};

/// A duct on the ground along the pile, and its fan.
struct DuctPlan {
    double across_m = 0.0;  ///< of its middle
    double width_m = 0.6;   ///< over which it opens into the pile
    /// Dry air against no pressure [kg/s]: of a section per metre along, else of the whole duct.
    double free_kg_s = 0.0;
    double still_Pa = 0.0;
    Duct::Way way = Duct::Way::blows;
    FanRule rule{};
    double from_h = 0.0;
    double to_h = kNever_h;
};

struct Plan {
    Shape shape;
    GridSpec grid;
    std::vector<Lot> lots;
    std::vector<CoverSpan> covers;
    std::vector<DuctPlan> ducts;
    double ground_C = 10.0;       ///< of the ground's surface when the run begins
    double deep_ground_C = 10.0;  ///< and below its lowest layer
};

}  // namespace beetwright::pile
