#include "base/nearest_name.hpp"

#include <gtest/gtest.h>

namespace beetwright {
namespace {

const std::set<std::string> kFields{"Long Acre", "Mill Field", "Upper Sallow", "Lower Sallow"};

TEST(NearestName, ForgivesOneSlipInThreeLetters) {
    EXPECT_EQ(nearest_name("Long Acker", kFields), "Long Acre");      // k typed, r and e swapped
    EXPECT_EQ(nearest_name("long acre", kFields), "Long Acre");       // no capitals
    EXPECT_EQ(nearest_name("Mil Feild", kFields), "Mill Field");      // one left out, two swapped
    EXPECT_EQ(nearest_name("Lowr Sallow", kFields), "Lower Sallow");  // not its neighbour
    EXPECT_EQ(nearest_name("A", {"B"}), "B");                         // short names: one slip
}

TEST(NearestName, SaysNothingWhereNothingIsNear) {
    EXPECT_EQ(nearest_name("Nowhere", kFields), "");
    EXPECT_EQ(nearest_name("Nowhere", {}), "");
    EXPECT_EQ(nearest_name(std::string(100'000, 'x'), kFields), "");
    EXPECT_EQ(did_you_mean("Nowhere", kFields), "");
    EXPECT_EQ(did_you_mean("Mill Fiedl", kFields), "did you mean \"Mill Field\"? ");
}

}  // namespace
}  // namespace beetwright
