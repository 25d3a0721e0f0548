#include "base/sorted.hpp"

#include <algorithm>
#include <numeric>

namespace beetwright {

// Merges runs twice as long each time.
std::vector<std::uint32_t> sorted_places(std::size_t count, const Before& before) {
    std::vector<std::uint32_t> places(count);
    std::iota(places.begin(), places.end(), 0U);
    std::vector<std::uint32_t> merged(count);
    for (std::size_t run = 1; run < count; run *= 2) {
        for (std::size_t begin = 0; begin < count; begin += 2 * run) {
            const auto middle = std::min(begin + run, count);
            const auto end = std::min(begin + 2 * run, count);
            std::size_t left = begin;
            std::size_t right = middle;
            for (std::size_t at = begin; at < end; ++at) {
                const bool takes_right =
                    left == middle ||
                    (right < end && before.holds(before.list, places[right], places[left]));
                merged[at] = places[takes_right ? right++ : left++];
            }
        }
        places.swap(merged);
    }
    return places;
}

}  // namespace beetwright
