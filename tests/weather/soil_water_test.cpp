#include "weather/soil_water.hpp"

#include <gtest/gtest.h>

#include <array>
#include <map>

#include "weather/daily_table.hpp"
#include "weather/soil.hpp"

namespace beetwright::weather {
namespace {

// FAO paper 56, example 36 [M]: available water of three soils under three crops.
TEST(SoilWater, Example36AvailableWater) {
    const struct {
        double field_capacity, wilting_point;
        std::array<double, 3> mm;
    } rows[] = {
        {0.15, 0.06, {36, 72, 108}}, {0.32, 0.15, {68, 136, 204}}, {0.35, 0.23, {48, 96, 144}}};
    for (const auto& row : rows) {
        EXPECT_NEAR(total_available_mm(row.field_capacity, row.wilting_point, 0.4), row.mm[0],
                    1e-9);
        EXPECT_NEAR(total_available_mm(row.field_capacity, row.wilting_point, 0.8), row.mm[1],
                    1e-9);
        EXPECT_NEAR(total_available_mm(row.field_capacity, row.wilting_point, 1.2), row.mm[2],
                    1e-9);
    }
}

// A season that USDA's pyfao56 (tests/test01, "2013 Cotton Dry", public domain) reckons: 200 days
// of cotton in Arizona, sown on day 113.
struct Cotton {
    CropCourse crop{.stage_days = {31, 52, 50, 21},
                    .basal_factors = {0.15, 1.20, 0.573},
                    .first_height_m = 0.05,
                    .most_height_m = 1.20,
                    .first_root_m = 0.6,
                    .most_root_m = 1.7,
                    .easy_share = 0.65};
    SoilBuckets soil{.field_capacity = 0.225,
                     .wilting_point = 0.10,
                     .top_layer_m = 0.1143,
                     .readily_evaporable_mm = 9.0};
    WaterState state{
        .root_depletion = 75.0, .top_depletion = 1000.0 * 0.175 * 0.1143, .wetted_share = 1.0};
    std::map<int, double> irrigation{
        {115, 33.0}, {120, 108.0}, {145, 16.2}, {146, 16.2}, {151, 16.2}, {159, 16.2}, {160, 16.2},
        {165, 16.2}, {166, 16.2},  {167, 16.2}, {172, 16.2}, {173, 16.2}, {174, 16.2}, {179, 16.2},
        {180, 16.2}, {181, 16.2},  {182, 16.2}, {186, 10.1}, {187, 10.1}, {188, 10.1}, {193, 10.1},
        {194, 10.1}, {195, 10.1},  {200, 10.1}, {201, 10.1}, {202, 10.1}, {203, 10.1}, {207, 20.3},
        {208, 10.1}, {209, 10.1},  {210, 10.1}, {214, 20.3}, {215, 20.3}, {216, 10.1}, {217, 10.1},
        {221, 10.1}, {222, 10.1},  {223, 10.1}, {228, 10.1}, {229, 10.1}, {230, 10.1}, {231, 10.1},
        {233, 4.1},  {235, 12.2},  {236, 12.2}, {237, 12.2}, {238, 12.2}, {241, 4.1},  {243, 10.1},
        {244, 10.1}, {245, 10.1}};

