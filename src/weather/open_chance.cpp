#include "weather/open_chance.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/contract.hpp"
#include "weather/constant_draw.hpp"

namespace beetwright::weather {
namespace {

constexpr std::size_t kDay_h = 24;

/// Most of a day's members may be one number and a few far from it: the mean is then beyond the
/// points that hold nine in ten, and they are drawn out to it.
Estimate<double> with_its_mean(double mean, double low, double high) {
    return {.value = mean, .low = std::min(low, mean), .high = std::max(high, mean)};
}

/// Mean, and 5 % and 95 % points, of numbers as likely as one another.
Estimate<double> estimate_of(std::vector<double> numbers) {
    std::ranges::sort(numbers);
    const auto point = [&](double share) {
        const double rank = share * static_cast<double>(numbers.size() - 1);
        const auto below = static_cast<std::size_t>(rank);
        const auto above = std::min(below + 1, numbers.size() - 1);
        return std::lerp(numbers[below], numbers[above], rank - static_cast<double>(below));
    };
    return with_its_mean(
        std::accumulate(numbers.begin(), numbers.end(), 0.0) / static_cast<double>(numbers.size()),
        point(0.05), point(0.95));
}

/// How often each whole number of hours of a day was seen.
class HourCounts {
 public:
    void add(std::size_t hours) { ++counts_[hours]; }

    [[nodiscard]] Estimate<double> estimate() const {
        std::size_t all = 0;
        std::size_t sum = 0;
        for (std::size_t h = 0; h < counts_.size(); ++h) {
            all += counts_[h];
            sum += h * counts_[h];
        }
        const auto point = [&](double share) {
            const double rank = share * static_cast<double>(all - 1);
            const auto below = static_cast<std::size_t>(rank);
            return std::lerp(at_rank(below), at_rank(std::min(below + 1, all - 1)),
                             rank - static_cast<double>(below));
        };
        return with_its_mean(static_cast<double>(sum) / static_cast<double>(all), point(0.05),
                             point(0.95));
    }
    [[nodiscard]] double share_from(double hours) const {
        std::size_t all = 0;
        std::size_t as_many = 0;
        for (std::size_t h = 0; h < counts_.size(); ++h) {
            all += counts_[h];
            as_many += static_cast<double>(h) >= hours ? counts_[h] : 0U;
        }
        return static_cast<double>(as_many) / static_cast<double>(all);
    }

