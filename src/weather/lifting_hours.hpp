// Hours fit for lifting: each one open, or held and why.
//
// What the weather does is the same for all fields under it and is worked out once: sky_hours()
// whatever the constants are, root_hours() for each draw of them. What is left per field is its
// topsoil's bucket and its rules.
// docs/methods/lifting_hours.md.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "base/catalogue.hpp"
#include "weather/series.hpp"
#include "weather/sun.hpp"

namespace beetwright::weather {

/// The constants of one draw, in the units of the names.
struct LiftingConstants {
    double rain_stop_mm = 0.0;
    double bucket_mm = 0.0;
    double bucket_stop = 0.0;
    double drained = 0.0;
    double drain_lag_h = 0.0;
    double crown_air_share = 0.0;
    double crown_lag_h = 0.0;
    double frost_stop_K = 0.0;
    double thaw_wait_h_per_K = 0.0;
    double ground_lag_h = 0.0;
    double ground_daily_share = 0.0;
    double sun_heating_K_per_h = 0.0;
    double topped_ahead_h = 0.0;
    double haul_share = 0.0;
    double intake_limit_K = 0.0;
    double root_frost_K = 0.0;
    double useful_day_h = 0.0;
};

template <class Get>
LiftingConstants lifting_constants(Get&& get) {
    using enum ConstantId;
    constexpr double kHour_s = 3600.0;
    return {.rain_stop_mm = 1000.0 * get(lifting_rain_stop),
            .bucket_mm = 1000.0 * get(lifting_bucket),
            .bucket_stop = get(lifting_bucket_stop),
            .drained = get(lifting_drained),
            .drain_lag_h = get(lifting_drain_lag) / kHour_s,
            .crown_air_share = get(lifting_crown_air_share),
            .crown_lag_h = get(lifting_crown_lag) / kHour_s,
            .frost_stop_K = get(lifting_frost_stop),
            .thaw_wait_h_per_K = get(lifting_thaw_wait) / kHour_s,
            .ground_lag_h = get(lifting_ground_lag) / kHour_s,
            .ground_daily_share = get(lifting_ground_daily_share),
            .sun_heating_K_per_h = get(lifting_sun_heating),
            .topped_ahead_h = get(lifting_topped_ahead) / kHour_s,
            .haul_share = get(lifting_haul_share),
            .intake_limit_K = get(lifting_intake_limit),
            .root_frost_K = get(lifting_root_frost),
            .useful_day_h = get(lifting_useful_day) / kHour_s};
}

/// Why an hour is not open. Several may hold it at once.
enum class Held : std::uint8_t { frost, wet, heat, dark };
inline constexpr std::size_t kHolds = 4;

/// The reasons that hold an hour, as a set.
class Holds {
 public:
    constexpr void add(Held held) { bits_ |= bit(held); }
    [[nodiscard]] constexpr bool has(Held held) const { return (bits_ & bit(held)) != 0; }
    [[nodiscard]] constexpr bool is_open() const { return bits_ == 0; }
    friend constexpr bool operator==(Holds, Holds) = default;

 private:
    static constexpr std::uint8_t bit(Held held) {
        return static_cast<std::uint8_t>(1U << static_cast<unsigned>(held));
    }
    std::uint8_t bits_ = 0;
};

/// What an hour of weather is to every field, whatever the constants.
struct SkyHour {
    double sunshine_W_m2 = 0.0;
    double rain_mm = 0.0;
    double rain_of_day_mm = 0.0;  ///< within the 24 hours up to its end
    double evaporation_mm = 0.0;  ///< of the reference
    bool is_dark = false;
};

/// What stands in for what a series lacks.
inline constexpr double kUsualWind_m_s = 2.0;  ///< at 2 m
inline constexpr double kUsualCloud = 0.5;     ///< share of the sky

/// A series has air at every hour; what else it lacks has a stand-in: no rain, clouds over half the
/// sky, a wind of 2 m/s, a dew point at the day's least temperature.
std::vector<SkyHour> sky_hours(const Series& series);
/// Where the sun stands in the middle of each hour: the same for all series of one place and time,
/// which then share it.
std::vector<SunPosition> sun_hours(const Series& series);
std::vector<SkyHour> sky_hours(const Series& series, std::span<const SunPosition> suns);

/// What an hour does to crowns and roots.
struct RootHour {
    double crown_K = 0.0;   ///< in the ground, under its leaves
    double root_K = 0.0;    ///< in the ground, under its leaves
    double intake_K = 0.0;  ///< topped, lifted, hauled
    bool is_frosted = false;
};

/// One for each hour of the series, whose sky hours these are.
std::vector<RootHour> root_hours(const Series& series, std::span<const SkyHour> sky,
                                 const LiftingConstants& constants);

/// A field's rules.
struct FieldRules {
    double rain_stop_mm = 3.0;   ///< within a day, from which it is held
    double bucket_mm = 40.0;     ///< what its topsoil holds
    double bucket_stop = 0.9;    ///< filling from which it is held
    double drained = 0.82;       ///< filling to which it drains by itself
    double drain_lag_h = 30.0;   ///< in which what is above falls to 1/e
    double first_filling = 0.5;  ///< at the first hour
    double crop_factor = 0.9;    ///< evapotranspiration over the reference's
    bool goes_to_pile = true;    ///< straight to the slicer, warmth holds nothing
    bool works_at_night = true;
};

FieldRules usual_rules(const LiftingConstants& constants);

struct FieldHour {
    Holds holds;
    float filling = 0.0F;  ///< of the topsoil at the hour's end, 0 to 1
};

/// Writes an hour for each of the series' into `hours`. All three are as long.
void judge_hours(std::span<const SkyHour> sky, std::span<const RootHour> roots,
                 const FieldRules& rules, const LiftingConstants& constants,
                 std::span<FieldHour> hours);

}  // namespace beetwright::weather
