// What is left of all piles while an order is put together, and what the loader can get at.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

class PilesLeft {
 public:
    explicit PilesLeft(const SlicingWork& work)
        : gone_((work.parts().size() + kBits - 1) / kBits, 0), ends_(work.piles().size()) {}

    [[nodiscard]] bool is_gone(PartIndex part) const {
        return (gone_[part / kBits] >> (part % kBits) & 1U) != 0;
    }
    /// A bit for each part.
    [[nodiscard]] const std::vector<std::uint64_t>& gone() const { return gone_; }

    [[nodiscard]] bool can_take(const SlicingWork& work, PartIndex part) const {
        const std::size_t p = work.parts()[part].pile;
        const WorkPile& pile = work.piles()[p];
        const bool is_first = part == pile.first + ends_[p].front;
        const bool is_last = part + ends_[p].back + 1 == pile.first + pile.parts;
        switch (pile.taken_from) {
            case TakenFrom::beginning: return is_first;
            case TakenFrom::end: return is_last;
            case TakenFrom::either_end: return (is_first || is_last) && !is_gone(part);
            case TakenFrom::anywhere: return !is_gone(part);
        }
        return false;
    }

    void take(const SlicingWork& work, PartIndex part) {
        const std::size_t p = work.parts()[part].pile;
        ends_[p] = ends_after(work, part);
        gone_[part / kBits] |= std::uint64_t{1} << (part % kBits);
    }

    /// Calls with each part that the loader can get at.
    template <class Call>
    void for_each_open(const SlicingWork& work, const Call& call) const {
        for (std::size_t p = 0; p < ends_.size(); ++p) {
            const WorkPile& pile = work.piles()[p];
            const PartIndex front = pile.first + ends_[p].front;
            const PartIndex behind = pile.first + pile.parts - ends_[p].back;  // the last, and one
            if (pile.taken_from == TakenFrom::anywhere) {
                for (PartIndex part = pile.first; part < pile.first + pile.parts; ++part) {
                    if (!is_gone(part)) {
                        call(part);
                    }
                }
                continue;
            }
            if (front == behind) {
                continue;
            }
            if (pile.taken_from != TakenFrom::end) {
                call(front);
            }
            const bool is_another = pile.taken_from == TakenFrom::end || front + 1 != behind;
            if (pile.taken_from != TakenFrom::beginning && is_another) {
                call(behind - 1);
            }
        }
    }

    // The number of what is left of a pile among its PileStates.

    [[nodiscard]] std::size_t state(const SlicingWork& work, std::size_t pile) const {
        return state_of(work.piles()[pile], ends_[pile], bits_of(work.piles()[pile]));
    }
    /// Of the part's own pile, once the part is taken as well.
    [[nodiscard]] std::size_t state_after(const SlicingWork& work, PartIndex part) const {
        const std::size_t p = work.parts()[part].pile;
        const WorkPile& pile = work.piles()[p];
        const std::size_t bits = pile.taken_from == TakenFrom::anywhere
                                     ? bits_of(pile) | std::size_t{1} << (part - pile.first)
                                     : 0;
        return state_of(pile, ends_after(work, part), bits);
    }

 private:
    static constexpr std::size_t kBits = 64;
    struct Ends {
        std::uint16_t front = 0;  ///< gone at the pile's beginning; anywhere: of all
        std::uint16_t back = 0;
    };

    [[nodiscard]] Ends ends_after(const SlicingWork& work, PartIndex part) const {
        const std::size_t p = work.parts()[part].pile;
        const WorkPile& pile = work.piles()[p];
        Ends ends = ends_[p];
        const bool at_front =
            pile.taken_from == TakenFrom::anywhere ||
            (pile.taken_from != TakenFrom::end && part == pile.first + ends.front);
        ++(at_front ? ends.front : ends.back);
        return ends;
    }
    /// Of a pile of few parts that is taken anywhere; of others nothing is asked.
    [[nodiscard]] std::size_t bits_of(const WorkPile& pile) const {
        std::size_t bits = 0;
        if (pile.taken_from == TakenFrom::anywhere && pile.parts < kBits) {
            for (PartIndex part = 0; part < pile.parts; ++part) {
                bits |= std::size_t{is_gone(pile.first + part)} << part;
            }
        }
        return bits;
    }
    static std::size_t state_of(const WorkPile& pile, Ends ends, std::size_t bits) {
        switch (pile.taken_from) {
            case TakenFrom::beginning: return ends.front;
            case TakenFrom::end: return ends.back;
            case TakenFrom::either_end: {
                const std::size_t gone = std::size_t{ends.front} + ends.back;
                return gone * (gone + 1) / 2 + (gone == pile.parts ? 0 : ends.front);
            }
            case TakenFrom::anywhere: return bits;
        }
        return 0;
    }

    std::vector<std::uint64_t> gone_;
    std::vector<Ends> ends_;  ///< of each pile
};

/// Whether the loader can take all parts in this order.
inline bool can_be_taken(const SlicingWork& work, std::span<const PartIndex> order) {
    PilesLeft left(work);
    for (const PartIndex part : order) {
        if (!left.can_take(work, part)) {
            return false;
        }
        left.take(work, part);
    }
    return true;
}

}  // namespace beetwright::campaign
