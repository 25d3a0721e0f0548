#include "maps/zone_words.hpp"

#include "base/number_text.hpp"

namespace beetwright::maps {

std::string plan_name(const ZonePlan& plan) {
    return plan.season.empty() ? plan.field : plan.field + ", " + plan.season;
}

std::string zone_name(const PlannedZone& zone) {
    return "zone " + std::to_string(zone.number) + (zone.words.empty() ? "" : ": " + zone.words);
}

std::string settings_words(const PlannedZone& zone) {
    std::string lines;
    for (const auto& [control, value, shown] : zone.settings) {
        lines += (lines.empty() ? "" : "\n") + control.words() + ": " + control.text(value);
        if (shown) {
            lines += " (display " + general_text(*shown, kDisplayDigits) + ")";
        }
    }
    return lines;
}

}  // namespace beetwright::maps
