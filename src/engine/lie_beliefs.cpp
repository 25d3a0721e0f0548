#include "engine/lie_beliefs.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <utility>

#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "base/random.hpp"
#include "ground/local_plane.hpp"

namespace beetwright::engine {
namespace {

using ground::Lie;

constexpr std::size_t kStrata = 400;
/// A mean of so few crowns says more of the beets that were taken than of the place.
constexpr std::size_t kFewestCrowns = 5;
/// Soil that was felt so far apart in time was not the same soil.
constexpr std::chrono::hours kSameSoil{72};
constexpr std::size_t kFewestBlocks = 3;
/// Of a block: fewer were on its edge.
constexpr std::size_t kFewestCells = 4;

/// Numbers of one kind of ground.
struct Sample {
    std::size_t count = 0;
    double mean = 0.0;
    double squares = 0.0;  ///< of what they are off it, summed

    void add(double value) {
        ++count;
        const double off = value - mean;
        mean += off / static_cast<double>(count);
        squares += off * (value - mean);
    }
    [[nodiscard]] double freedom() const { return static_cast<double>(count) - 1.0; }
};

/// How far two means are apart, how unsure that is, and on how many degrees of freedom.
struct Apart {
    double mean = 0.0;
    double error = 0.0;
    double freedom = 0.0;
};

/// Of samples that scatter alike.
Apart apart(const Sample& one, const Sample& other) {
    const double freedom = one.freedom() + other.freedom();
    const double variance = (one.squares + other.squares) / freedom;
    return {.mean = one.mean - other.mean,
            .error = std::sqrt(variance * (1.0 / static_cast<double>(one.count) +
                                           1.0 / static_cast<double>(other.count))),
            .freedom = freedom};
}

/// Student's, without its constant.
double log_student(double value, const Apart& seen) {
    const double off = (value - seen.mean) / seen.error;
    return -0.5 * (seen.freedom + 1.0) * std::log1p(off * off / seen.freedom);
}

/// How ground lies at each cell; nothing where its height is not known.
class LieOfPlaces {
 public:
    LieOfPlaces(const ground::Surface& surface, const std::vector<ground::Patch>& patches)
        : surface_(surface), lies_(surface.grid.size(), Lie::level) {
        for (const auto& patch : patches) {
            for (const auto cell : patch.cells) {
                lies_[cell] = patch.lie;
            }
        }
    }
    [[nodiscard]] Lie of_cell(std::size_t cell) const { return lies_[cell]; }
    [[nodiscard]] std::optional<Lie> at(const check::Place& place) const {
        constexpr double kDegrees = 180.0 / std::numbers::pi;
        const auto cell = surface_.grid.cell_of(surface_.plane.to_plane(
            {kDegrees * place.latitude_rad, kDegrees * place.longitude_rad}));
        if (!cell || !std::isfinite(surface_.height_m[*cell])) {
            return std::nullopt;
        }
        return lies_[*cell];
    }

