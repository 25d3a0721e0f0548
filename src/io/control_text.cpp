#include "io/control_text.hpp"

#include <fmt/format.h>

namespace beetwright::io {

std::string control_text(const engine::ControlReading& reading, UnitSystem system) {
    std::string text = reading.text;
    const auto named = harvester::find_control_kind(reading.control);
    const auto& traits = harvester::traits(named->kind);
    if (system == UnitSystem::us && !traits.is_choice()) {
        const auto as = [&](std::string_view symbol, int decimals) {
            text = fmt::format("{:.{}f} {}", find_unit(symbol)->from_si(reading.value), decimals,
                               symbol);
        };
        switch (traits.unit_kind()) {
            case UnitKind::length: as("in", 2); break;
            case UnitKind::speed: as("mph", 1); break;
            case UnitKind::force: as("lbf", 0); break;
            default: break;
        }
    }
    if (reading.shown) {
        text += fmt::format(" (display {:g})", reading.shown->shown);
    }
    return text;
}

}  // namespace beetwright::io
