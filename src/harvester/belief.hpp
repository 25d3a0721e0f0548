// What is known of a machine: its parameters, jointly normal, after every check so far.
//
// A check changes the predictors that it touches: Laplace's approximation about the likeliest, set
// right by weighed draws from it. What else goes along with them follows exactly, since predictors
// are sums of parameters. Levels
// forget towards what is published as parts wear, and all at once when new parts are put in. What a
// field adds to the levels is learned beside the machine's own, and told apart from it the better
// the more fields have been seen. docs/methods/harvester_learning.md.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "base/random.hpp"
#include "harvester/field_draws.hpp"
#include "harvester/likelihood.hpp"
#include "harvester/look.hpp"
#include "harvester/parameter.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

/// A normal amount.
struct Known {
    double mean = 0.0;
    double sd = 0.0;
};

/// How an update went.
struct Learned {
    /// Of draws from the approximation, weighed by what they should have been: how many of them
    /// count, as a share. Near 1 where the approximation is good.
    double effective_share = 1.0;
};

class Belief {
 public:
    explicit Belief(const Catalogue& catalogue);

    /// Time goes by: levels are forgotten by so much.
    void wait(Duration time);
    /// What follows is seen in this field. Back in one seen before, what was known of it is known.
    void enter(std::string_view field);
    /// New parts, or a repair.
    void change_parts(Stage stage);
    /// A check of the field that the machine is in.
    Learned learn(const Look& look, const Situation& situation, const SightConstants& constants);

    /// The machine's own, on a field like any other.
    [[nodiscard]] Known parameter(std::size_t place) const;
    /// What this field adds to a level, by its place among levels().
    [[nodiscard]] Known of_field(std::size_t level) const;
    /// A predictor in the field that the machine is in, without the chance of the single check.
    [[nodiscard]] Known predictor(Predictor predictor, const Situation& situation) const;

    /// Values of all parameters in this field, draw after draw, kParameters each, in the light of
    /// every check: of the last few since it last waited, changed parts or came here without
    /// taking anything for normal.
    [[nodiscard]] std::vector<double> draws(std::size_t count, std::uint64_t seed) const;

    [[nodiscard]] int checks() const { return checks_; }
    [[nodiscard]] int checks_here() const { return checks_here_; }

 private:
    static constexpr std::size_t kSize = kUnknowns;

    /// A field's additions, as they were when it was left.
    struct Left {
        std::vector<double> mean, covariance;
        int checks = 0;
    };
    Learned learn_part(const Look& look, const Situation& situation,
                       const SightConstants& constants);
    /// Predictors went from a mean and covariance before to those after; everything goes along.
    void take(std::span<const double> along, std::span<const double> precision,
              std::span<const double> mean_before, std::span<const double> before,
              std::span<const double> mean_after, std::span<const double> after);
    void forget_level(std::size_t level, double keep);
    void put_field(const Left* before);
    /// What is known now is where the coming checks start from.
    void start_afresh();
    [[nodiscard]] Left field() const;
    double& covariance(std::size_t a, std::size_t b) { return now_.covariance[a * kSize + b]; }
    [[nodiscard]] double covariance(std::size_t a, std::size_t b) const {
        return now_.covariance[a * kSize + b];
    }

    std::vector<Prior> prior_;
    std::vector<double> field_sd_, check_sd_;  ///< by level
    double forgetting_s_;
    Unknowns now_;
    /// A check since it last started afresh, and what was known before it.
    struct Recent {
        Unknowns before;
        SeenCheck check;
    };
    std::vector<Recent> recent_;
    std::map<std::size_t, std::vector<double>> scores_;  ///< of draws, by how many predictors
    std::string field_;
    std::map<std::string, Left, std::less<>> left_;
    int checks_ = 0;
    int checks_here_ = 0;
};

}  // namespace beetwright::harvester