    WaterStep on(const std::vector<double>& row) {
        const int day = static_cast<int>(row[0]);
        const auto watered = irrigation.find(day);
        const auto step =
            water_step(crop, soil, day - 113,
                       {.reference = row[8],
                        .wind_2m_m_s = wind_at_2m(row[6], 3.0),
                        .least_humidity = 0.01 * row[5],
                        .rain = row[7],
                        .irrigation = watered == irrigation.end() ? 0.0 : watered->second,
                        .wetted_share = day < 130 ? 0.5 : 0.2},
                       state);
        state = step.after;
        return step;
    }
};

TEST(SoilWater, DaysOfASeasonAsUsdaHasThem) {
    // Day: De, Kr, Ke, E, cover, Ks, T, drainage, Dr, as printed there, three decimals.
    const std::map<int, std::array<double, 9>> printed{
        {115, {0.000, 0.000, 0.000, 0.000, 0.000, 0.000, 0.000, 0.000, 42.000}},
        {116, {7.063, 1.000, 0.610, 3.532, 0.000, 1.000, 0.868, 0.000, 46.400}},
        {118, {20.003, 0.438, 0.469, 3.109, 0.000, 0.999, 0.994, 0.000, 55.560}},
        {120, {0.000, 0.000, 0.000, 0.000, 0.000, 1.000, 1.431, 49.790, 0.000}},
        {122, {20.003, 0.939, 0.621, 5.554, 0.000, 1.000, 1.341, 0.000, 12.907}},
        {145, {0.000, 0.000, 0.000, 0.000, 0.016, 1.000, 1.406, 0.000, 25.494}},
        {146, {9.261, 1.000, 0.247, 1.852, 0.032, 1.000, 1.430, 0.000, 12.576}},
        {148, {20.003, 0.178, 0.181, 1.534, 0.061, 1.000, 1.957, 0.000, 19.321}},
        {153, {20.003, 0.939, 0.252, 2.597, 0.130, 1.000, 3.414, 0.000, 20.275}},
        {157, {20.003, 0.000, 0.000, 0.000, 0.185, 1.000, 4.005, 0.000, 34.172}}};
    constexpr double kPrinted = 1.1e-3;  // three decimals, and those before them rounded on the way
    Cotton cotton;
    std::size_t seen = 0;
    for (const auto& row : read_daily_table("maricopa_2013.csv")) {
        const auto step = cotton.on(row);
        const auto found = printed.find(static_cast<int>(row[0]));
        if (found == printed.end()) {
            continue;
        }
        ++seen;
        const auto& p = found->second;
        EXPECT_NEAR(step.after.top_depletion, p[0], kPrinted) << row[0];
        EXPECT_NEAR(step.surface_factor, p[1], kPrinted) << row[0];
        EXPECT_NEAR(step.evaporation_factor, p[2], kPrinted) << row[0];
        EXPECT_NEAR(step.evaporation, p[3], kPrinted) << row[0];
        EXPECT_NEAR(step.cover, p[4], kPrinted) << row[0];
        EXPECT_NEAR(step.stress_factor, p[5], kPrinted) << row[0];
        EXPECT_NEAR(step.transpiration, p[6], kPrinted) << row[0];
        EXPECT_NEAR(step.drainage, p[7], kPrinted) << row[0];
        EXPECT_NEAR(step.after.root_depletion, p[8], kPrinted) << row[0];
    }
    EXPECT_EQ(seen, printed.size());
}

TEST(SoilWater, TheWholeSeasonAsUsdaHasIt) {
    Cotton cotton;
    const double before = cotton.state.root_depletion;
    double full = 0.0, evaporation = 0.0, transpiration = 0.0, drainage = 0.0, fallen = 0.0;
    for (const auto& row : read_daily_table("maricopa_2013.csv")) {
        const auto step = cotton.on(row);
        full += step.full_evapotranspiration;
        evaporation += step.evaporation;
        transpiration += step.transpiration;
        drainage += step.drainage;
        fallen += row[7];
    }
    for (const auto& [day, mm] : cotton.irrigation) {
        fallen += mm;
    }
    EXPECT_NEAR(fallen, 754.4 + 49.27, 1e-9);
    EXPECT_NEAR(full, 1062.597, 0.01);
    EXPECT_NEAR(evaporation, 96.761, 0.01);
    EXPECT_NEAR(transpiration, 790.327, 0.01);
    EXPECT_NEAR(evaporation + transpiration, 887.088, 0.01);
    EXPECT_NEAR(drainage, 49.790, 0.001);
    EXPECT_NEAR(cotton.state.root_depletion, 208.208, 0.01);
    // Nothing is lost and nothing made.
    EXPECT_NEAR(before - fallen + evaporation + transpiration + drainage,
                cotton.state.root_depletion, 1e-9);
}

TEST(SoilWater, EachDayClosesWhateverComes) {
    const auto crop = sugar_beet_course();
    for (const Soil& soil : soils()) {
        const SoilBuckets buckets{soil.field_capacity, soil.wilting_point, 0.10,
                                  soil.readily_evaporable};
        WaterState state;
        for (int day = 0; day < 300; ++day) {
            const double rain = day % 11 == 0 ? 40.0 : (day % 5 == 0 ? 2.0 : 0.0);
            const auto before = state;
            const auto step =
                water_step(crop, buckets, day, {.reference = 0.5 + (day % 7), .rain = rain}, state);
            state = step.after;
            EXPECT_NEAR(before.root_depletion - rain + step.evaporation + step.transpiration +
                            step.drainage,
                        state.root_depletion, 1e-9);
            EXPECT_GE(state.root_depletion, -1e-9) << soil.name << ' ' << day;
            EXPECT_LE(state.root_depletion, step.available + step.evaporation) << soil.name << day;
            EXPECT_GE(step.evaporation, 0.0);
            EXPECT_GE(step.transpiration, 0.0);
            EXPECT_LE(state.top_depletion, buckets.total_evaporable_mm());
        }
    }
}

TEST(Soil, ClassesByTheWordsOfGrowers) {
    using enum SoilClass;
    EXPECT_EQ(soil_class_named("Heavy clay"), clay);
    EXPECT_EQ(soil_class_named("sandy loam, stony"), sandy_loam);
    EXPECT_EQ(soil_class_named("silty clay loam"), silty_clay_loam);
    EXPECT_EQ(soil_class_named("clay loam"), silty_clay_loam);
    EXPECT_EQ(soil_class_named("loamy sand"), loamy_sand);
    EXPECT_EQ(soil_class_named("loam"), loam);
    EXPECT_EQ(soil_class_named("peat"), std::nullopt);
    for (const Soil& soil : soils()) {
        EXPECT_EQ(soil_class_named(soil.name), soil.soil_class) << soil.name;
        EXPECT_EQ(&soil_of(soil.soil_class), &soil);
        EXPECT_GT(soil.field_capacity, soil.wilting_point);
        const SoilBuckets buckets{soil.field_capacity, soil.wilting_point, 0.10, 0.0};
        EXPECT_GT(buckets.total_evaporable_mm(), soil.readily_evaporable) << soil.name;
    }
}

}  // namespace
}  // namespace beetwright::weather
