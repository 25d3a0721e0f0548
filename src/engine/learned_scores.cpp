#include "engine/learned_scores.hpp"

#include <array>
#include <cmath>
#include <tuple>

namespace beetwright::engine {
namespace {

constexpr std::array kLearned{ConstantId::storage_basal_rate,
                              ConstantId::storage_q10,
                              ConstantId::storage_healing_time,
                              ConstantId::storage_healing_extra,
                              ConstantId::storage_leaf_extra,
                              ConstantId::storage_soil_extra,
                              ConstantId::storage_rot_onset,
                              ConstantId::storage_rot_sound,
                              ConstantId::storage_rot_wound,
                              ConstantId::pile_bulk_density,
                              ConstantId::pile_root_density,
                              ConstantId::pile_root_diameter,
                              ConstantId::pile_soil_density,
                              ConstantId::pile_leaf_density,
                              ConstantId::pile_heat_capacity,
                              ConstantId::pile_still_conductivity,
                              ConstantId::pile_pore_radiation,
                              ConstantId::pile_ground_conductivity,
                              ConstantId::pile_ground_capacity,
                              ConstantId::pile_skin_transfer,
                              ConstantId::pile_wound_transpiration,
                              ConstantId::pile_film,
                              ConstantId::pile_absorptance,
                              ConstantId::pile_emissivity,
                              ConstantId::pile_face_convection,
                              ConstantId::pile_face_convection_wind,
                              ConstantId::pile_wind_share,
                              ConstantId::pile_wind_windward,
                              ConstantId::pile_wind_lee,
                              ConstantId::pile_wind_top,
                              ConstantId::pile_oxygen_half,
                              ConstantId::pile_fleece_resistance,
                              ConstantId::pile_fleece_air,
                              ConstantId::pile_straw_conductivity,
                              ConstantId::pile_straw_air,
                              ConstantId::pile_plastic_air,
                              ConstantId::pile_sheet_absorptance};

/// Of PartScores, before what is moved of its beets.
constexpr std::size_t kScoresOfPart = 3 + std::tuple_size_v<decltype(PartScores::waves)>;

/// Where a member's scores are that readings in these parts may move.
std::vector<double*> scores_of(PileMember& member, const std::set<std::size_t>& parts) {
    std::vector<double*> scores;
    for (const ConstantId id : kLearned) {
        scores.push_back(&member.constants[static_cast<std::size_t>(id)]);
    }
    scores.push_back(&member.air);
    for (const std::size_t p : parts) {
        PartScores& part = member.parts[p];
        scores.insert(scores.end(), {&part.as_piled, &part.breathing, &part.resistance});
        for (double& wave : part.waves) {
            scores.push_back(&wave);
        }
        for (double& trait : part.moved) {
            scores.push_back(&trait);
        }
    }
    return scores;
}

/// What stands beneath each of scores_of(): nought, but for beets' traits, which were drawn and are
/// moved from there.
std::vector<double> drawn_of(const PileStudy& study, PileMember member,
                             const std::set<std::size_t>& parts) {
    for (PartScores& part : member.parts) {
        part.moved = {};
    }
    std::vector<double> drawn(kLearned.size() + 1, 0.0);
    for (const std::size_t p : parts) {
        auto layers = study.beets(p, member);
        std::array<double, 5> sums{};
        for (LayerBeet& layer : layers) {
            const auto traits = traits_of(layer.condition);
            for (std::size_t t = 0; t < sums.size(); ++t) {
                sums[t] += *traits[t] / static_cast<double>(layers.size());
            }
        }
        drawn.insert(drawn.end(), kScoresOfPart, 0.0);
        for (const double sum : sums) {
            constexpr double kTrace = 1e-4;  // a load without leaf has a logarithm, too
            drawn.push_back(std::log(sum + kTrace));
        }
    }
    return drawn;
}

}  // namespace

LearnedScores::LearnedScores(const PileStudy& study, std::span<PileMember> members,
                             const std::set<std::size_t>& parts)
    : members_(members.size()) {
    for (std::size_t m = 0; m < members_; ++m) {
        const auto where = scores_of(members[m], parts);
        const auto drawn = drawn_of(study, members[m], parts);
        where_.resize(where.size() * members_);
        drawn_.resize(where_.size());
        values_.resize(where_.size());
        for (std::size_t i = 0; i < where.size(); ++i) {
            where_[i * members_ + m] = where[i];
            drawn_[i * members_ + m] = drawn[i];
            values_[i * members_ + m] = *where[i] + drawn[i];
        }
    }
}

void LearnedScores::put_back() const {
    for (std::size_t i = 0; i < values_.size(); ++i) {
        *where_[i] = values_[i] - drawn_[i];
    }
}

}  // namespace beetwright::engine
