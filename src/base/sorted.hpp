// Sorts lists of anything by one sort: the standard library's is compiled anew for each kind of
// item and comparison, 2 to 4 kB in every browser. For what is sorted a few times; thousands of
// numbers a millisecond are std::ranges::sort's.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

namespace beetwright {

/// Whether the one item stands before the other, by their places in a list.
struct Before {
    const void* list;
    bool (*holds)(const void* list, std::size_t a, std::size_t b);
};

/// The places of so many items in the order in which they belong; equal ones stay as they stood.
std::vector<std::uint32_t> sorted_places(std::size_t count, const Before& before);

/// Sorts a list; equal items stay as they stood.
template <class Item, class Less = std::less<>, class Projection = std::identity>
void sort_list(std::vector<Item>& list, Less less = {}, Projection projection = {}) {
    struct Look {
        const std::vector<Item>& list;
        const Less& less;
        const Projection& projection;
    };
    const Look look{list, less, projection};
    const auto holds = [](const void* at, std::size_t a, std::size_t b) {
        const auto& [items, comes_before, seen_as] = *static_cast<const Look*>(at);
        return static_cast<bool>(std::invoke(comes_before, std::invoke(seen_as, items[a]),
                                             std::invoke(seen_as, items[b])));
    };
    std::vector<Item> sorted;
    sorted.reserve(list.size());
    for (const auto place : sorted_places(list.size(), {&look, holds})) {
        sorted.push_back(std::move(list[place]));
    }
    list = std::move(sorted);
}

}  // namespace beetwright
