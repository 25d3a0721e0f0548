#include "io/filled.hpp"

#include <gtest/gtest.h>

namespace beetwright::io {
namespace {

TEST(Filled, FillsHolesInTurn) {
    EXPECT_EQ(filled("<td>{}{}</td>", "12", std::string("t")), "<td>12t</td>");
    EXPECT_EQ(filled("nothing"), "nothing");
}

TEST(Filled, FillsHolesByNumberAsOftenAsTheyAreThere) {
    EXPECT_EQ(filled("{1}: {0}, {0}", "a", "b"), "b: a, a");
}

TEST(Filled, WhatIsFilledInIsNoPattern) {
    EXPECT_EQ(filled("{}-{}", "{}", "{0}"), "{}-{0}");
}

}  // namespace
}  // namespace beetwright::io
