#include "base/sorted.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace beetwright {
namespace {

struct Load {
    int day;
    std::size_t ticket;
    bool operator==(const Load&) const = default;
};

TEST(Sorted, IsTheOneOrderThatIsStable) {
    // A stable sort has one right answer, which the standard library's gives as well.
    for (const std::size_t count : {0U, 1U, 2U, 3U, 7U, 64U, 100U, 1000U}) {
        std::vector<Load> loads;
        for (std::size_t i = 0; i < count; ++i) {
            loads.push_back({static_cast<int>((i * 7919 + 13) % 31), i});
        }
        auto right = loads;
        std::ranges::stable_sort(right, {}, &Load::day);
        auto sorted = loads;
        sort_list(sorted, {}, &Load::day);
        EXPECT_EQ(sorted, right) << count;
        std::ranges::stable_sort(right, std::greater<>(), &Load::day);
        sort_list(sorted, std::greater<>(), &Load::day);
        EXPECT_EQ(sorted, right) << count;
    }
}

TEST(Sorted, MovesWhatCannotBeCopiedCheaply) {
    std::vector<std::string> fields{"Long Acre", "Cuckoo Pen", "Station Piece", "Cuckoo Pen"};
    sort_list(fields);
    EXPECT_EQ(fields,
              (std::vector<std::string>{"Cuckoo Pen", "Cuckoo Pen", "Long Acre", "Station Piece"}));
}

}  // namespace
}  // namespace beetwright
