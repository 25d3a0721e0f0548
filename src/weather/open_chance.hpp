// The hours that the coming days leave for lifting, with their chances.
//
// What is not sure is the weather, as members of an outlook, and the rules, as draws of their
// constants: each member is judged by several draws. What sky, crowns and roots do under each is
// worked out once (weather_ahead) and shared by all fields; a field adds its soil and its rules.
// docs/methods/open_chance.md.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "base/estimate.hpp"
#include "base/pool.hpp"
#include "base/progress.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/outlook.hpp"

namespace beetwright::weather {

struct OpenQuestion {
    std::size_t draws = 4;      ///< of the constants, for each member
    std::chrono::days span{7};  ///< spans follow each other from the first day
    std::uint64_t seed = 1;
};

/// A day on the local clock, or what is ahead of it: of today, from now on.
struct DayAhead {
    Day day{};
    std::size_t hours = 0;
    Estimate<double> rain_mm;
    Estimate<double> least_K;  ///< of the air
    Estimate<double> most_K;
    /// Of beets as they come to a pile, topped, lifted and hauled in the day's warmest hour.
    Estimate<double> intake_most_K;
};

/// Days that follow each other. A last one of less than a day is part of the one before.
struct SpanAhead {
    Day first{};
    Day last{};
    std::size_t hours = 0;
    double crown_frost_chance = 0.0;  ///< that crowns freeze
    double root_frost_chance = 0.0;   ///< that roots in the ground freeze
};

/// What lies ahead of every field.
class WeatherAhead {
 public:
    WeatherAhead(const Outlook& outlook, const Catalogue& catalogue, const OpenQuestion& question,
                 WorkerPool& pool);

    [[nodiscard]] std::span<const DayAhead> days() const { return days_; }
    [[nodiscard]] std::span<const SpanAhead> spans() const { return spans_; }
    /// Open hours from which a day is worth beginning.
    [[nodiscard]] double useful_day_h() const { return best_.useful_day_h; }

 private:
    friend class FieldTally;

    /// One member under one draw of the constants.
    struct Run {
        std::size_t member = 0;
        LiftingConstants constants;
        std::vector<RootHour> roots;
    };

    void lay_out(const Outlook& outlook, const OpenQuestion& question);
    void describe_days(const Outlook& outlook);
    void describe_roots();

    std::size_t first_ = 0;               ///< the hour that it is now
    Instant begin_{};                     ///< of the first hour
    std::vector<std::uint16_t> day_of_;   ///< of each hour from now on
    std::vector<std::uint16_t> span_of_;  ///< of each day
    std::vector<DayAhead> days_;
    std::vector<SpanAhead> spans_;
    std::vector<std::vector<SkyHour>> skies_;  ///< of each member
    std::vector<Run> drawn_;
    std::vector<Run> usual_;  ///< each member by the constants' best values
    LiftingConstants best_;
};

struct OpenDay {
    Day day{};
    Estimate<double> open_h;
    double useful_chance = 0.0;  ///< that so many hours are open that it is worth beginning
    /// Held by each reason, on the mean of the members by the constants' best values; an hour may
    /// be held by several [h].
    std::array<double, kHolds> held_h{};
    /// The longest that is open in more than half of the members, by the constants' best values;
    /// begin and end are the same: there is none.
    Instant stretch_begin{};
    Instant stretch_end{};
};

/// Chances for the span of the same place in WeatherAhead::spans().
struct OpenSpan {
    /// That no open stretch is as long as a useful day.
    double none_chance = 0.0;
    /// That the ground alone is so wet that there is none, whatever else holds.
    double too_wet_chance = 0.0;
};

struct OpenChances {
    std::vector<OpenDay> days;
    std::vector<OpenSpan> spans;
};

/// A field's rules, by the constants of a draw: usual_rules, or those of its soil.
using RulesOf = std::function<FieldRules(const LiftingConstants&)>;

/// For each field. Nothing, if it was stopped. Does not depend on the number of threads.
std::optional<std::vector<OpenChances>> open_chances(const WeatherAhead& ahead,
                                                     std::span<const RulesOf> fields,
                                                     WorkerPool& pool,
                                                     Progress* progress = nullptr);

}  // namespace beetwright::weather
