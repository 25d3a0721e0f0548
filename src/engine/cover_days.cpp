#include "engine/cover_days.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "engine/pile_bands.hpp"

namespace beetwright::engine {
namespace {

using std::chrono::days;

constexpr std::array kWeeks_d{0, 7, 14, 28, 42, 63};
/// About the best so far, each on both sides at most: up to a week from the best of the weeks.
constexpr std::array kAbout_d{4, 2, 1};
constexpr std::array kOffBefore_d{14, 28};
static_assert(kWeeks_d.size() + 2 * kAbout_d.size() + kOffBefore_d.size() ==
              static_cast<std::size_t>(kMostCoverDays));

/// The cover put on on one day or another.
class DaySearch {
 public:
    DaySearch(const PileStudy& study, const DeedAnswer& cover, const Outcome& left_alone,
              WorkerPool& pool, Steps& steps)
        : study_(study), cover_(cover), left_alone_(left_alone), pool_(pool), steps_(steps) {}

    Result<BestDays> find() {
        for (const int after : kWeeks_d) {
            if (const auto done = put_on(study_.today() + days(after)); !done) {
                return done.problems();
            }
        }
        for (const int step : kAbout_d) {
            if (const auto done = look_about(days(step)); !done) {
                return done.problems();
            }
        }
        BestDays found{.best = cover_, .earliest = {}, .latest = {}, .by_day = {}};
        if (!tried_.empty()) {
            found = told();
            if (const auto done = take_off(found.best); !done) {
                return done.problems();
            }
        }
        steps_.done((kMostCoverDays - runs_) * study_.runs());
        return found;
    }

 private:
    struct Tried {
        DeedAnswer answer;
        std::vector<double> paid;
    };

    /// What it comes to under this deed.
    Result<Tried> under(const PileDeed& deed) {
        const auto courses = study_.run(deed, pool_, steps_);
        if (!courses) {
            return courses.problems();
        }
        runs_ += 1.0;
        Outcome outcome = outcome_of(study_, *courses);
        Tried tried{deed_answer(study_, deed, left_alone_, outcome), std::move(outcome.paid)};
        tried.answer.name = cover_.name;
        tried.answer.words = cover_.words;
        return tried;
    }

    /// On this day, unless that was looked at, or is none to put a cover on.
    Result<Done> put_on(Day day) {
        if (day < study_.today() || day >= study_.until() || tried_.contains(day)) {
            return Done{};
        }
        PileDeed deed = cover_.deed;
        deed.cover_on = day;
        auto tried = under(deed);
        if (!tried) {
            return tried.problems();
        }
        tried_.emplace(day, *std::move(tried));
        return Done{};
    }

    [[nodiscard]] double gain_on(Day day) const {
        const auto found = tried_.find(day);
        return found == tried_.end() ? -1e300 : found->second.answer.gain.value.si();
    }
    /// The first of the best, so that no later day is told that gains nothing.
    [[nodiscard]] Day best_day() const {
        Day best = tried_.begin()->first;
        for (const auto& [day, tried] : tried_) {
            best = gain_on(day) > gain_on(best) ? day : best;
        }
        return best;
    }

    /// First on the side of the better neighbour; on the other only if that is no better.
    Result<Done> look_about(days step) {
        if (tried_.empty()) {
            return Done{};
        }
        const Day best = best_day();
        const auto here = tried_.find(best);
        const double before = here == tried_.begin() ? -1e300 : gain_on(std::prev(here)->first);
        const double after =
            std::next(here) == tried_.end() ? -1e300 : gain_on(std::next(here)->first);
        const days first = before > after ? -step : step;
        for (const days by : {first, -first}) {
            if (const auto done = put_on(best + by); !done) {
                return done.problems();
            }
            if (gain_on(best + by) > gain_on(best)) {
                break;
            }
        }
        return Done{};
    }

    [[nodiscard]] BestDays told() const {
        const Day best = best_day();
        const Tried& of_best = tried_.at(best);
        BestDays found{.best = of_best.answer, .earliest = best, .latest = best, .by_day = {}};
        // As good as the best are those of which the difference, member by member, is not sure.
        for (const auto& [day, tried] : tried_) {
            found.by_day.emplace_back(day, tried.answer.gain);
            std::vector<double> short_by;
            for (std::size_t m = 0; m < tried.paid.size(); ++m) {
                short_by.push_back(of_best.paid[m] - tried.paid[m]);
            }
            if (summary_of(std::move(short_by)).low <= 0.0) {
                found.earliest = std::min(found.earliest, day);
                found.latest = std::max(found.latest, day);
            }
        }
        return found;
    }

    Result<Done> take_off(DeedAnswer& best) {
        PileDeed deed = best.deed;
        for (const int before : kOffBefore_d) {
            deed.cover_off = study_.until() - days(before);
            if (*deed.cover_off <= deed.cover_on) {
                continue;
            }
            auto tried = under(deed);
            if (!tried) {
                return tried.problems();
            }
            if (tried->answer.gain.value > best.gain.value) {
                best = std::move(tried->answer);
            }
        }
        return Done{};
    }

    const PileStudy& study_;
    const DeedAnswer& cover_;
    const Outcome& left_alone_;
    WorkerPool& pool_;
    Steps& steps_;
    std::map<Day, Tried> tried_;
    double runs_ = 0.0;
};

}  // namespace

Result<BestDays> best_cover_days(const PileStudy& study, const DeedAnswer& cover,
                                 const Outcome& left_alone, WorkerPool& pool, Steps& steps) {
    return DaySearch(study, cover, left_alone, pool, steps).find();
}

}  // namespace beetwright::engine
