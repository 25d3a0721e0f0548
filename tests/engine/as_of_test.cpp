// What a season knew at an instant.
#include "engine/as_of.hpp"

#include <gtest/gtest.h>

namespace beetwright::engine {
namespace {

Instant at(int hour) {
    return Instant(std::chrono::hours(540'000 + hour));
}

template <class Observation>
Observation seen_at(int hour) {
    Observation one;
    one.id = Uuid::version7(at(hour), 1, 1);
    one.at = at(hour);
    return one;
}

ledger::Season season() {
    ledger::Season s;
    s.first_day = std::chrono::floor<std::chrono::days>(at(0));
    s.piles.resize(1);
    s.loads = {seen_at<ledger::Load>(1)};
    s.parts = {seen_at<check::PartChange>(2)};
    s.covers = {seen_at<check::CoverChange>(3), seen_at<check::CoverChange>(6)};
    s.probes = {seen_at<check::ProbeReading>(4), seen_at<check::ProbeReading>(7)};
    s.removals = {seen_at<check::PileRemoval>(5), seen_at<check::PileRemoval>(8)};
    s.places = {seen_at<check::Place>(1), seen_at<check::Place>(7)};
    return s;
}

TEST(AsOf, IsTheLastThingSeenOfAPileToo) {
    EXPECT_EQ(as_of(season()), at(8));
    ledger::Season nothing_seen;
    nothing_seen.first_day = season().first_day;
    EXPECT_EQ(as_of(nothing_seen), Instant(season().first_day));
}

TEST(KnownSeason, LeavesOutWhatWasSeenLater) {
    const auto known = known_season(season(), at(5));
    EXPECT_EQ(known.loads.size(), 1U);
    EXPECT_EQ(known.parts.size(), 1U);
    ASSERT_EQ(known.covers.size(), 1U);
    EXPECT_EQ(known.covers[0].at, at(3));
    ASSERT_EQ(known.probes.size(), 1U);
    EXPECT_EQ(known.probes[0].at, at(4));
    ASSERT_EQ(known.removals.size(), 1U) << "what was seen at that instant is known";
    EXPECT_EQ(known.piles.size(), 1U) << "how a pile is laid out is not an observation";
    EXPECT_EQ(as_of(known), at(5));
}

TEST(KnownSeason, CountsAddsAndFindsWhatIsNew) {
    const auto all = season();
    EXPECT_EQ(ledger::count_observations(all), 10U);
    const auto known = known_season(all, at(5));
    const auto fresh = ledger::only_new(known, all);
    EXPECT_EQ(ledger::count_observations(fresh), 4U);
    auto joined = known;
    ledger::add_observations(joined, fresh);
    EXPECT_EQ(joined.covers.size(), 2U);
    EXPECT_EQ(joined.probes.back().at, at(7));
    EXPECT_EQ(joined.removals.back().at, at(8));
    EXPECT_EQ(joined.places.back().at, at(7));
}

}  // namespace
}  // namespace beetwright::engine