 private:
    [[nodiscard]] double at_rank(std::size_t rank) const {
        std::size_t hours = 0;
        for (std::size_t seen = counts_[0]; seen <= rank; seen += counts_[hours]) {
            ++hours;
        }
        return static_cast<double>(hours);
    }
    std::array<std::uint32_t, kDay_h + 1> counts_{};
};

}  // namespace

WeatherAhead::WeatherAhead(const Outlook& outlook, const Catalogue& catalogue,
                           const OpenQuestion& question, WorkerPool& pool)
    : best_(lifting_constants([&](ConstantId id) { return catalogue.value(id); })) {
    require(!outlook.members.empty() && question.draws > 0 && outlook.end() > outlook.now,
            "there are members that go on after now, and draws");
    const std::size_t members = outlook.members.size();
    lay_out(outlook, question);
    skies_.resize(members);
    usual_.resize(members);
    drawn_.resize(members * question.draws);
    const auto suns = sun_hours(outlook.members.front());  // the members are of one place and time
    pool.for_chunks(members, 1, [&](std::size_t from, std::size_t to) {
        for (std::size_t m = from; m < to; ++m) {
            const Series& series = outlook.members[m];
            skies_[m] = sky_hours(series, suns);
            usual_[m] = {m, best_, root_hours(series, skies_[m], best_)};
            for (std::size_t d = 0; d < question.draws; ++d) {
                Run& run = drawn_[m * question.draws + d];
                const auto draw = m * question.draws + d;
                run.member = m;
                run.constants = lifting_constants(
                    ConstantDraw(catalogue, question.seed, "hours fit for lifting", draw));
                run.roots = root_hours(series, skies_[m], run.constants);
            }
        }
    });
    describe_days(outlook);
    describe_roots();
}

void WeatherAhead::lay_out(const Outlook& outlook, const OpenQuestion& question) {
    const Series& series = outlook.members.front();
    begin_ = series.begin;
    first_ = static_cast<std::size_t>(
        std::max(std::chrono::hours(0),
                 std::chrono::ceil<std::chrono::hours>(outlook.now - series.begin))
            .count());
    for (std::size_t k = first_; k < series.hours.size(); ++k) {
        const Day day = series.day_of(k);
        if (days_.empty() || days_.back().day != day) {
            days_.emplace_back().day = day;
        }
        ++days_.back().hours;
        day_of_.push_back(static_cast<std::uint16_t>(days_.size() - 1));
    }
    const auto length = std::max(question.span, std::chrono::days(1));
    std::size_t hours_left = day_of_.size();
    for (const DayAhead& day : days_) {
        const bool is_full =
            !spans_.empty() && day.day >= spans_.back().first + length && hours_left >= kDay_h;
        if (spans_.empty() || is_full) {
            spans_.emplace_back().first = day.day;
        }
        spans_.back().last = day.day;
        spans_.back().hours += day.hours;
        hours_left -= day.hours;
        span_of_.push_back(static_cast<std::uint16_t>(spans_.size() - 1));
    }
}

void WeatherAhead::describe_days(const Outlook& outlook) {
    const std::size_t members = outlook.members.size();
    std::vector<std::vector<double>> rain(days_.size(), std::vector<double>(members, 0.0));
    std::vector<std::vector<double>> least(days_.size(), std::vector<double>(members, 1e9));
    std::vector<std::vector<double>> most(days_.size(), std::vector<double>(members, -1e9));
    for (std::size_t m = 0; m < members; ++m) {
        for (std::size_t k = 0; k < day_of_.size(); ++k) {
            const std::size_t day = day_of_[k];
            const double air = outlook.members[m].at(first_ + k, Element::air);
            rain[day][m] += skies_[m][first_ + k].rain_mm;
            least[day][m] = std::min(least[day][m], air);
            most[day][m] = std::max(most[day][m], air);
        }
    }
    for (std::size_t d = 0; d < days_.size(); ++d) {
        days_[d].rain_mm = estimate_of(std::move(rain[d]));
        days_[d].least_K = estimate_of(std::move(least[d]));
        days_[d].most_K = estimate_of(std::move(most[d]));
    }
}

void WeatherAhead::describe_roots() {
    std::vector<std::vector<double>> intake(days_.size(), std::vector<double>(drawn_.size(), -1e9));
    std::size_t number = 0;
    for (const Run& run : drawn_) {
        std::vector<std::uint8_t> crown(spans_.size(), 0);
        std::vector<std::uint8_t> root(spans_.size(), 0);
        for (std::size_t k = 0; k < day_of_.size(); ++k) {
            const std::size_t span = span_of_[day_of_[k]];
            auto& warmest = intake[day_of_[k]][number];
            const RootHour& hour = run.roots[first_ + k];
            crown[span] |= hour.crown_K < run.constants.frost_stop_K ? 1U : 0U;
            root[span] |= hour.root_K < run.constants.root_frost_K ? 1U : 0U;
            warmest = std::max(warmest, hour.intake_K);
        }
        ++number;
        for (std::size_t s = 0; s < spans_.size(); ++s) {
            spans_[s].crown_frost_chance += crown[s];
            spans_[s].root_frost_chance += root[s];
        }
    }
    for (std::size_t d = 0; d < days_.size(); ++d) {
        days_[d].intake_most_K = estimate_of(std::move(intake[d]));
    }
    // Counted first, so that all is one and not a hair more.
    const auto runs = static_cast<double>(drawn_.size());
    for (auto& span : spans_) {
        span.crown_frost_chance /= runs;
        span.root_frost_chance /= runs;
    }
}

/// Counts for one field after another, in memory that is used again.
class FieldTally {
 public:
    explicit FieldTally(const WeatherAhead& ahead)
        : ahead_(ahead), hours_(ahead.skies_.front().size()) {}

    OpenChances of(const RulesOf& rules) {
        OpenChances answer;
        answer.days.resize(ahead_.days_.size());
        answer.spans.resize(ahead_.spans_.size());
        counts_.assign(ahead_.days_.size(), {});
        for (const auto& run : ahead_.drawn_) {
            judge(run, rules);
            count_run(answer);
        }
        // Whole numbers were summed: their order does not matter.
        const auto runs = static_cast<double>(ahead_.drawn_.size());
        for (OpenSpan& span : answer.spans) {
            span.none_chance /= runs;
            span.too_wet_chance /= runs;
        }
        for (std::size_t d = 0; d < counts_.size(); ++d) {
            answer.days[d].day = ahead_.days_[d].day;
            answer.days[d].open_h = counts_[d].estimate();
            answer.days[d].useful_chance = counts_[d].share_from(ahead_.useful_day_h());
        }
        add_usual(rules, answer);
        return answer;
    }

