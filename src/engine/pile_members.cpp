#include "engine/pile_members.hpp"

#include <cmath>
#include <numeric>
#include <utility>

#include "base/random.hpp"

namespace beetwright::engine {
namespace {

/// Scores at the middles of equal slices of chance, shuffled as the stream says.
std::vector<double> sliced_scores(RandomStream& random, std::size_t count) {
    std::vector<double> scores;
    scores.reserve(count);
    for (std::size_t i = 0; i < count; ++i) {
        scores.push_back(
            normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(count)));
    }
    for (std::size_t left = count; left > 1; --left) {
        std::swap(scores[left - 1], scores[random.below(static_cast<std::uint32_t>(left))]);
    }
    return scores;
}

}  // namespace

pile::PileConstants PileMember::constants_of(const Catalogue& catalogue, std::size_t part) const {
    auto made = pile::pile_constants([&](ConstantId id) {
        return catalogue.at_score(id, constants[static_cast<std::size_t>(id)]);
    });
    const PartScores& own = parts[part];
    using enum ConstantId;
    made.lump.basal_at_5C *= std::exp(catalogue.value(pile_part_breathing) * own.breathing);
    // A bed's resistance goes with the square of its spheres' diameter.
    made.root_diameter *= std::exp(-0.5 * catalogue.value(pile_part_resistance) * own.resistance);
    return made;
}

pile::BreathingWaves PileMember::waves_of(const Catalogue& catalogue, std::size_t part) const {
    const double spread = catalogue.value(ConstantId::pile_local_breathing);
    const auto& scores = parts[part].waves;
    return {.across = spread * scores[0],
            .up = spread * scores[1],
            .both = spread * scores[2],
            .middle = spread * scores[3]};
}

std::vector<PileMember> pile_members(std::uint64_t seed, std::size_t members, std::size_t parts) {
    std::vector<PileMember> made(members);
    for (PileMember& one : made) {
        one.parts.resize(parts);
    }
    for (std::size_t id = 0; id < kConstantCount; ++id) {
        // By its name, not by its place in the catalogue: a row that is added changes no other
        // draw.
        RandomStream random(seed, "constants of a pile", catalogue_rows()[id].id);
        const auto scores = sliced_scores(random, members);
        for (std::size_t m = 0; m < members; ++m) {
            made[m].constants[id] = scores[m];
        }
    }
    RandomStream of_air(seed, "air at a pile");
    const auto air = sliced_scores(of_air, members);
    for (std::size_t m = 0; m < members; ++m) {
        made[m].air = air[m];
    }
    for (std::size_t p = 0; p < parts; ++p) {
        RandomStream random(seed, "parts of a pile", p);
        for (double PartScores::*const which :
             {&PartScores::as_piled, &PartScores::breathing, &PartScores::resistance}) {
            const auto scores = sliced_scores(random, members);
            for (std::size_t m = 0; m < members; ++m) {
                made[m].parts[p].*which = scores[m];
            }
        }
        for (std::size_t wave = 0; wave < made.front().parts[p].waves.size(); ++wave) {
            const auto scores = sliced_scores(random, members);
            for (std::size_t m = 0; m < members; ++m) {
                made[m].parts[p].waves[wave] = scores[m];
            }
        }
    }
    return made;
}

}  // namespace beetwright::engine
