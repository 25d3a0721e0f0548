#include "weather/climate.hpp"

#include "base/contract.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

std::chrono::year_month_day date_of(Instant at, std::chrono::minutes clock) {
    return std::chrono::floor<days>(at + clock);
}

}  // namespace

Instant Climate::moved_years(Instant at, int years) const {
    const auto date = date_of(at, series_.clock);
    auto moved = date + std::chrono::years(years);
    if (!moved.ok()) {
        moved = moved.year() / moved.month() / std::chrono::last;
    }
    return at + (std::chrono::sys_days(moved) - std::chrono::sys_days(date));
}

std::optional<std::size_t> Climate::find(Instant at) const {
    // Past its last hour, the same day of a year before; ahead of its first, of a year after.
    while (at >= end()) {
        at = moved_years(at, -1);
    }
    while (at < series_.begin) {
        at = moved_years(at, 1);
    }
    if (at >= end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>((at - series_.begin) / hours(1));
}

bool Climate::covers(Stretch stretch, Instant from, Instant to) const {
    for (Instant at = from; at < to; at += days(1)) {
        if (!find(at + stretch.later)) {
            return false;
        }
    }
    return find(to - hours(1) + stretch.later).has_value();
}

std::vector<Stretch> Climate::stretches(Instant from, Instant to, days most_moved) const {
    std::vector<Stretch> all;
    const auto year_from = date_of(from, series_.clock).year();
    const auto first = date_of(series_.begin, series_.clock).year();
    const auto last = date_of(end() - hours(1), series_.clock).year();
    for (auto year = first; year <= last; ++year) {
        const Instant same_day = moved_years(from, static_cast<int>((year - year_from).count()));
        if (same_day < series_.begin || same_day >= end()) {
            continue;
        }
        for (auto moved = -most_moved; moved <= most_moved; moved += days(1)) {
            const Stretch stretch{std::chrono::duration_cast<hours>(same_day + moved - from)};
            if (covers(stretch, from, to)) {
                all.push_back(stretch);
            }
        }
    }
    return all;
}

const Hour& Climate::hour(Stretch stretch, Instant at) const {
    const auto place = find(at + stretch.later);
    require(place.has_value(), "the stretch stands for this hour");
    return series_.hours[*place];
}

}  // namespace beetwright::weather
