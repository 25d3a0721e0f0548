#include "io/pile_probes_text.hpp"

#include <fmt/format.h>

#include "io/pile_words.hpp"

namespace beetwright::io {
namespace {

/// "3.0 m along, 1.5 m left, 2.0 m up"
std::string place_text(const engine::PlaceInPile& place, const PileWriter& writer) {
    const double across = place.across.si();
    constexpr double kMiddle_m = 0.05;
    const std::string side = across > kMiddle_m    ? writer.length(place.across) + " right"
                             : across < -kMiddle_m ? writer.length(-1.0 * place.across) + " left"
                                                   : std::string("in the middle");
    return writer.length(place.along) + " along, " + side + ", " + writer.length(place.height) +
           " up";
}

std::string exact_celsius(double celsius, const PileWriter& writer) {
    return writer.celsius({celsius, celsius, celsius});
}

}  // namespace

std::string probes_text(const engine::PileAnswer& answer, const PileWriter& writer) {
    std::string text;
    const auto& learned = answer.learned;
    if (!learned.probes.empty()) {
        text += "\nRead in it\n";
        Columns probes;
        probes.add({"probe", "where", "last reading", "thought before", "now"});
        for (const auto& probe : learned.probes) {
            probes.add({probe.probe + (probe.is_trusted() ? "" : " (left out)"),
                        place_text(probe.place, writer), exact_celsius(probe.celsius, writer),
                        probe.before ? writer.celsius(*probe.before) : "",
                        probe.after ? writer.celsius(*probe.after) : ""});
        }
        text += probes.text();
        for (const auto& probe : learned.probes) {
            if (!probe.why.empty()) {
                text += fmt::format("! {}: {}.\n", probe.probe, probe.why);
            }
        }
        if (learned.breathing && learned.resistance) {
            text += learned_words(learned) + "\n";
        }
    }
    if (!answer.next_probes.empty()) {
        text += "\nWhere one more reading would teach most of the sugar lost\n";
        for (const auto& next : answer.next_probes) {
            const auto half = [&](double kg) { return writer.sugar({kg, kg, kg}); };
            text +=
                fmt::format("- {}: to within {} instead of {}\n", place_text(next.place, writer),
                            half(next.half_width_after_kg), half(next.half_width_before_kg));
        }
    }
    return text;
}

}  // namespace beetwright::io
