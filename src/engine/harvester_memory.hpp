// What was gone through already for earlier questions about a season's harvesters.
//
// A memory makes questions quicker and changes no answer: what it holds is looked up by all that it
// follows from. It may be kept while a season grows, is corrected, or is asked as of an earlier
// time, and serves another season as well as none. Copies share what they hold, and cost little.
#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "engine/machine_course.hpp"
#include "weather/series.hpp"
#include "weather/sun.hpp"

namespace beetwright::engine {

class HarvesterMemory {
 public:
    /// What is known of a machine after steps.
    std::shared_ptr<const MachineKnown> after(const std::string& machine, const MachineStart& start,
                                              std::vector<MachineStep> steps);
    /// Where the sun stands in the middle of each hour of a series.
    std::span<const weather::SunPosition> suns(const weather::Series& series);

    /// Steps that were gone through one by one so far.
    [[nodiscard]] std::size_t steps_taken() const { return steps_taken_; }

 private:
    /// What is known after the first so many steps.
    struct Mark {
        std::size_t steps = 0;
        std::shared_ptr<const MachineKnown> known;
    };
    /// A course that a machine went, with marks that lie the thinner the farther back.
    struct Course {
        std::shared_ptr<const std::vector<MachineStep>> steps;
        std::vector<Mark> marks;  ///< ascending
    };
    struct Machine {
        std::vector<double> start;
        std::vector<Course> courses;  ///< asked for last, first
    };
    struct Suns {
        weather::Place place;
        Instant begin{};
        std::vector<weather::SunPosition> suns;
    };
    std::map<std::string, Machine> machines_;
    std::shared_ptr<const Suns> suns_;
    std::size_t steps_taken_ = 0;
};

}  // namespace beetwright::engine
