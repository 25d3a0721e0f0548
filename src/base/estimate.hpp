// A number with its uncertainty and its footing.
#pragma once

#include <string_view>

namespace beetwright {

/// What an estimate rests on, from firm to borrowed.
enum class RestsOn {
    measured,   ///< counted, dug, weighed or analysed in this very field
    learned,    ///< inferred from the same machine's or season's other fields
    published,  ///< published elsewhere and not yet confirmed here
};

/// The trade's words for it: "measured here", "learned here", "published".
constexpr std::string_view words(RestsOn footing) {
    switch (footing) {
        case RestsOn::measured: return "measured here";
        case RestsOn::learned: return "learned here";
        case RestsOn::published: return "published";
    }
    return "";
}

/// A value with its 90 % interval: the truth lies below `low` with chance 5 %, above `high` with 5
/// %. The value is the mean. Q is a Quantity or a double.
template <class Q>
struct Estimate {
    Q value{};
    Q low{};
    Q high{};
};

/// The confidence of every interval that Beetwright shows, and its standard normal half-width.
inline constexpr double kIntervalLevel = 0.90;
inline constexpr double kIntervalZ = 1.6448536269514722;

}  // namespace beetwright
