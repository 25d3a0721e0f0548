#include "maps/ddi.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/unit.hpp"

namespace beetwright::maps {
namespace {

TEST(DataIdentifiers, HaveStepsAsTheStandardHas) {
    // 7,000,000 mg/m2 are 70 t/ha, 65,000 ppm are 6.5 %, 283,150 mK are 10 °C [V].
    EXPECT_EQ(identified_text(ddi::kYieldPerArea, 7'000'000), "mass per area 70 t/ha");
    EXPECT_EQ(identified_text(ddi::kContamination, 65'000), "contamination 6.5 %");
    EXPECT_EQ(identified_text(ddi::kAmbientTemperature, 283'150), "temperature of the air 10 °C");
    // 1 ha/h is 10,000 m2 in 3,600 s: 2,777,778 mm2/s [V].
    EXPECT_EQ(steps_of(*find_data_identifier(ddi::kAreaPerTime), find_unit("ha/h")->to_si(1.0)),
              2'777'778);
    EXPECT_EQ(identified_text(ddi::kAreaPerTime, 2'777'778), "area per time 1 ha/h");
}

TEST(DataIdentifiers, StandInOrderEachOnceInUnitsThatAreKnown) {
    int before = -1;
    for (const auto& identifier : data_identifiers()) {
        EXPECT_GT(identifier.number, before);
        before = identifier.number;
        EXPECT_GT(identifier.si_per_step, 0.0);
        EXPECT_TRUE(identifier.people_unit.empty() || find_unit(identifier.people_unit))
            << identifier.number;
        EXPECT_EQ(find_data_identifier(identifier.number), &identifier);
    }
    EXPECT_EQ(find_data_identifier(57342), nullptr);
}

TEST(DataIdentifiers, AValueGoesThereAndBack) {
    const auto& height = *find_data_identifier(ddi::kSetWorkingHeight);
    EXPECT_EQ(steps_of(height, 0.09), 90);
    EXPECT_DOUBLE_EQ(si_of(height, 90), 0.09);
    EXPECT_EQ(steps_of(height, -0.0004), 0);
    // 5 km/h are 1388.9 mm/s.
    EXPECT_EQ(steps_of(*find_data_identifier(ddi::kSetSpeed), 5.0 / 3.6), 1389);
    EXPECT_EQ(steps_of(height, 3e6), std::nullopt);  // beyond 2,147,483 m
    EXPECT_EQ(steps_of(height, std::nan("")), std::nullopt);
}

TEST(DataIdentifiers, OneThatIsNotKnownKeepsItsNumber) {
    EXPECT_EQ(identified_text(57342, -12), "DDI 57342: -12");
    EXPECT_EQ(identified_text(ddi::kWorkState, 1), "work state 1");
    EXPECT_EQ(identified_text(87, 5), "mass per time 5 mg/s");
}

TEST(DataIdentifiers, ControlsGoOutUnderTwo) {
    ASSERT_EQ(identified_controls().size(), 2U);
    for (const auto& [kind, identifier] : identified_controls()) {
        const auto* of = find_data_identifier(identifier);
        ASSERT_NE(of, nullptr);
        // Both sides are in SI: what the control is set in is what the identifier measures.
        EXPECT_EQ(find_unit(of->people_unit)->kind, harvester::traits(kind).unit_kind());
    }
}

}  // namespace
}  // namespace beetwright::maps
