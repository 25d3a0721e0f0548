#include "ledger/draws.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "ledger/work.hpp"

namespace beetwright::ledger {
namespace {

constexpr std::size_t kOrders = 64;
static_assert(Draws::kTables == kPlaces.count + kOrders);

std::vector<double> midpoint_scores(std::size_t count) {
    std::vector<double> scores(count);
    for (std::size_t i = 0; i < count; ++i) {
        scores[i] = normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(count));
    }
    return scores;
}

void shuffle(std::span<double> values, RandomStream& random) {
    for (std::size_t i = values.size(); i > 1; --i) {
        std::swap(values[i - 1], values[random.below(static_cast<std::uint32_t>(i))]);
    }
}

}  // namespace

Draws::Draws(const Catalogue& catalogue, std::uint64_t seed, std::size_t count, Steps* steps)
    : count_(count),
      seed_(seed),
      constants_(kPlaces.count * count),
      constant_scores_(kPlaces.count * count),
      has_spread_(kConstantCount, false),
      shuffled_(kOrders * 2 * count) {
    require(count >= 100, "a ledger takes at least 100 draws");
    const auto scores = midpoint_scores(count);
    for (unsigned c = 0; c < kConstantCount; ++c) {
        const auto id = static_cast<ConstantId>(c);
        const std::size_t place = kPlaces.place[c];
        if (place == PlacesOfConstants::kNotDrawn) {
            continue;
        }
        const auto& row = catalogue_rows()[c];
        const std::span own(&constant_scores_[place * count], count);
        std::ranges::copy(scores, own.begin());
        RandomStream random(seed, "constants", row.id);
        shuffle(own, random);
        const std::span values(&constants_[place * count], count);
        std::ranges::transform(own, values.begin(),
                               [&](double z) { return catalogue.at_score(id, z); });
        has_spread_[c] = *std::ranges::max_element(values) > *std::ranges::min_element(values);
        if (steps != nullptr && !steps->done(work::kTable * static_cast<double>(count))) {
            return;
        }
    }
    for (std::size_t order = 0; order < kOrders; ++order) {
        const std::span first(&shuffled_[order * 2 * count], count);
        std::ranges::copy(scores, first.begin());
        RandomStream random(seed, "orders", order);
        shuffle(first, random);
        std::ranges::copy(first, first.data() + count);
        if (steps != nullptr && !steps->done(work::kTable * static_cast<double>(count))) {
            return;
        }
    }
}

std::span<const double> Draws::scores_of(ConstantId id) const {
    const auto c = static_cast<std::size_t>(id);
    if (!has_spread_[c]) {
        return {};
    }
    return {&constant_scores_[kPlaces.place[c] * count_], count_};
}

std::span<const double> Draws::field_scores(std::uint64_t entity, unsigned amount) const {
    require(amount < kOrders, "a field has fewer than 64 counted amounts");
    const auto key = philox4x32(
        {static_cast<std::uint32_t>(entity), static_cast<std::uint32_t>(entity >> 32U), amount, 0},
        {static_cast<std::uint32_t>(seed_), static_cast<std::uint32_t>(seed_ >> 32U)});
    // The order differs between amounts of one field by construction; the window's start is random.
    const std::size_t order = (static_cast<std::size_t>(entity) + amount) % kOrders;
    const std::size_t start = key[0] % count_;
    return {&shuffled_[order * 2 * count_ + start], count_};
}

}  // namespace beetwright::ledger
