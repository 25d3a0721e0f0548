// The demo season's weather and the temperatures of its beets: a smooth year, the story's dry, wet
// and cold spells, and seeded noise.
#pragma once

#include <cstdint>
#include <vector>

#include "base/time.hpp"
#include "demo_season/story.hpp"
#include "ledger/season.hpp"

namespace beetwright::demo {

struct WeatherDay {
    double mean_celsius = 0.0;  ///< of the air
    double low_celsius = 0.0;   ///< the night's lowest
    double rain_mm = 0.0;
    double soil_water = 0.0;  ///< of the topsoil's store, 0 dry to 1 full
};

class Weather {
 public:
    /// Weather of the campaign, from three weeks before its first day to two weeks after the last
    /// slicing, as the seed says.
    explicit Weather(std::uint64_t seed);

    [[nodiscard]] const WeatherDay& on(CampaignDay day) const;
    /// How dry, how wet the soil is for lifting: 0 not at all, 1 as much as it gets.
    [[nodiscard]] double dryness(CampaignDay day) const;
    [[nodiscard]] double wetness(CampaignDay day) const;
    /// The lowest night from the campaign's first day up to and with this day.
    [[nodiscard]] double coldest_night_celsius(CampaignDay until) const;

 private:
    std::vector<WeatherDay> days_;
};

/// The daily mean temperature of the beets at a destination, from its first beets (the campaign's
/// first day for a factory) to the last slicing.
std::vector<ledger::DayTemperature> beet_temperatures(const Weather& weather,
                                                      const DestinationPlan& place);

}  // namespace beetwright::demo
