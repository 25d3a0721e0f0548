// What happened to a machine in its season, step by step, and what is known of it after them.
//
// What is known follows from the steps alone, and from nothing that comes later: so whoever has
// gone through some of them may go on from there.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/time.hpp"
#include "harvester/belief.hpp"
#include "harvester/look.hpp"
#include "harvester/situation.hpp"

namespace beetwright::engine {

/// A level that is not where it was when its parts were new, or when it was first seen.
struct Wear {
    harvester::Stage stage{};
    std::string what;  ///< "tails broken in lifting"
    Instant since{};
    double chance = 0.0;  ///< that it is worse now than then
};

enum class StepKind : std::uint8_t {
    wait,   ///< time went by
    parts,  ///< of a stage were changed
    check,  ///< something was seen of its work
};
struct MachineStep {
    StepKind kind = StepKind::check;
    Instant at{};
    Duration wait = Duration::zero();
    harvester::Stage stage{};
    std::string field;
    harvester::Look look;
    harvester::Situation situation;

    /// To the bit, where a number that is not known is like another.
    bool operator==(const MachineStep& other) const;
};

/// What steps start from. The catalogue must outlive whatever is made of it.
struct MachineStart {
    const Catalogue* catalogue;
    harvester::SightConstants sight;

    /// All its numbers: two that are alike in them start alike.
    [[nodiscard]] std::vector<double> numbers() const;
};

/// Levels when they were first seen after their parts were new, against now.
class LevelCourse {
 public:
    void look(const harvester::Belief& belief, Instant at);
    void forget(harvester::Stage stage);
    /// Where what is known is all but sure to have risen by a share of what machines differ by.
    [[nodiscard]] std::vector<Wear> wear(const Catalogue& catalogue) const;

 private:
    std::array<std::optional<std::pair<Instant, harvester::Known>>, harvester::kLevelCount> first_;
    std::array<harvester::Known, harvester::kLevelCount> last_{};
};

/// What is known after steps.
struct MachineKnown {
    harvester::Belief belief;
    LevelCourse levels{};

    explicit MachineKnown(const MachineStart& start) : belief(*start.catalogue) {}
    void take(const MachineStep& step, const MachineStart& start);
};

}  // namespace beetwright::engine
