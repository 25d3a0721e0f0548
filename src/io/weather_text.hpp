// What a file of weather holds, and the hours it leaves, for people at a terminal.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/weather_question.hpp"
#include "io/weather_file.hpp"

namespace beetwright::io {

std::string weather_text(const WeatherReading& reading, const engine::WeatherAnswer& answer,
                         UnitSystem units);

}  // namespace beetwright::io
