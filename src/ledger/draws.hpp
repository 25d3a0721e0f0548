// The draws of one ledger: every constant that it asks for and every counted amount, N times.
//
// Draws are stratified (a Latin hypercube, McKay, Beckman and Conover 1979): each quantity takes
// the N midpoints of N equal slices of chance exactly once, in an order of its own. Against plain
// random numbers this steadies every mean and quantile, and it costs nothing per draw, because a
// field's scores are a window into a shuffled table made once.
//
// Constants are drawn once for the whole season: if the published loss of a broken tail is
// too high, it is too high in every field. Counted amounts are drawn per field.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "base/catalogue.hpp"
#include "base/contract.hpp"
#include "base/progress.hpp"

namespace beetwright::ledger {

/// The place of each constant among those that the ledger draws. It does not ask the rooms of
/// weather, crop and harvester, nor a pile's physics, and what is not asked must neither cost draws
/// nor pass, by chance, for a cause of doubt.
struct PlacesOfConstants {
    static constexpr unsigned kNotDrawn = kConstantCount;
    std::array<unsigned, kConstantCount> place{};
    unsigned count = 0;

    constexpr PlacesOfConstants() {
        for (unsigned c = 0; c < kConstantCount; ++c) {
            const bool is_asked =
                !catalogue_files::weather.has(c) && !catalogue_files::crop.has(c) &&
                !catalogue_files::harvester.has(c) && !catalogue_files::pile.has(c);
            place[c] = is_asked ? count++ : kNotDrawn;
        }
    }
};
inline constexpr PlacesOfConstants kPlaces;

class Draws {
 public:
    /// Tables that are shuffled: one of each constant, and the orders of the fields' amounts.
    static constexpr std::size_t kTables = kPlaces.count + 64;
    /// Each constant's values beside their scores, and each order twice over.
    static constexpr std::size_t kBytesOfADraw = 2 * kTables * sizeof(double);

    /// N >= 100 draws of every constant that the ledger asks for, as the seed says. Once `steps`
    /// are stopped the draws are of no use.
    Draws(const Catalogue& catalogue, std::uint64_t seed, std::size_t count,
          Steps* steps = nullptr);

    [[nodiscard]] std::size_t count() const { return count_; }

    /// The N values of a constant, SI.
    [[nodiscard]] std::span<const double> of(ConstantId id) const {
        const unsigned place = kPlaces.place[static_cast<std::size_t>(id)];
        require(place != PlacesOfConstants::kNotDrawn, "the ledger draws what it asks for");
        return {&constants_[place * count_], count_};
    }
    /// The standard normal scores behind those values; empty where the constant has no spread, or
    /// is not drawn.
    [[nodiscard]] std::span<const double> scores_of(ConstantId id) const;
    /// The value of a constant in draw i, as models ask for it.
    [[nodiscard]] double at(ConstantId id, std::size_t i) const { return of(id)[i]; }

    /// N standard normal scores for one counted amount of one field. `entity` names the field,
    /// `amount` (< 64) the amount; two amounts of a field never share an order.
    [[nodiscard]] std::span<const double> field_scores(std::uint64_t entity, unsigned amount) const;

 private:
    std::size_t count_;
    std::uint64_t seed_;
    std::vector<double> constants_;        ///< constant-major
    std::vector<double> constant_scores_;  ///< constant-major
    std::vector<bool> has_spread_;
    std::vector<double> shuffled_;  ///< kOrders tables of 2N scores, each N scores twice over
};

}  // namespace beetwright::ledger
