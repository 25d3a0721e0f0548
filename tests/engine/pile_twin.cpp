#include "engine/pile_twin.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "engine/pile_bands.hpp"
#include "engine/pile_weather.hpp"

namespace beetwright::engine::twin {
namespace {

using std::chrono::days;
using std::chrono::hours;
using weather::Element;

constexpr Day kPiled = std::chrono::sys_days(std::chrono::year(2031) / 11 / 5);
constexpr double kKelvin = 273.15;
constexpr double kLogger_K = 0.3;  ///< from reading to reading
constexpr double kOffset_K = 0.4;  ///< of each logger
/// Of an hour, inland: the tails of what is drawn go beyond what is weather.
constexpr double kMostWind_m_s = 40.0;

/// Hours of an inland autumn and winter, with fronts that come and go as the seed says.
weather::Series made_up_sky(Instant begin, std::size_t count, std::uint64_t seed) {
    weather::Series series;
    series.place = weather::Place::degrees(52.0, 6.0, 20.0);
    series.begin = begin;
    RandomStream random(seed, "twin sky");
    double front = 0.0;
    double gust = 0.0;
    for (std::size_t k = 0; k < count; ++k) {
        front = 0.988 * front + 0.5 * random.normal();
        gust = 0.9 * gust + 0.5 * random.normal();
        const double year_d =
            static_cast<double>((begin + hours(k) - Instant(kPiled)) / hours(1)) / 24.0 + 308.0;
        const double of_day =
            std::sin(std::numbers::pi / 12.0 * (static_cast<double>(k % 24) - 9.0));
        const double air = 9.5 - 8.0 * std::cos(2.0 * std::numbers::pi * (year_d - 20.0) / 365.0) +
                           front + 2.5 * of_day;
        auto hour = weather::unknown_hour();
        hour[static_cast<std::size_t>(Element::air)] = kKelvin + air;
        hour[static_cast<std::size_t>(Element::humidity)] = 0.88 - 0.06 * of_day;
        hour[static_cast<std::size_t>(Element::wind)] = 4.0 * std::exp(0.5 * gust - 0.2);
        hour[static_cast<std::size_t>(Element::rain)] = random.chance(0.07) ? 0.8 : 0.0;
        hour[static_cast<std::size_t>(Element::cloud)] = 0.7;
        series.hours.push_back(hour);
    }
    return series;
}

/// The same sky as another station would have it, 0.8 K off at most times.
weather::Series with_noise(weather::Series sky, std::uint64_t seed, std::size_t run) {
    RandomStream random(seed, "twin noise", run);
    double off = 0.0;
    for (auto& hour : sky.hours) {
        off = 0.97 * off + 0.2 * random.normal();
        hour[static_cast<std::size_t>(Element::air)] += off;
        double& wind = hour[static_cast<std::size_t>(Element::wind)];
        wind = std::min(kMostWind_m_s, wind * std::exp(0.3 * random.normal()));
    }
    return sky;
}

ledger::Season bare_season(const TwinQuestion& question) {
    ledger::Season season;
    season.name = "Twin";
    season.currency = "EUR";
    season.first_day = kPiled - days(30);
    season.seed = question.seed;
    ledger::Field field;
    field.name = "Home Field";
    field.area = Area(60'000.0);
    field.destination = Twin::kPile;
    field.lifted = kPiled - days(1);
    field.sliced = kPiled + days(question.days_behind + question.days_ahead);
    season.fields.push_back(field);
    season.destinations.push_back(
        {.name = Twin::kPile, .kind = ledger::DestinationKind::pile, .temperatures = {}});
    ledger::PileSite site;
    site.name = Twin::kPile;
    site.base_width = Length(21.0);
    site.top_width = Length(12.0);
    site.height = Length(4.5);
    site.length = Length(60.0);
    season.piles.push_back(site);
    // Some metres of it, which are one part.
    for (int k = 0; k < 2; ++k) {
        ledger::Load load;
        load.field = field.name;
        load.at = Instant(kPiled) + hours(10 + k);
        load.destination = Twin::kPile;
        load.gross = MassWithSoil(60'000.0);
        season.loads.push_back(load);
    }
    return season;
}

}  // namespace

std::vector<ProbeSpot> Twin::four() {
    return {{"low", Length(-1.5), Length(1.2)},
            {"high", Length(1.0), Length(3.2)},
            {"west", Length(-6.5), Length(2.0)},
            {"east", Length(5.5), Length(2.6)}};
}

Twin::Twin(const TwinQuestion& question) : question_(question), season_(bare_season(question)) {
    const Instant begin = Instant(kPiled) - days(12);
    const Instant now = Instant(kPiled) + days(question.days_behind) + hours(12);
    const auto behind = static_cast<std::size_t>((now - begin) / hours(1));
    const auto ahead = static_cast<std::size_t>(24 * (question.days_ahead + 3));
    // The true sky, a station that is off by something else each hour, and runs of a forecast that
    // each take another way from there.
    weather::Series sky = made_up_sky(begin, behind + ahead, question.seed);
    weather::KnownWeather known;
    known.observed = with_noise(sky, question.seed, 0);
    known.observed->hours.resize(behind);
    constexpr std::size_t kRuns = 30;
    for (std::size_t run = 1; run <= kRuns; ++run) {
        weather::Series one = with_noise(sky, question.seed, run);
        one.begin = now;
        one.hours.erase(one.hours.begin(), one.hours.begin() + static_cast<std::ptrdiff_t>(behind));
        known.forecast.push_back(std::move(one));
    }
    season_.weather = std::make_shared<const weather::KnownWeather>(known);
    about_ = study(season_);
    sky_ = {.members = {}, .now = now, .known_until = now, .forecast_until = now, .notes = {}};
    const weather::Series& shape = about_->basis().outlook->members.front();
    const auto first = static_cast<std::size_t>((shape.begin - begin) / hours(1));
    sky.begin = shape.begin;
    sky.hours.erase(sky.hours.begin(), sky.hours.begin() + static_cast<std::ptrdiff_t>(first));
    sky.hours.resize(shape.hours.size());
    sky_.members = {sky};
    suns_ = suns_of(sky);

    // Scores of its own, and beets that are those of no member.
    truth_ = about_->new_members(1).front();
    RandomStream scores(question.seed, "twin scores");
    for (double& one : truth_.constants) {
        one = scores.normal();
    }
    truth_.air = scores.normal();
    for (PartScores& part : truth_.parts) {
        for (double* const one : {&part.as_piled, &part.breathing, &part.resistance}) {
            *one = scores.normal();
        }
        for (double& wave : part.waves) {
            wave = scores.normal();
        }
    }
    truth_.beets = 1 + 2 * scores.below(49);
    run();
}

void Twin::set_truth(const PileMember& truth) {
    truth_ = truth;
    run();
}

Day Twin::last_day() const {
    return about_->until();
}

std::unique_ptr<PileStudy> Twin::study(const ledger::Season& season) const {
    const Instant now = Instant(kPiled) + days(question_.days_behind) + hours(12);
    auto made = PileStudy::make(
        season, {.pile = kPile,
                 .at = now,
                 .until = kPiled + days(question_.days_behind + question_.days_ahead),
                 .members = question_.members,
                 .cell = question_.cell});
    require(made.ok(), "the twin's season stands");
    return std::move(*made);
}

void Twin::run() {
    CourseBasis basis = about_->basis();
    basis.outlook = &sky_;
    basis.suns = suns_;
    asked_.clear();
    const auto spots = four();
    for (int half = 2; half < 2 * question_.days_behind; ++half) {
        for (const ProbeSpot& spot : spots) {
            asked_.push_back({Instant(kPiled) + hours(12 * half + 8), spot.across, spot.height});
        }
    }
    const std::vector<Day> frames{about_->until()};
    const auto beets = about_->beets(0, truth_);
    auto course = part_course(basis, {.part = 0,
                                      .weather = 0,
                                      .member = &truth_,
                                      .beets = beets,
                                      .deed = {},
                                      .frames = frames,
                                      .samples = asked_});
    require(course.ok(), "the twin's pile stands");
    course_ = *std::move(course);
}

ledger::Season Twin::season(std::vector<ProbeSpot> spots) const {
    ledger::Season season = season_;
    const auto all = four();
    RandomStream errors(question_.seed, "twin loggers");
    std::vector<double> offset;
    for (std::size_t i = 0; i < all.size(); ++i) {
        offset.push_back(kOffset_K * errors.normal());
    }
    for (std::size_t k = 0; k < asked_.size(); ++k) {
        const std::size_t which = k % all.size();
        const double error = offset[which] + kLogger_K * errors.normal();
        for (const ProbeSpot& spot : spots) {
            if (std::string_view(spot.name) != all[which].name) {
                continue;
            }
            check::ProbeReading reading;
            reading.id = Uuid::version7(asked_[k].at, question_.seed, k);
            reading.pile = kPile;
            reading.at = asked_[k].at;
            reading.probe = spot.name;
            reading.kind = check::ProbeKind::logger;
            reading.along = Length(1.0);
            reading.across = spot.across;
            reading.height = spot.height;
            reading.temperature = Temperature::celsius(course_.samples[k].celsius + error);
            season.probes.push_back(reading);
        }
    }
    return season;
}

Forecast forecast(const PileStudy& study, Day day, WorkerPool& pool) {
    Steps steps(nullptr, 1.0);
    const std::vector<Day> frames{day};
    const auto courses = study.run_part(0, {}, pool, steps, frames);
    require(courses.ok(), "members stand");
    Forecast made;
    made.has_beet = part_grid(study.basis())->has_beet;
    for (std::size_t m = 0; m < study.member_count(); ++m) {
        made.members.push_back(courses->of(0, m).frames[0].celsius);
    }
    return made;
}

double median_of(std::vector<double> values) {
    std::ranges::sort(values);
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

Score score(const Forecast& forecast, const std::vector<float>& truth) {
    Score score;
    double cells = 0.0;
    for (std::size_t c = 0; c < truth.size(); ++c) {
        if (!forecast.has_beet[c]) {
            continue;
        }
        std::vector<double> values;
        for (const auto& member : forecast.members) {
            values.push_back(static_cast<double>(member[c]));
        }
        const double median = median_of(values);
        const auto band = summary_of(std::move(values));
        const double at = static_cast<double>(truth[c]);
        cells += 1.0;
        score.squares += (band.value - at) * (band.value - at);
        score.of_median += (median - at) * (median - at);
        score.within += at >= band.low && at <= band.high ? 1.0 : 0.0;
        score.width += band.high - band.low;
    }
    score.squares /= cells;
    score.of_median /= cells;
    score.within /= cells;
    score.width /= cells;
    return score;
}

}  // namespace beetwright::engine::twin
