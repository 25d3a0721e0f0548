#include "engine/harvester_memory.hpp"

#include <algorithm>
#include <bit>
#include <optional>
#include <utility>

#include "weather/lifting_hours.hpp"

namespace beetwright::engine {
namespace {

/// Of one machine: now, and as of an earlier time.
constexpr std::size_t kCourses = 2;

std::size_t common(std::span<const MachineStep> one, std::span<const MachineStep> other) {
    const auto [end, other_end] = std::ranges::mismatch(one, other);
    return static_cast<std::size_t>(end - one.begin());
}

/// Whether the place after so many of all steps is marked: the last few are, and farther back ever
/// fewer, so that what is corrected there does not begin anew.
bool is_marked(std::size_t steps, std::size_t all) {
    const std::size_t back = all - steps;
    return back <= 2 || steps % std::bit_floor(back) == 0;
}

}  // namespace

std::shared_ptr<const MachineKnown> HarvesterMemory::after(const std::string& name,
                                                           const MachineStart& start,
                                                           std::vector<MachineStep> steps) {
    Machine& machine = machines_[name];
    if (auto numbers = start.numbers(); machine.start != numbers) {
        machine = {std::move(numbers), {}};
    }
    // The course that went the same way for longest.
    auto best = machine.courses.end();
    std::size_t shared = 0;
    for (auto course = machine.courses.begin(); course != machine.courses.end(); ++course) {
        const std::size_t length = common(*course->steps, steps);
        if (best == machine.courses.end() || length > shared) {
            best = course;
            shared = length;
        }
    }
    Course course;
    const bool goes_on = best != machine.courses.end() && shared == best->steps->size();
    if (best != machine.courses.end()) {
        for (const Mark& mark : best->marks) {
            if (mark.steps <= shared) {
                course.marks.push_back(mark);
            }
        }
    }
    std::shared_ptr<const MachineKnown> known;
    if (!course.marks.empty() && course.marks.back().steps == steps.size()) {
        known = course.marks.back().known;
    } else {
        const std::size_t from = course.marks.empty() ? 0 : course.marks.back().steps;
        std::optional<MachineKnown> going;
        if (course.marks.empty()) {
            going.emplace(start);
        } else {
            going.emplace(*course.marks.back().known);
        }
        for (std::size_t step = from; step < steps.size(); ++step) {
            going->take(steps[step], start);
            ++steps_taken_;
            if (step + 1 < steps.size() && is_marked(step + 1, steps.size())) {
                course.marks.push_back({step + 1, std::make_shared<const MachineKnown>(*going)});
            }
        }
        known = std::make_shared<const MachineKnown>(std::move(*going));
        course.marks.push_back({steps.size(), known});
    }
    std::erase_if(course.marks,
                  [&](const Mark& mark) { return !is_marked(mark.steps, steps.size()); });
    course.steps = std::make_shared<const std::vector<MachineStep>>(std::move(steps));
    if (goes_on) {
        machine.courses.erase(best);
    }
    machine.courses.insert(machine.courses.begin(), std::move(course));
    if (machine.courses.size() > kCourses) {
        machine.courses.pop_back();
    }
    return known;
}

std::span<const weather::SunPosition> HarvesterMemory::suns(const weather::Series& series) {
    const auto same_place = [](const weather::Place& one, const weather::Place& other) {
        return one.latitude_rad == other.latitude_rad && one.longitude_rad == other.longitude_rad &&
               one.elevation_m == other.elevation_m;
    };
    if (suns_ == nullptr || !same_place(suns_->place, series.place) ||
        suns_->begin != series.begin || suns_->suns.size() < series.hours.size()) {
        suns_ = std::make_shared<const Suns>(
            Suns{series.place, series.begin, weather::sun_hours(series)});
    }
    return std::span(suns_->suns).first(series.hours.size());
}

}  // namespace beetwright::engine
