#include "campaign/slicing_improve.hpp"

#include <algorithm>
#include <limits>

#include "campaign/piles_left.hpp"

namespace beetwright::campaign {
namespace {

/// Of the two runs the one is at most so long, and the other at most so long: a part that goes far,
/// a few parts that go together.
constexpr std::size_t kShortRun = 6;
constexpr std::size_t kLongRun = 40;
constexpr int kMostRounds = 40;

class Improver {
 public:
    Improver(const SlicingWork& work, Sequence order) : work_(work), order_(std::move(order)) {
        place();
    }

    /// Whether anything was bettered.
    bool go_through() {
        bool bettered = false;
        const std::size_t parts = order_.size();
        for (std::size_t i = 0; i + 1 < parts; ++i) {
            for (std::size_t j = i + 1; j < parts && j - i <= kLongRun; ++j) {
                const std::size_t most = j - i <= kShortRun ? kLongRun : kShortRun;
                for (std::size_t k = j + 1; k <= parts && k - j <= most; ++k) {
                    if (gain(i, j, k) > work_.rounding_money() && change(i, j, k)) {
                        bettered = true;
                    }
                }
            }
        }
        return bettered;
    }
    [[nodiscard]] const Sequence& order() const { return order_; }

 private:
    static constexpr double kNever = -std::numeric_limits<double>::infinity();

    void place() {
        begins_kg_.resize(order_.size());
        worth_money_.resize(order_.size());
        double at_kg = 0.0;
        for (std::size_t k = 0; k < order_.size(); ++k) {
            begins_kg_[k] = at_kg;
            worth_money_[k] = work_.worth(order_[k], at_kg);
            at_kg += work_.parts()[order_[k]].mass_kg;
        }
    }

    /// What [i, j) and [j, k) gain by changing places; -infinity where a day is not kept.
    [[nodiscard]] double gain(std::size_t i, std::size_t j, std::size_t k) const {
        double sum = 0.0;
        double at_kg = begins_kg_[i];
        const auto slice = [&](std::size_t from, std::size_t to) {
            for (std::size_t n = from; n < to; ++n) {
                if (!work_.keeps_its_days(order_[n], at_kg)) {
                    return false;
                }
                sum += work_.worth(order_[n], at_kg) - worth_money_[n];
                at_kg += work_.parts()[order_[n]].mass_kg;
            }
            return true;
        };
        if (!slice(j, k) || !slice(i, j)) {
            return kNever;
        }
        return sum + saved_moves(i, j, k) * work_.move_money();
    }

    [[nodiscard]] double saved_moves(std::size_t i, std::size_t j, std::size_t k) const {
        const std::size_t none = work_.piles().size();
        const auto pile = [&](std::size_t n) -> std::size_t {
            return work_.parts()[order_[n]].pile;
        };
        const auto move = [&](std::size_t from, std::size_t to) {
            return from != to && from != none ? 1.0 : 0.0;
        };
        const std::size_t before = i == 0 ? work_.loader_at() : pile(i - 1);
        double saved = move(before, pile(i)) + move(pile(j - 1), pile(j));
        saved -= move(before, pile(j)) + move(pile(k - 1), pile(i));
        if (k < order_.size()) {
            saved += move(pile(k - 1), pile(k)) - move(pile(j - 1), pile(k));
        }
        return saved;
    }

    /// False, and nothing is changed, where the loader could not take it so.
    bool change(std::size_t i, std::size_t j, std::size_t k) {
        const auto at = [&](std::size_t n) {
            return order_.begin() + static_cast<std::ptrdiff_t>(n);
        };
        std::rotate(at(i), at(j), at(k));
        if (!can_be_taken(work_, order_)) {
            std::rotate(at(i), at(i + (k - j)), at(k));
            return false;
        }
        place();
        return true;
    }

    const SlicingWork& work_;
    Sequence order_;
    std::vector<double> begins_kg_;
    std::vector<double> worth_money_;
};

}  // namespace

Sequence improved(const SlicingWork& work, Sequence order) {
    Improver improver(work, std::move(order));
    for (int round = 0; round < kMostRounds && improver.go_through(); ++round) {
    }
    return improver.order();
}

}  // namespace beetwright::campaign
