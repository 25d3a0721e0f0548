#include "weather/topsoil.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numeric>

#include "weather/soil_rules.hpp"

namespace beetwright::weather {
namespace {

const Catalogue kCatalogue;
const auto kBest = [](ConstantId id) { return kCatalogue.value(id); };
const SoilConstants kSoil = soil_constants(kBest);

// b of Clapp and Hornberger (1978, Water Resour. Res. 14:601-604, table 2), found from 1,446 soils
// by another way. Their classes spread about it by a third and more.
TEST(Consistency, TheRetentionCurveIsAsSteepAsPublishedOnes) {
    const struct {
        SoilClass soil;
        double power;
    } rows[] = {{SoilClass::sand, 4.05},       {SoilClass::loamy_sand, 4.38},
                {SoilClass::sandy_loam, 4.90}, {SoilClass::silt_loam, 5.30},
                {SoilClass::loam, 5.39},       {SoilClass::silty_clay_loam, 7.75},
                {SoilClass::silty_clay, 10.4}, {SoilClass::clay, 11.4}};
    for (const auto& row : rows) {
        EXPECT_NEAR(retention_power(soil_of(row.soil), kSoil), row.power, row.power / 3.0)
            << soil_of(row.soil).name;
    }
}

TEST(Consistency, SuctionGoesThroughCapacityAndWilting) {
    for (const Soil& soil : soils()) {
        EXPECT_NEAR(suction_kPa(soil, soil.field_capacity, kSoil), kSoil.capacity_suction_kPa,
                    1e-9);
        EXPECT_NEAR(suction_kPa(soil, soil.wilting_point, kSoil), 1500.0, 1e-6);
        EXPECT_LT(suction_kPa(soil, soil.saturated, kSoil), kSoil.capacity_suction_kPa);
        EXPECT_EQ(suction_kPa(soil, 0.0, kSoil),
                  suction_kPa(soil, 0.5 * soil.wilting_point, kSoil));
    }
}

// A worked example of a course in soil mechanics: 55 % of clay, plastic limit 26 % by mass.
TEST(Consistency, LimitsRiseWithClay) {
    const Soil& clay = soil_of(SoilClass::clay);
    const auto limits = consistency_limits(clay, kSoil);
    EXPECT_NEAR(limits.plastic / (clay.bulk_density() / 1000.0), 0.26, 0.01);
    for (const Soil& soil : soils()) {
        const auto own = consistency_limits(soil, kSoil);
        EXPECT_LE(own.crumbly, own.plastic);
        EXPECT_LE(own.plastic, own.sticky);
    }
}

TEST(Consistency, SandIsNeverKneadedAndClayIsNearlySoWhereItHasDrained) {
    const auto of = [](SoilClass soil_class, double moisture) {
        return consistency(moisture, consistency_limits(soil_of(soil_class), kSoil));
    };
    EXPECT_EQ(of(SoilClass::sand, 0.03), Consistency::crumbly);
    EXPECT_EQ(of(SoilClass::sand, 0.39), Consistency::crumbly);
    EXPECT_EQ(of(SoilClass::loam, 0.15), Consistency::hard);
    EXPECT_EQ(of(SoilClass::loam, soil_of(SoilClass::loam).field_capacity), Consistency::crumbly);
    EXPECT_EQ(of(SoilClass::loam, 0.30), Consistency::plastic);
    EXPECT_EQ(of(SoilClass::loam, 0.40), Consistency::sticky);
    EXPECT_EQ(of(SoilClass::silty_clay, soil_of(SoilClass::silty_clay).field_capacity),
              Consistency::plastic);
    EXPECT_EQ(of(SoilClass::clay, soil_of(SoilClass::clay).saturated), Consistency::sticky);
}

TEST(SoilRules, ALoamsAreTheUsualAndSandHoldsLittleAndDrainsFast) {
    const auto constants = lifting_constants(kBest);
    const auto usual = usual_rules(constants);
    const auto loam = rules_for(SoilClass::loam, constants);
    EXPECT_DOUBLE_EQ(loam.bucket_mm, usual.bucket_mm);
    EXPECT_DOUBLE_EQ(loam.drain_lag_h, usual.drain_lag_h);
    const auto sand = rules_for(SoilClass::sand, constants);
    const auto clay = rules_for(SoilClass::clay, constants);
    EXPECT_NEAR(sand.bucket_mm, 40.0 * 0.075 / 0.13, 1e-9);
    EXPECT_NEAR(sand.drain_lag_h, 12.0, 1e-9);
    EXPECT_NEAR(clay.drain_lag_h, 72.0, 1e-9);
    EXPECT_EQ(sand.bucket_stop, usual.bucket_stop);
}

/// A year on a clock of UTC from a date, its air a wave over the year and over the day.
Series year_from(const char* first, std::size_t days,
                 const std::function<double(std::size_t)>& rain_mm) {
    Series series;
    series.place = Place::degrees(53.0, 8.0, 10.0);
    series.begin = *parse_instant(first);
    for (std::size_t k = 0; k < 24 * days; ++k) {
        auto& hour = series.hours.emplace_back(unknown_hour());
        const std::chrono::year_month_day date(series.day_of(k));
        const auto into = series.day_of(k) - std::chrono::sys_days(date.year() / 1 / 1);
        const double season =
            -std::cos(2.0 * 3.14159265 * (static_cast<double>(into.count()) - 20.0) / 365.0);
        const double daily =
            -std::cos(2.0 * 3.14159265 * (static_cast<double>(k % 24) - 3.0) / 24.0);
        hour[static_cast<std::size_t>(Element::air)] = 283.15 + 8.0 * season + 5.0 * daily;
        hour[static_cast<std::size_t>(Element::rain)] = rain_mm(k);
    }
    return series;
}

std::vector<TopsoilDay> run(const Series& series, const TopsoilQuestion& question) {
    return topsoil_days(series, sky_hours(series), question, kSoil);
}

double no_rain(std::size_t) {
    return 0.0;
}

TEST(Topsoil, DaysFromSowing) {
    const auto north = Place::degrees(53.0, 8.0, 0.0);
    const auto south = Place::degrees(-36.0, -72.0, 0.0);
    EXPECT_EQ(days_from_sowing(*day_of(2031, 4, 1), north), 0);
    EXPECT_EQ(days_from_sowing(*day_of(2031, 10, 1), north), 183);
    EXPECT_EQ(days_from_sowing(*day_of(2032, 2, 1), north), std::nullopt);
    EXPECT_EQ(days_from_sowing(*day_of(2032, 3, 1), south), 152);
}

// What rained, less what evaporated, was drawn by roots and left downward, is what the topsoil
// gained: each day, to the last digits.
TEST(Topsoil, LosesNothing) {
    const auto series = year_from("2031-01-01T00:00Z", 365, [](std::size_t k) {
        return (k * 2654435761U) % 97 < 4 ? 2.5 : 0.0;
    });
    for (const auto soil : {SoilClass::sand, SoilClass::loam, SoilClass::clay}) {
        const auto days = run(series, {.soil = soil, .first_filling = 0.7});
        ASSERT_EQ(days.size(), 365U);
        for (std::size_t d = 1; d < days.size(); ++d) {
            const auto& day = days[d];
            const double gained = 1000.0 * kTopsoil_m * (day.moisture - days[d - 1].moisture);
            EXPECT_NEAR(
                day.rain - day.evaporation - day.topsoil_transpiration - day.leaving_topsoil,
                gained, 1e-9);
            EXPECT_GE(day.leaving_topsoil, -1e-9);
            EXPECT_LE(day.topsoil_transpiration, day.transpiration + 1e-12);
            EXPECT_LE(day.moisture, soil_of(soil).saturated);
            EXPECT_GE(day.moisture, 0.5 * soil_of(soil).wilting_point);
            EXPECT_LE(day.moisture_below, soil_of(soil).field_capacity + 1e-12);
            EXPECT_GE(day.moisture_below, soil_of(soil).wilting_point - 1e-12);
        }
    }
}

TEST(Topsoil, BeginsAsItIsTold) {
    const auto series = year_from("2031-07-20T00:00Z", 2, no_rain);
    const Soil& loam = soil_of(SoilClass::loam);
    const auto first = [&](std::optional<double> filling) {
        const auto day = run(series, {.soil = SoilClass::loam, .first_filling = filling}).front();
        return day.moisture + (day.evaporation + day.topsoil_transpiration) / (1000.0 * kTopsoil_m);
    };
    EXPECT_NEAR(first(1.0), loam.field_capacity, 1e-9);
    EXPECT_NEAR(first(0.0), loam.wilting_point, 1e-9);
    EXPECT_NEAR(first(std::nullopt), 0.5 * (loam.field_capacity + loam.wilting_point), 1e-9);
    const auto spring = run(year_from("2031-03-01T00:00Z", 2, no_rain), {}).front();
    EXPECT_NEAR(spring.moisture + (spring.evaporation + spring.topsoil_transpiration) / 250.0,
                loam.field_capacity, 1e-9);
}

// A dry summer empties a metre of loam; the first wet day of October then wets the top, not the
// ground below.
TEST(Topsoil, RainAfterADrySummerWetsTheTopFirst) {
    const auto series = year_from("2031-04-01T00:00Z", 190, [](std::size_t k) {
        return k / 24 == 184 ? 1.0 : 0.0;  // 24 mm on 2 October
    });
    const auto days = run(series, {.soil = SoilClass::loam});
    const Soil& loam = soil_of(SoilClass::loam);
    EXPECT_LT(days[183].moisture, loam.wilting_point + 0.02);
    EXPECT_LT(days[183].moisture_below, 0.5 * (loam.field_capacity + loam.wilting_point));
    EXPECT_GT(days[184].moisture, days[183].moisture + 0.08);
    EXPECT_NEAR(days[184].moisture_below, days[183].moisture_below, 0.01);
    const auto limits = consistency_limits(loam, kSoil);
    EXPECT_EQ(consistency(days[183].moisture, limits), Consistency::hard);
    EXPECT_EQ(consistency(days[184].moisture, limits), Consistency::crumbly);
}

// From full, what is above field capacity falls to 1/e in the soil's own time: 12 h in sand, 72 h
// in clay.
TEST(Topsoil, DrainsAsItsClassDoes) {
    const auto series =
        year_from("2031-11-01T00:00Z", 6, [](std::size_t k) { return k < 24 ? 10.0 : 0.0; });
    for (const auto& [soil_class, lag_h] :
         {std::pair{SoilClass::sand, 12.0}, std::pair{SoilClass::clay, 72.0}}) {
        const auto days = run(series, {.soil = soil_class});
        const double capacity = soil_of(soil_class).field_capacity;
        const auto above = [&](std::size_t d) { return days[d].moisture - capacity; };
        EXPECT_NEAR(above(0), (soil_of(soil_class).saturated - capacity) * std::exp(-24.0 / lag_h),
                    0.01);
        const double used = (days[1].evaporation + days[1].topsoil_transpiration) / 250.0;
        EXPECT_NEAR(above(1), (above(0) - used) * std::exp(-24.0 / lag_h), 1e-9);
    }
}

}  // namespace
}  // namespace beetwright::weather
