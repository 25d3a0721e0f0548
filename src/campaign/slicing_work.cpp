#include "campaign/slicing_work.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace beetwright::campaign {
namespace {

/// Positions are sums of masses in whichever order: their rounding, with room.
constexpr double kSlack = 1e-9;
constexpr double kRounding = 1e-9;

}  // namespace

SlicingWork::SlicingWork(const SlicingQuestion& question)
    : move_money_(question.loader_move.si()),
      loader_at_(question.loader_at.value_or(question.piles.size())),
      days_(question.slicer_takes.size()) {
    before_kg_.push_back(0.0);
    for (const CleanMass takes : question.slicer_takes) {
        before_kg_.push_back(before_kg_.back() + takes.si());
    }
    const auto sliced_before = [&](Day day) {
        const auto d = (day - question.first_day).count();
        if (d > static_cast<std::ptrdiff_t>(days_)) {
            return std::numeric_limits<double>::infinity();
        }
        return d <= 0 ? 0.0 : before_kg_[static_cast<std::size_t>(d)];
    };
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        const PileToSlice& pile = question.piles[p];
        piles_.push_back({pile.taken_from, static_cast<PartIndex>(parts_.size()),
                          static_cast<PartIndex>(pile.parts.size())});
        for (const PilePart& part : pile.parts) {
            total_kg_ += part.mass.si();
            parts_.push_back(
                {.pile = static_cast<std::uint32_t>(p),
                 .mass_kg = part.mass.si(),
                 .not_before_kg = part.not_before ? sliced_before(*part.not_before) : 0.0,
                 .by_kg = part.by ? sliced_before(*part.by + std::chrono::days(1))
                                  : std::numeric_limits<double>::infinity()});
            double most = 0.0;
            double before = 0.0;
            for (std::size_t d = 0; d < days_; ++d) {
                double sum = 0.0;
                for (const auto& member : part.worth_money) {
                    sum += member[d];
                }
                const double worth = sum / static_cast<double>(part.worth_money.size());
                most = std::max(most, std::abs(worth));
                const double per_kg = worth / part.mass.si();
                pieces_.push_back({before, per_kg});
                before += per_kg * (before_kg_[d + 1] - before_kg_[d]);
            }
            rounding_money_ += kRounding * most;
        }
    }
    slack_kg_ = kSlack * total_kg_;
    const std::size_t steps = 4 * days_;
    const double end_kg = before_kg_.back();
    guide_per_kg_ = static_cast<double>(steps) / end_kg;
    for (std::size_t k = 0; k <= steps + 1; ++k) {
        // A step back, so that rounding never leads beyond the day looked for.
        const double at = (static_cast<double>(k) - 0.5) / guide_per_kg_;
        const auto above = std::ranges::upper_bound(before_kg_, std::max(0.0, at));
        const auto day = static_cast<std::size_t>(above - before_kg_.begin()) - 1;
        guide_.push_back(k == 0 ? 0U : static_cast<std::uint32_t>(std::min(day, days_ - 1)));
    }
}

std::size_t SlicingWork::moves_of(std::span<const PartIndex> order) const {
    std::size_t moves = 0;
    std::size_t at = loader_at_;
    for (const PartIndex part : order) {
        const std::size_t pile = parts_[part].pile;
        moves += at != pile && at != piles_.size() ? 1U : 0U;
        at = pile;
    }
    return moves;
}

double SlicingWork::worth_of(std::span<const PartIndex> order) const {
    double sum = 0.0;
    double at_kg = 0.0;
    for (const PartIndex part : order) {
        sum += worth(part, at_kg);
        at_kg += parts_[part].mass_kg;
    }
    return sum - move_money_ * static_cast<double>(moves_of(order));
}

bool SlicingWork::keeps_all_days(std::span<const PartIndex> order) const {
    double at_kg = 0.0;
    return std::ranges::all_of(order, [&](PartIndex part) {
        const bool keeps = keeps_its_days(part, at_kg);
        at_kg += parts_[part].mass_kg;
        return keeps;
    });
}

}  // namespace beetwright::campaign
