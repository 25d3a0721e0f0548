#include "app/attempts.hpp"

#include <gtest/gtest.h>

#include <string>

#include "app/gate.hpp"

namespace beetwright::app {
namespace {

using namespace std::chrono_literals;

constexpr Instant kStart{std::chrono::milliseconds(1'900'000'000'000)};

TEST(Attempts, TwentyFromOnePeerUnderAnyNames) {
    Attempts attempts;
    for (int i = 0; i < 20; ++i) {
        EXPECT_TRUE(attempts.begin("name " + std::to_string(i), "peer", kStart));
    }
    EXPECT_FALSE(attempts.begin("another", "peer", kStart));
    EXPECT_EQ(attempts.wait("another", "peer", kStart + 1min), 14min);
    EXPECT_TRUE(attempts.begin("another", "other peer", kStart));
    EXPECT_TRUE(attempts.begin("another", "peer", kStart + 15min));
}

TEST(Attempts, FromAllAddressesOfOneNetworkAreOfOnePeer) {
    Attempts attempts;
    for (int i = 0; i < 20; ++i) {
        const auto number = std::to_string(i);
        EXPECT_TRUE(attempts.begin(number, "2001:db8:0:1::" + number, kStart));
        EXPECT_TRUE(attempts.begin("n" + number, "::ffff:10.0.0." + number, kStart));
    }
    EXPECT_FALSE(attempts.begin("another", "2001:db8:0:1:ffff::1", kStart));
    EXPECT_TRUE(attempts.begin("another", "2001:db8:0:2::1", kStart));
    EXPECT_TRUE(attempts.begin("another", "::ffff:10.0.0.1", kStart));
}

TEST(Attempts, CountFromWhenTheyBeginUntilTheyAreTakenBack) {
    Attempts attempts;
    for (int i = 0; i < 5; ++i) {
        EXPECT_TRUE(attempts.begin("Anna", "peer", kStart));
    }
    EXPECT_FALSE(attempts.begin("Anna", "peer", kStart)) << "five are under way";
    attempts.take_back("Anna", "peer", kStart);
    EXPECT_TRUE(attempts.begin("anna", "peer", kStart));
    EXPECT_FALSE(attempts.begin("Anna", "peer", kStart + 15min - 1ms));
    EXPECT_TRUE(attempts.begin("Anna", "peer", kStart + 15min));
    attempts.take_back("never began", "nowhere", kStart);
}

TEST(Attempts, UnderMoreNamesThanAreRememberedDoNotFreeThoseOfLate) {
    Attempts attempts;
    for (int i = 0; i < 10'000; ++i) {
        attempts.begin(std::to_string(i), std::to_string(i), kStart);
    }
    for (int i = 0; i < 5; ++i) {
        attempts.begin("Anna", "peer", kStart + 1s);
    }
    for (int i = 0; i < 50; ++i) {
        attempts.begin("x" + std::to_string(i), "x" + std::to_string(i), kStart + 2s);
    }
    EXPECT_FALSE(attempts.begin("Anna", "peer", kStart + 3s));
}

TEST(Gate, LetsSoManyThroughAtOnce) {
    Gate gate(2, 1ms);
    const auto first = gate.enter();
    {
        const auto second = gate.enter();
        EXPECT_TRUE(first && second);
        EXPECT_FALSE(gate.enter());
    }
    EXPECT_TRUE(gate.enter());
}

}  // namespace
}  // namespace beetwright::app