 private:
    void judge(const WeatherAhead::Run& run, const RulesOf& rules) {
        judge_hours(ahead_.skies_[run.member], run.roots, rules(run.constants), run.constants,
                    hours_);
    }

    void count_run(OpenChances& answer) {
        const double useful_h = ahead_.useful_day_h();
        std::size_t k = 0;
        std::size_t day = 0;
        for (std::size_t s = 0; s < answer.spans.size(); ++s) {
            std::size_t open = 0;
            std::size_t not_wet = 0;
            std::size_t longest_open = 0;
            std::size_t longest_not_wet = 0;
            for (; day < counts_.size() && ahead_.span_of_[day] == s; ++day) {
                std::size_t open_of_day = 0;
                for (const std::size_t end = k + ahead_.days_[day].hours; k < end; ++k) {
                    const Holds holds = hours_[ahead_.first_ + k].holds;
                    open = holds.is_open() ? open + 1 : 0;
                    not_wet = holds.has(Held::wet) ? 0 : not_wet + 1;
                    longest_open = std::max(longest_open, open);
                    longest_not_wet = std::max(longest_not_wet, not_wet);
                    open_of_day += holds.is_open() ? 1U : 0U;
                }
                counts_[day].add(open_of_day);
            }
            OpenSpan& span = answer.spans[s];
            span.none_chance += static_cast<double>(longest_open) < useful_h ? 1.0 : 0.0;
            span.too_wet_chance += static_cast<double>(longest_not_wet) < useful_h ? 1.0 : 0.0;
        }
    }

    /// What goes by the constants' best values.
    void add_usual(const RulesOf& rules, OpenChances& answer) {
        open_members_.assign(ahead_.day_of_.size(), 0);
        for (const auto& run : ahead_.usual_) {
            judge(run, rules);
            for (std::size_t k = 0; k < open_members_.size(); ++k) {
                const Holds holds = hours_[ahead_.first_ + k].holds;
                open_members_[k] += holds.is_open() ? 1U : 0U;
                auto& held = answer.days[ahead_.day_of_[k]].held_h;
                for (std::size_t h = 0; h < kHolds; ++h) {
                    held[h] += holds.has(static_cast<Held>(h)) ? 1.0 : 0.0;
                }
            }
        }
        const std::size_t members = ahead_.usual_.size();
        std::size_t k = 0;
        for (std::size_t d = 0; d < answer.days.size(); ++d) {
            for (double& held : answer.days[d].held_h) {
                held /= static_cast<double>(members);
            }
            std::size_t length = 0;
            std::size_t longest = 0;
            std::size_t longest_end = k;
            for (const std::size_t end = k + ahead_.days_[d].hours; k < end; ++k) {
                length = 2 * open_members_[k] > members ? length + 1 : 0;
                if (length > longest) {
                    longest = length;
                    longest_end = k + 1;
                }
            }
            const auto at = [&](std::size_t hour) {
                return ahead_.begin_ + std::chrono::hours(ahead_.first_ + hour);
            };
            answer.days[d].stretch_begin = at(longest_end - longest);
            answer.days[d].stretch_end = at(longest_end);
        }
    }

    const WeatherAhead& ahead_;
    std::vector<FieldHour> hours_;
    std::vector<HourCounts> counts_;         ///< of each day
    std::vector<std::size_t> open_members_;  ///< at each hour from now on
};

std::optional<std::vector<OpenChances>> open_chances(const WeatherAhead& ahead,
                                                     std::span<const RulesOf> fields,
                                                     WorkerPool& pool, Progress* progress) {
    std::vector<OpenChances> answers(fields.size());
    Steps steps(progress, static_cast<double>(fields.size()));
    constexpr std::size_t kChunk = 8;
    pool.for_chunks(fields.size(), kChunk, [&](std::size_t from, std::size_t to) {
        FieldTally tally(ahead);
        for (std::size_t f = from; f < to && !steps.are_stopped(); ++f) {
            answers[f] = tally.of(fields[f]);
            steps.done(1.0);
        }
    });
    if (steps.are_stopped()) {
        return std::nullopt;
    }
    return answers;
}

}  // namespace beetwright::weather
