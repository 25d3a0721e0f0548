#include "io/weather_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "base/quantity.hpp"

namespace beetwright::io {
namespace {

using weather::Element;

std::string_view words_of(WeatherFormat format) {
    switch (format) {
        case WeatherFormat::epw: return "an EPW weather year";
        case WeatherFormat::tmy3: return "a TMY3 year";
        case WeatherFormat::table: return "a table of hours";
        case WeatherFormat::days: return "a table of days";
    }
    return "";
}

std::string_view words_of(weather::Stamp stamp) {
    switch (stamp) {
        case weather::Stamp::hour_ending: return "stamped by the end of each hour";
        case weather::Stamp::hour_beginning: return "stamped by the beginning of each hour";
        case weather::Stamp::instant: return "of instants, made into means of the hours between";
    }
    return "";
}

/// How people write a place: 53.10 N, 8.20 E.
std::string place_text(const weather::Place& place) {
    const double latitude = place.latitude_rad / weather::kDegree;
    const double longitude = place.longitude_rad / weather::kDegree;
    return fmt::format("{:.2f} {}, {:.2f} {}, {:.0f} m", std::abs(latitude),
                       latitude < 0.0 ? 'S' : 'N', std::abs(longitude), longitude < 0.0 ? 'W' : 'E',
                       place.elevation_m);
}

std::string clock_text(std::chrono::minutes clock) {
    return fmt::format("UTC{}{:02}:{:02}", clock.count() < 0 ? '-' : '+',
                       std::abs(clock.count()) / 60, std::abs(clock.count()) % 60);
}

std::string day_text(const WeatherReading& reading, Day day) {
    const auto text = to_text(day);
    return reading.is_typical_year ? text.substr(5) : text;
}

class People {
 public:
    explicit People(UnitSystem units) : is_us_(units == UnitSystem::us) {}
    [[nodiscard]] double temperature(double kelvin) const {
        const auto at = Temperature::kelvin(kelvin);
        return is_us_ ? at.in_fahrenheit() : at.in_celsius();
    }
    [[nodiscard]] const char* temperature_unit() const { return is_us_ ? "°F" : "°C"; }
    [[nodiscard]] std::string rain(double mm) const {
        if (std::isnan(mm)) {
            return "-";
        }
        constexpr double kInch_mm = 25.4;
        return is_us_ ? fmt::format("{:.2f}", mm / kInch_mm) : fmt::format("{:.0f}", mm);
    }
    [[nodiscard]] const char* rain_unit() const { return is_us_ ? "in" : "mm"; }

 private:
    bool is_us_;
};

std::string head(const WeatherReading& reading) {
    const auto& series = reading.series;
    const auto last = series.hours.size() - 1;
    std::string text = fmt::format(
        "{}: {}\n{}, {}\n{} hours, {} to {}, {}\n", series.name.empty() ? "weather" : series.name,
        words_of(reading.format), place_text(series.place), clock_text(series.clock),
        series.hours.size(), day_text(reading, series.day_of(0)),
        day_text(reading, series.day_of(last)),
        reading.format == WeatherFormat::days ? "drawn from the days" : words_of(reading.stamp));
    if (reading.is_typical_year) {
        text += "a typical year, put together from months of several\n";
    }
    std::string has;
    for (std::size_t e = 0; e < weather::kElements; ++e) {
        const auto element = static_cast<Element>(e);
        if (series.has(element)) {
            has += (has.empty() ? "" : ", ") + std::string(weather::words_of(element));
        }
    }
    text += "holds " + has + "\n";
    if (reading.format == WeatherFormat::days) {
        return text;
    }
    if (series.filled.empty()) {
        return text + "no gaps\n";
    }
    text += fmt::format(
        "{} filled, each in a gap of up to {} h:",
        series.filled.size() == 1 ? "1 hour" : fmt::format("{} hours", series.filled.size()),
        weather::kLongestFilled_h);
    constexpr std::size_t kMostTold = 8;
    for (std::size_t k = 0; k < std::min(kMostTold, series.filled.size()); ++k) {
        const auto at = to_text(series.begin_of(series.filled[k]) + series.clock);
        text += (k == 0 ? " " : ", ") + at.substr(0, 10) + " " + at.substr(11, 5);
    }
    return text + (series.filled.size() > kMostTold ? ", ...\n" : "\n");
}

/// How the ground was under beet, where it could be reckoned.
std::string ground_text(const WeatherReading& reading, const engine::WeatherAnswer& answer) {
    if (answer.weeks.empty() || !answer.weeks.front().ground) {
        return "";
    }
    std::string text = fmt::format("\n{:<12}{:>10}   days that are", "week of", "topsoil");
    for (std::size_t c = 0; c < weather::kConsistencies; ++c) {
        text += fmt::format(" {:>8}", words_of(static_cast<weather::Consistency>(c)));
    }
    text += fmt::format("\n{:<12}{:>10}\n", "", "% by vol.");
    for (const auto& week : answer.weeks) {
        text += fmt::format("{:<12}{:>10.0f}{:>16}", day_text(reading, week.monday),
                            100.0 * week.ground->moisture, "");
        for (const auto days : week.ground->days) {
            text += fmt::format(" {:>8}", days);
        }
        text += "\n";
    }
    return text;
}

}  // namespace

std::string weather_text(const WeatherReading& reading, const engine::WeatherAnswer& answer,
                         UnitSystem units) {
    const People people(units);
    std::string text = head(reading);
    text += fmt::format("\n{:<9}{:>8}{:>8}{:>8}{:>9}{:>12}\n", "month", "mean", "least", "most",
                        "rain", "sunshine");
    text += fmt::format("{:<9}{:>9}{:>9}{:>9}{:>9}{:>12}\n", "", people.temperature_unit(),
                        people.temperature_unit(), people.temperature_unit(), people.rain_unit(),
                        "MJ/m2");
    for (const auto& month : answer.months) {
        const int year = static_cast<int>(month.month.year());
        const unsigned number = static_cast<unsigned>(month.month.month());
        const auto name = reading.is_typical_year ? fmt::format("{:02}", number)
                                                  : fmt::format("{}-{:02}", year, number);
        text += fmt::format(
            "{:<9}{:>8.1f}{:>8.1f}{:>8.1f}{:>9}{:>12}\n", name, people.temperature(month.mean_K),
            people.temperature(month.least_K), people.temperature(month.most_K),
            people.rain(month.rain_mm),
            std::isnan(month.sunshine_MJ_m2) ? "-" : fmt::format("{:.0f}", month.sunshine_MJ_m2));
    }
    text += fmt::format("\n{:<12}{:>12}{:>14}   held by {:>6}{:>6}{:>6}{:>6}\n", "week of",
                        "open h", "90 % interval", "frost", "wet", "heat", "dark");
    for (const auto& week : answer.weeks) {
        text += fmt::format("{:<12}{:>5.0f} {:<6}{:>14}          {:>7}{:>6}{:>6}{:>6}\n",
                            day_text(reading, week.monday), week.open.value,
                            fmt::format("of {}", week.hours),
                            fmt::format("{:.0f} to {:.0f}", week.open.low, week.open.high),
                            week.held[0], week.held[1], week.held[2], week.held[3]);
    }
    text += ground_text(reading, answer);
    text +=
        "\nAn hour may be held by several reasons; their hours are by the constants' best "
        "values.\n";
    for (const auto& sentence : reading.notes) {
        text += "Assumed: " + sentence + ".\n";
    }
    for (const auto& sentence : answer.assumptions) {
        text += "Assumed: " + sentence + ".\n";
    }
    return text;
}

}  // namespace beetwright::io
