#include "io/pile_words.hpp"

#include <fmt/format.h>

#include "io/people_units.hpp"

namespace beetwright::io {
namespace {

std::string estimate_text(const Estimate<double>& estimate) {
    const Reading reading{estimate.value, estimate.low, estimate.high, ""};
    return value_text(reading) + " (" + interval_text(reading) + ")";
}

}  // namespace

std::string learned_words(const engine::PileLearned& learned) {
    if (!learned.breathing || !learned.resistance) {
        return "";
    }
    return fmt::format(
        "By what was read, sound beets breathe {} g of sugar a tonne and day at 5 °C, where {} was "
        "thought; and the pile resists air {} times as much as usual, where {} was thought.",
        estimate_text(learned.breathing->after), estimate_text(learned.breathing->before),
        estimate_text(learned.resistance->after), estimate_text(learned.resistance->before));
}

}  // namespace beetwright::io
