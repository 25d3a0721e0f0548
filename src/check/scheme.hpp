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

enum class Verdict { met, missed, not_settled };

/// A count held against a target.
struct Judgement {
    Verdict verdict = Verdict::not_settled;  ///< met or missed with chance of error below 10 %
    double chance_met = 0.5;                 ///< that the true share is at most the target's
};
Judgement judge(std::span<const SpotSum> spots, double most_share, const Catalogue& catalogue);

}  // namespace beetwright::check
