#include "engine/weather_question.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "base/contract.hpp"
#include "weather/constant_draw.hpp"
#include "weather/soil_rules.hpp"
#include "weather/topsoil.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;
using weather::Held;
using weather::Series;

std::vector<WeatherMonth> months_of(const Series& series) {
    std::vector<WeatherMonth> months;
    const bool has_rain = series.has(Element::rain);
    const bool has_sunshine = series.has(Element::global);
    for (std::size_t k = 0; k < series.hours.size(); ++k) {
        const std::chrono::year_month_day date(series.day_of(k));
        const std::chrono::year_month month{date.year(), date.month()};
        const double air = series.at(k, Element::air);
        if (months.empty() || months.back().month != month) {
            auto& first = months.emplace_back();
            first.month = month;
            first.least_K = air;
            first.most_K = air;
        }
        WeatherMonth& now = months.back();
        ++now.hours;
        now.mean_K += air;
        now.least_K = std::min(now.least_K, air);
        now.most_K = std::max(now.most_K, air);
        now.rain_mm += has_rain ? series.at(k, Element::rain) : weather::kUnknown;
        constexpr double kHour_MJ = 3600.0 / 1e6;
        now.sunshine_MJ_m2 +=
            has_sunshine ? series.at(k, Element::global) * kHour_MJ : weather::kUnknown;
    }
    for (auto& month : months) {
        month.mean_K /= static_cast<double>(month.hours);
    }
    return months;
}

Day monday_of(Day day) {
    const auto since = std::chrono::weekday(day) - std::chrono::Monday;
    return day - since;
}

/// The place of each hour's week, and the weeks without their figures.
std::vector<std::size_t> place_weeks(const Series& series, std::vector<WeatherWeek>& weeks) {
    std::vector<std::size_t> place(series.hours.size());
    for (std::size_t k = 0; k < place.size(); ++k) {
        const Day monday = monday_of(series.day_of(k));
        if (weeks.empty() || weeks.back().monday != monday) {
            weeks.emplace_back().monday = monday;
        }
        place[k] = weeks.size() - 1;
        ++weeks.back().hours;
    }
    return place;
}

/// The 5 % and 95 % points of draws: the mean of a rank's neighbours where it falls between.
double quantile(std::vector<double>& draws, double share) {
    const double rank = share * static_cast<double>(draws.size() - 1);
    const auto below = static_cast<std::size_t>(rank);
    const auto above = std::min(below + 1, draws.size() - 1);
    return std::lerp(draws[below], draws[above], rank - static_cast<double>(below));
}

/// Judges the hours of one draw after another.
class Judge {
 public:
    Judge(const Series& series, const WeatherQuestion& question)
        : series_(series),
          question_(question),
          sky_(weather::sky_hours(series)),
          hours_(series.hours.size()) {}

    template <class Get>
    std::span<const weather::FieldHour> with(Get&& get) {
        const auto constants = weather::lifting_constants(get);
        auto rules = question_.soil ? weather::rules_for(*question_.soil, constants)
                                    : weather::usual_rules(constants);
        rules.goes_to_pile = question_.goes_to_pile;
        rules.works_at_night = question_.works_at_night;
        const auto roots = weather::root_hours(series_, sky_, constants);
        weather::judge_hours(sky_, roots, rules, constants, hours_);
        return hours_;
    }
    [[nodiscard]] std::span<const weather::SkyHour> sky() const { return sky_; }

 private:
    const Series& series_;
    const WeatherQuestion& question_;
    std::vector<weather::SkyHour> sky_;
    std::vector<weather::FieldHour> hours_;
};

void add_ground(const Series& series, std::span<const weather::SkyHour> sky,
                const weather::SoilConstants& constants, weather::SoilClass soil,
                std::vector<WeatherWeek>& weeks) {
    const auto limits = weather::consistency_limits(weather::soil_of(soil), constants);
    std::size_t week = 0;
    for (const auto& day : weather::topsoil_days(series, sky, {.soil = soil}, constants)) {
        while (weeks[week].monday != monday_of(day.day)) {
            ++week;
        }
        auto& ground = weeks[week].ground;
        if (!ground) {
            ground.emplace();
        }
        ground->moisture = day.moisture;
        ++ground->days[static_cast<std::size_t>(weather::consistency(day.moisture, limits))];
    }
}

std::vector<std::string> assumptions_of(const Series& series, const WeatherQuestion& question) {
    std::vector<std::string> list;
    if (question.soil && series.has(Element::rain)) {
        list.emplace_back(
            "the ground is reckoned under beets sown in spring, from full where the series begins "
            "before they cover it and from half full later");
    }
    if (question.soil && !series.has(Element::rain)) {
        list.emplace_back("without rain nothing can be said about the ground");
    }
    if (!series.has(Element::rain)) {
        list.emplace_back("no rain is in this series: no hour is held for it");
    }
    if (!series.has(Element::global)) {
        list.emplace_back(series.has(Element::cloud)
                              ? "sunshine is reckoned from the clouds"
                              : "sunshine is reckoned as under clouds over half the sky");
    }
    if (!series.has(Element::dew_point) && !series.has(Element::humidity)) {
        list.emplace_back("the dew point is taken as each day's least temperature");
    }
    if (!series.has(Element::wind)) {
        list.emplace_back("the wind is taken as 2 m/s");
    }
    return list;
}

}  // namespace

WeatherAnswer ask_weather(const Series& series, const Catalogue& catalogue,
                          const WeatherQuestion& question) {
    require(!series.hours.empty() && question.draws > 1, "there are hours, and draws");
    WeatherAnswer answer;
    answer.months = months_of(series);
    answer.assumptions = assumptions_of(series, question);
    const auto place = place_weeks(series, answer.weeks);
    Judge judge(series, question);
    const auto best = judge.with([&](ConstantId id) { return catalogue.value(id); });
    for (std::size_t k = 0; k < best.size(); ++k) {
        auto& week = answer.weeks[place[k]];
        for (std::size_t h = 0; h < weather::kHolds; ++h) {
            week.held[h] += best[k].holds.has(static_cast<Held>(h)) ? 1U : 0U;
        }
    }
    if (question.soil && series.has(Element::rain)) {
        const auto constants =
            weather::soil_constants([&](ConstantId id) { return catalogue.value(id); });
        add_ground(series, judge.sky(), constants, *question.soil, answer.weeks);
    }
    std::vector<std::vector<double>> open(answer.weeks.size(),
                                          std::vector<double>(question.draws, 0.0));
    for (std::size_t draw = 0; draw < question.draws; ++draw) {
        const auto hours = judge.with(
            weather::ConstantDraw(catalogue, question.seed, "hours fit for lifting", draw));
        for (std::size_t k = 0; k < hours.size(); ++k) {
            open[place[k]][draw] += hours[k].holds.is_open() ? 1.0 : 0.0;
        }
    }
    for (std::size_t w = 0; w < open.size(); ++w) {
        auto& draws = open[w];
        std::ranges::sort(draws);
        answer.weeks[w].open = {.value = std::accumulate(draws.begin(), draws.end(), 0.0) /
                                         static_cast<double>(draws.size()),
                                .low = quantile(draws, 0.05),
                                .high = quantile(draws, 0.95)};
    }
    return answer;
}

}  // namespace beetwright::engine