 private:
    const ground::Surface& surface_;
    std::vector<Lie> lies_;
};

/// A look at the standing crop, and how the ground lies where it was made.
struct PlacedLook {
    const check::StandingLook* look = nullptr;
    Lie lie{};
};

std::vector<PlacedLook> placed_looks(const ledger::Season& season, const std::string& field,
                                     const LieOfPlaces& lies) {
    std::map<Uuid, const check::Place*> places;
    for (const auto& place : season.places) {
        if (place.field == field) {
            places[place.of] = &place;
        }
    }
    std::vector<PlacedLook> placed;
    for (const auto& look : season.standing) {
        const auto place = places.find(look.id);
        if (look.field != field || place == places.end()) {
            continue;
        }
        if (const auto lie = lies.at(*place->second)) {
            placed.push_back({&look, *lie});
        }
    }
    return placed;
}

void hear_crowns(const std::vector<PlacedLook>& looks, LieBeliefs& beliefs) {
    std::map<Lie, Sample> means;
    for (const auto& [look, lie] : looks) {
        if (look->crowns.size() < kFewestCrowns) {
            continue;
        }
        double mean = 0.0;
        for (const Length crown : look->crowns) {
            mean += crown.si() / static_cast<double>(look->crowns.size());
        }
        means[lie].add(mean);
    }
    const auto& knolls = means[Lie::knoll];
    const auto& level = means[Lie::level];
    // Two of a kind at least say how unlike two places of one kind are.
    if (knolls.count < 1 || level.count < 1 || knolls.count + level.count < 3) {
        return;
    }
    auto seen = apart(knolls, level);
    // As many crowns in one place still differ by some millimetres from the place's mean.
    constexpr double kLeastError_m = 0.002;
    seen.error = std::max(seen.error, kLeastError_m);
    beliefs.crowns_higher_m.hear([&](double metres) { return log_student(metres, seen); });
    beliefs.seen.push_back("crowns measured at " + counted(knolls.count, "place", "places") +
                           " on knolls and " + std::to_string(level.count) + " on level ground");
}

void hear_soil(const std::vector<PlacedLook>& looks, LieBeliefs& beliefs) {
    std::size_t wetter = 0;
    std::size_t felt = 0;
    for (const auto& [look, lie] : looks) {
        if (lie != Lie::hollow || look->soil_in_hand == check::SoilInHand::not_judged) {
            continue;
        }
        // Against the nearest in time of those on level ground.
        const check::StandingLook* nearest = nullptr;
        for (const auto& [other, other_lie] : looks) {
            const auto off = std::chrono::abs(other->at - look->at);
            if (other_lie == Lie::level && other->soil_in_hand != check::SoilInHand::not_judged &&
                off <= kSameSoil &&
                (nearest == nullptr || off < std::chrono::abs(nearest->at - look->at))) {
                nearest = other;
            }
        }
        if (nearest != nullptr) {
            ++felt;
            wetter += look->soil_in_hand > nearest->soil_in_hand ? 1U : 0U;
        }
    }
    if (felt == 0) {
        return;
    }
    beliefs.wetter_chance.hear([&](double chance) {
        const double p = std::clamp(chance, 0.001, 0.999);
        return static_cast<double>(wetter) * std::log(p) +
               static_cast<double>(felt - wetter) * std::log1p(-p);
    });
    beliefs.seen.push_back("soil felt in hollows and on level ground " +
                           counted(felt, "time", "times") + ": wetter in the hollow " +
                           counted(wetter, "time", "times"));
}

/// Mean yields of squares of one kind of ground each, for neighbouring cells tell the same.
std::map<Lie, Sample> yields_of_blocks(const ground::Surface& surface, const LieOfPlaces& lies,
                                       double side_m) {
    const auto side = std::max<std::size_t>(
        1, static_cast<std::size_t>(std::lround(side_m / surface.grid.cell_m)));
    std::map<std::pair<std::size_t, Lie>, Sample> blocks;
    for (std::size_t cell = 0; cell < surface.yield_kg_m2.size(); ++cell) {
        if (std::isfinite(surface.yield_kg_m2[cell])) {
            const std::size_t block = cell / surface.grid.columns / side * surface.grid.columns +
                                      cell % surface.grid.columns / side;
            blocks[{block, lies.of_cell(cell)}].add(surface.yield_kg_m2[cell]);
        }
    }
    std::map<Lie, Sample> means;
    for (const auto& [where, yields] : blocks) {
        if (yields.count >= kFewestCells) {
            means[where.second].add(yields.mean);
        }
    }
    return means;
}

void hear_yields(const ground::Surface& surface, const LieOfPlaces& lies,
                 const Catalogue& catalogue, LieBeliefs& beliefs) {
    auto means = yields_of_blocks(surface, lies, catalogue.value(ConstantId::ground_yield_blocks));
    const auto& knolls = means[Lie::knoll];
    const auto& level = means[Lie::level];
    if (knolls.count < kFewestBlocks || level.count < kFewestBlocks || !(level.mean > 0.0) ||
        !(knolls.mean > 0.0)) {
        return;
    }
    // Of the ratio's logarithm, by how far both means may be off; and by how far yields are from
    // the mass of a beet.
    const auto relative = [](const Sample& of) {
        return of.squares / of.freedom() / (static_cast<double>(of.count) * of.mean * of.mean);
    };
    const double alike = 0.5 * (std::log(catalogue.at_score(ConstantId::ground_stand_alike, 1.0)) -
                                std::log(catalogue.at_score(ConstantId::ground_stand_alike, -1.0)));
    const Apart seen{.mean = std::log(knolls.mean / level.mean),
                     .error = std::sqrt(relative(knolls) + relative(level) + alike * alike),
                     .freedom = knolls.freedom() + level.freedom()};
    beliefs.beet_share.hear(
        [&](double share) { return log_student(std::log(std::max(share, 0.01)), seen); });
    beliefs.seen.push_back("yield by the log: on knolls " +
                           fixed_text(100.0 * knolls.mean / level.mean, 0) +
                           " % of that on level ground");
}

}  // namespace

Belief::Belief(std::function<double(double)> at_score) : assumed_(std::move(at_score)) {}

void Belief::hear(const std::function<double(double)>& log_likelihood) {
    if (weights_.empty()) {
        for (std::size_t i = 0; i < kStrata; ++i) {
            values_.push_back(assumed_(normal_quantile((static_cast<double>(i) + 0.5) / kStrata)));
        }
        weights_.assign(kStrata, 1.0 / kStrata);
    }
    std::vector<double> logs;
    for (std::size_t i = 0; i < kStrata; ++i) {
        logs.push_back(std::log(weights_[i]) + log_likelihood(values_[i]));
    }
    const double most = *std::ranges::max_element(logs);
    double sum = 0.0;
    for (std::size_t i = 0; i < kStrata; ++i) {
        weights_[i] = std::exp(logs[i] - most);
        sum += weights_[i];
    }
    for (auto& weight : weights_) {
        weight /= sum;
    }
}

double Belief::at_score(double score) const {
    if (weights_.empty()) {
        return assumed_(score);
    }
    // Half of a stratum's weight lies below its value, half above; linear in between.
    const double share = normal_cdf(score);
    double below = 0.0;
    double before = 0.0;
    for (std::size_t i = 0; i < kStrata; ++i) {
        const double here = below + 0.5 * weights_[i];
        if (here >= share) {
            if (i == 0 || here <= before) {
                return values_[i];
            }
            return values_[i - 1] +
                   (values_[i] - values_[i - 1]) * (share - before) / (here - before);
        }
        before = here;
        below += weights_[i];
    }
    return values_.back();
}

Estimate<double> Belief::estimate() const {
    return {at_score(0.0), at_score(-kIntervalZ), at_score(kIntervalZ)};
}

LieExpected LieBeliefs::expected() const {
    const auto crowns = crowns_higher_m.estimate();
    return {.crowns_higher = {Length(crowns.value), Length(crowns.low), Length(crowns.high)},
            .beet_share = beet_share.estimate(),
            .wetter_chance = wetter_chance.estimate(),
            .seen = seen};
}

LieBeliefs lie_beliefs(const ledger::Season& season, const std::string& field,
                       const ground::Surface& surface, const std::vector<ground::Patch>& patches,
                       const Catalogue& catalogue) {
    const auto assumed = [&catalogue](ConstantId id) {
        return Belief([&catalogue, id](double score) { return catalogue.at_score(id, score); });
    };
    LieBeliefs beliefs{.crowns_higher_m = assumed(ConstantId::ground_knoll_crowns),
                       .beet_share = assumed(ConstantId::ground_knoll_mass),
                       .wetter_chance = assumed(ConstantId::ground_hollow_wetter),
                       .seen = {}};
    const LieOfPlaces lies(surface, patches);
    const auto looks = placed_looks(season, field, lies);
    hear_crowns(looks, beliefs);
    hear_soil(looks, beliefs);
    hear_yields(surface, lies, catalogue, beliefs);
    return beliefs;
}

}  // namespace beetwright::engine
