// Stretches of years gone by, at the time of year that is asked for.
//
// Weather of a few days hangs together: a wet day comes after a wet one. So the years are not mixed
// hour by hour, but read on in one go, from a day of the same date in a year that the climate
// holds, moved by some days. docs/methods/outlook.md.
#pragma once

#include <optional>
#include <vector>

#include "weather/series.hpp"

namespace beetwright::weather {

/// Hours that are read from a climate so much later, or earlier, than they stand for.
struct Stretch {
    std::chrono::hours later{0};
};

class Climate {
 public:
    explicit Climate(const Series& series) : series_(series) {}

    /// Every stretch that can stand for the hours from `from` to `to`: of each year, moved by up to
    /// so many days. Where the years end, their first goes on after their last: a typical year has
    /// but one.
    [[nodiscard]] std::vector<Stretch> stretches(Instant from, Instant to,
                                                 std::chrono::days most_moved) const;

    /// The hour of the climate that stands for the one that begins at `at`.
    [[nodiscard]] const Hour& hour(Stretch stretch, Instant at) const;

 private:
    [[nodiscard]] std::optional<std::size_t> find(Instant at) const;
    [[nodiscard]] bool covers(Stretch stretch, Instant from, Instant to) const;
    [[nodiscard]] Instant end() const { return series_.begin_of(series_.hours.size()); }
    /// So many calendar years later, at the same time of day. 29 February becomes the 28th where a
    /// year has none.
    [[nodiscard]] Instant moved_years(Instant at, int years) const;

    const Series& series_;
};

}  // namespace beetwright::weather
