// Published targets and pass/fail schemes, as data, and what passing one proves.
// docs/methods/scheme.md.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "base/estimate.hpp"
#include "check/estimate.hpp"

namespace beetwright::check {

/// What a scheme looks at.
enum class Judged : std::uint8_t {
    long_petioles,    ///< share of beets with stalks over 2 cm
    too_deep,         ///< share of beets topped too deep
    broken_over_2cm,  ///< share of beets with the tail broken wider than 2 cm
    any_fault,        ///< share of beets an inspector would reject
};
std::string_view words(Judged judged);

/// A target: at most this share. `beets` and `most_hits` are given where the scheme says how to
/// count.
struct Scheme {
    std::string_view key;  ///< for files and programs
    std::string_view words;
    Judged judged;
    double most_share;
    int beets = 0;  ///< 0: the source does not say how many
    int most_hits = 0;
    int spots = 0;  ///< each spot of `beets` is judged on its own; 0: one sample
    std::string_view source;
};
std::span<const Scheme> schemes();

/// Chance that `beets` with at most `most_hits` pass when the true share is `share`, and beets of
/// one place are alike with this correlation (0: not at all).
double acceptance(int beets, int most_hits, double share, double correlation);

/// The same for `spots` spots of `beets` each, judged together: beets are alike within a spot, and
/// spots are independent. One spot is acceptance().
double acceptance_of_spots(int spots, int beets, int most_hits, double share, double correlation);

/// Chance that every one of a scheme's spots passes on its own, for a scheme that has spots.
double acceptance_of_all(const Scheme& scheme, double share, double correlation);

/// A scheme's own rule applied to what was counted: each spot on its own.
struct Ruling {
    int passed = 0;
    int failed = 0;
    int too_small = 0;  ///< spots with fewer beets than the scheme wants; not ruled on
    [[nodiscard]] bool passes() const { return passed > 0 && failed == 0; }
};
/// Of a spot with more beets than the scheme wants, as many hits may be found as in proportion.
Ruling rule(const Scheme& scheme, std::span<const SpotSum> spots);

enum class Verdict { met, missed, not_settled };

/// A count held against a target.
struct Judgement {
    Verdict verdict = Verdict::not_settled;  ///< met or missed with chance of error below 10 %
    double chance_met = 0.5;                 ///< that the true share is at most the target's
};
Judgement judge(std::span<const SpotSum> spots, double most_share, const Catalogue& catalogue);

/// What a limit on losses looks at.
enum class LossPart : std::uint8_t {
    whole_roots_and_pieces,
    over_topping,
    tails,
    left_in_soil,
    lost_on_surface,
    all_losses,
};
std::string_view words(LossPart part);

/// A published limit on what may stay in the field, by area or as a share of the crop.
struct LossLimit {
    std::string_view words;
    LossPart part;
    CleanMassPerArea most;    ///< NaN where the limit is a share
    double most_share = 0.0;  ///< of the crop's mass; 0 where the limit is by area
    std::string_view source;
};
std::span<const LossLimit> loss_limits();

/// A loss [kg clean beet / m2] held against a limit; `crop` is what stood there.
Judgement judge_loss(const num::Uncertain& loss, const LossLimit& limit, CleanMassPerArea crop);

}  // namespace beetwright::check
