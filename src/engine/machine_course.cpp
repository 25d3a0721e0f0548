#include "engine/machine_course.hpp"

#include <bit>
#include <cmath>

#include "base/random.hpp"

namespace beetwright::engine {
namespace {

using harvester::Look;

/// Numbers that are read back the same to the bit.
bool same(const double& one, const double& other) {
    return std::bit_cast<std::uint64_t>(one) == std::bit_cast<std::uint64_t>(other);
}
/// Of what holds numbers and nothing else.
template <class Numbers>
bool same_numbers(const Numbers& one, const Numbers& other) {
    using Words = std::array<std::uint64_t, sizeof(Numbers) / sizeof(double)>;
    return std::bit_cast<Words>(one) == std::bit_cast<Words>(other);
}

bool same_look(const Look& one, const Look& other) {
    if (one.where != other.where || one.breaks.size() != other.breaks.size()) {
        return false;
    }
    for (std::size_t i = 0; i < one.breaks.size(); ++i) {
        if (!same_numbers(one.breaks[i], other.breaks[i])) {
            return false;
        }
    }
    return same_numbers(one.crowns, other.crowns) && same(one.skin_beets, other.skin_beets) &&
           same_numbers(one.skin_mean, other.skin_mean) && same_numbers(one.strip, other.strip) &&
           same_numbers(one.strip_whole_roots, other.strip_whole_roots) &&
           same_numbers(one.strip_tails, other.strip_tails) && same(one.tares, other.tares) &&
           same(one.tare_log_mean, other.tare_log_mean);
}

std::string words_of_level(std::size_t level) {
    const auto& parameter = harvester::parameters()[harvester::levels()[level]];
    return std::string(catalogue_rows()[static_cast<std::size_t>(parameter.constant)].words);
}

}  // namespace

bool MachineStep::operator==(const MachineStep& other) const {
    if (kind != other.kind || at != other.at) {
        return false;
    }
    switch (kind) {
        case StepKind::wait: return wait == other.wait;
        case StepKind::parts: return stage == other.stage;
        case StepKind::check:
            return field == other.field && same_look(look, other.look) &&
                   same_numbers(situation, other.situation);
    }
    return false;
}

std::vector<double> MachineStart::numbers() const {
    std::vector<double> numbers;
    for (const harvester::Parameter& parameter : harvester::parameters()) {
        const auto prior = harvester::prior(parameter, *catalogue);
        numbers.insert(numbers.end(), {prior.mean, prior.sd});
    }
    for (const ConstantId id :
         {ConstantId::harvester_forgetting, ConstantId::harvester_spread_of_fields,
          ConstantId::harvester_spread_of_checks}) {
        numbers.push_back(catalogue->value(id));
    }
    numbers.insert(numbers.end(), {sight.tare_cv, sight.skin_cv, sight.root_mass_cv,
                                   sight.lost_root_mass, sight.tail_piece, sight.misjudged});
    numbers.insert(numbers.end(), sight.loss_of_breaks.begin(), sight.loss_of_breaks.end());
    return numbers;
}

void LevelCourse::look(const harvester::Belief& belief, Instant at) {
    for (std::size_t level = 0; level < harvester::kLevelCount; ++level) {
        const auto known = belief.parameter(harvester::levels()[level]);
        if (!first_[level]) {
            first_[level] = {at, known};
        }
        last_[level] = known;
    }
}

void LevelCourse::forget(harvester::Stage stage) {
    for (std::size_t level = 0; level < harvester::kLevelCount; ++level) {
        if (harvester::parameters()[harvester::levels()[level]].level_of == stage) {
            first_[level].reset();
        }
    }
}

std::vector<Wear> LevelCourse::wear(const Catalogue& catalogue) const {
    constexpr double kSure = 0.95;
    constexpr double kShareOfSpread = 0.5;
    std::vector<Wear> found;
    for (std::size_t level = 0; level < harvester::kLevelCount; ++level) {
        if (!first_[level]) {
            continue;
        }
        const auto& parameter = harvester::parameters()[harvester::levels()[level]];
        const auto& [since, then] = *first_[level];
        const harvester::Known& now = last_[level];
        const double rise = now.mean - then.mean;
        const double chance = normal_cdf(rise / std::hypot(then.sd, now.sd));
        const double spread = harvester::prior(parameter, catalogue).sd;
        if (chance >= kSure && rise >= kShareOfSpread * spread) {
            found.push_back({*parameter.level_of, words_of_level(level), since, chance});
        }
    }
    return found;
}

void MachineKnown::take(const MachineStep& step, const MachineStart& start) {
    switch (step.kind) {
        case StepKind::wait: belief.wait(step.wait); break;
        case StepKind::parts:
            belief.change_parts(step.stage);
            levels.forget(step.stage);
            break;
        case StepKind::check:
            belief.enter(step.field);
            belief.learn(step.look, step.situation, start.sight);
            levels.look(belief, step.at);
            break;
    }
}

}  // namespace beetwright::engine
