// Any bytes as a file of weather: the reader must end, and what it accepts is whole, hour by hour,
// and can be judged.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "engine/weather_question.hpp"
#include "io/weather_season.hpp"

using beetwright::require;
using namespace beetwright;

namespace {

/// What is read as a forecast is written so that it is read again, run by run.
void as_a_forecast(std::string_view bytes, const io::WeatherFacts& facts) {
    weather::KnownWeather known;
    if (!io::read_weather_part(io::WeatherPart::forecast, bytes, "fuzzed", facts, known)) {
        return;
    }
    constexpr std::size_t kMostWritten_h = 3000;
    std::size_t hours = 0;
    for (const auto& run : known.forecast) {
        hours += run.hours.size();
    }
    if (hours == 0 || hours > kMostWritten_h) {
        return;
    }
    const auto again = io::read_known_weather(io::write_known_weather(known, UnitSystem::us));
    require(again.ok(), "what was written is read");
    require(again->forecast.size() == known.forecast.size(), "all runs come back");
    for (std::size_t run = 0; run < known.forecast.size(); ++run) {
        require(again->forecast[run].begin == known.forecast[run].begin &&
                    again->forecast[run].hours.size() == known.forecast[run].hours.size() &&
                    again->forecast[run].filled == known.forecast[run].filled,
                "a run comes back with its hours");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const io::WeatherFacts facts{.latitude_deg = 53.0, .longitude_deg = 8.0};
    as_a_forecast(bytes, facts);
    const auto reading = io::read_weather(bytes, "fuzzed", facts);
    if (!reading) {
        require(!reading.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    const auto& series = reading->series;
    for (std::size_t e = 0; e < weather::kElements; ++e) {
        const auto element = static_cast<weather::Element>(e);
        const bool has = series.has(element);
        for (std::size_t k = 0; k < series.hours.size(); ++k) {
            require(std::isnan(series.at(k, element)) != has, "an element is whole or not there");
        }
    }
    if (!series.hours.empty()) {
        const auto answer = engine::ask_weather(series, Catalogue{},
                                                {.soil = weather::SoilClass::clay, .draws = 2});
        for (const auto& week : answer.weeks) {
            require(week.open.low <= week.open.high, "an interval is one");
            require(week.open.high <= static_cast<double>(week.hours), "no more than there are");
            require(!week.ground || (week.ground->moisture > 0.0 && week.ground->moisture < 1.0),
                    "ground holds some water, and is not all water");
        }
    }
    return 0;
}
