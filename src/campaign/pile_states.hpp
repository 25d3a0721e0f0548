// What is left of one pile, as a number that grows with every part taken.
//
// From one end on it is a count. From either end it is how many are gone at each: numbered by how
// many are gone in all, and once for the empty pile, which does not tell how it became so. Anywhere
// it is the set of those that are gone, a bit for each.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

class PileStates {
 public:
    /// How many there are; as a number with decimals, since there may be very many.
    static double count_of(TakenFrom taken_from, std::size_t parts) {
        const auto n = static_cast<double>(parts);
        switch (taken_from) {
            case TakenFrom::beginning:
            case TakenFrom::end: return n + 1.0;
            case TakenFrom::either_end: return 0.5 * n * (n + 1.0) + 1.0;
            case TakenFrom::anywhere: return std::exp2(n);
        }
        return 0.0;
    }

    PileStates(TakenFrom taken_from, std::size_t parts)
        : taken_from_(taken_from),
          parts_(parts),
          count_(static_cast<std::size_t>(count_of(taken_from, parts))) {
        if (taken_from == TakenFrom::either_end) {
            for (std::uint32_t gone = 0; gone < parts; ++gone) {
                for (std::uint32_t front = 0; front <= gone; ++front) {
                    ends_.push_back({front, gone - front});
                }
            }
        }
    }

    [[nodiscard]] std::size_t count() const { return count_; }
    [[nodiscard]] std::size_t empty() const { return count_ - 1; }
    [[nodiscard]] std::size_t from_either_end(std::size_t front, std::size_t back) const {
        const std::size_t gone = front + back;
        return gone == parts_ ? empty() : gone * (gone + 1) / 2 + front;
    }

    /// Calls take(part, state after it) for each part that can be got at, in the order of parts.
    template <class Take>
    void for_each_taking(std::size_t state, const Take& take) const {
        if (state == empty()) {
            return;
        }
        switch (taken_from_) {
            case TakenFrom::beginning: take(state, state + 1); break;
            case TakenFrom::end: take(parts_ - 1 - state, state + 1); break;
            case TakenFrom::either_end: {
                const auto [front, back] = ends_[state];
                take(front, from_either_end(front + 1, back));
                if (front + back + 1 < parts_) {
                    take(parts_ - 1 - back, from_either_end(front, back + 1));
                }
                break;
            }
            case TakenFrom::anywhere:
                for (std::size_t part = 0; part < parts_; ++part) {
                    const std::size_t bit = std::size_t{1} << part;
                    if ((state & bit) == 0) {
                        take(part, state | bit);
                    }
                }
                break;
        }
    }

 private:
    struct Ends {
        std::size_t front;
        std::size_t back;
    };

    TakenFrom taken_from_;
    std::size_t parts_;
    std::size_t count_;
    std::vector<Ends> ends_;
};

}  // namespace beetwright::campaign
