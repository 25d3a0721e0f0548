// The weather of a season in its file: a row for each series, and one for each of its hours.
#pragma once

#include <memory>

#include "base/result.hpp"
#include "io/weather_season.hpp"
#include "records/sqlite.hpp"
#include "weather/known.hpp"

namespace beetwright::records {

/// Puts the parts that are known in the place of those in the file; the others stay. Within a
/// transaction that the caller commits, as the next.
Result<Done> store_weather(const Database& database, const weather::KnownWeather& weather);
/// Takes a part out. False: there was none.
Result<bool> drop_weather(const Database& database, io::WeatherPart part);

/// Null where there is none.
Result<std::shared_ptr<const weather::KnownWeather>> load_weather(const Database& database);

}  // namespace beetwright::records
