#include "maps/ddi.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "base/contract.hpp"
#include "base/number_text.hpp"
#include "base/unit.hpp"

namespace beetwright::maps {
namespace {

constexpr double kMilli = 1e-3;
constexpr double kMilligram_kg = 1e-6;
constexpr double kMillionth = 1e-6;
constexpr double kMillilitre_m3 = 1e-6;
constexpr double kSquareMillimetre_m2 = 1e-6;
constexpr double kCubicMillimetre_m3 = 1e-9;

// Numbers, units and steps as in the dictionary of ISO 11783-11 (export of 2019-11-04) [V].
constexpr std::array kIdentifiers{
    DataIdentifier{ddi::kSetWorkingHeight, "set working height", "mm", kMilli, "mm"},
    DataIdentifier{62, "actual working height", "mm", kMilli, "mm"},
    DataIdentifier{67, "actual working width", "mm", kMilli, "m"},
    DataIdentifier{83, "volume per area", "ml/m2", kMillilitre_m3, ""},
    DataIdentifier{ddi::kYieldPerArea, "mass per area", "mg/m2", kMilligram_kg, "t/ha"},
    DataIdentifier{86, "volume per time", "ml/s", kMillilitre_m3, ""},
    DataIdentifier{87, "mass per time", "mg/s", kMilligram_kg, ""},
    DataIdentifier{89, "total volume", "L", kMilli, ""},
    DataIdentifier{90, "total mass", "kg", 1.0, "t"},
    DataIdentifier{93, "mass lost per area", "mg/m2", kMilligram_kg, "t/ha"},
    DataIdentifier{98, "share lost", "ppm", kMillionth, "%"},
    DataIdentifier{99, "moisture", "ppm", kMillionth, "%"},
    DataIdentifier{ddi::kContamination, "contamination", "ppm", kMillionth, "%"},
    DataIdentifier{116, "total area", "m2", 1.0, "ha"},
    DataIdentifier{117, "distance at work", "mm", kMilli, "km"},
    DataIdentifier{118, "distance not at work", "mm", kMilli, "km"},
    DataIdentifier{119, "time at work", "s", 1.0, "h"},
    DataIdentifier{ddi::kWorkState, "work state", "", 1.0, ""},
    DataIdentifier{148, "fuel in total", "ml", kMillilitre_m3, ""},
    DataIdentifier{149, "fuel per time", "mm3/s", kCubicMillimetre_m3, ""},
    DataIdentifier{150, "fuel per area", "mm3/m2", kCubicMillimetre_m3, ""},
    DataIdentifier{ddi::kAreaPerTime, "area per time", "mm2/s", kSquareMillimetre_m2, "ha/h"},
    DataIdentifier{181, "dry mass per area", "mg/m2", kMilligram_kg, "t/ha"},
    DataIdentifier{182, "dry mass per time", "mg/s", kMilligram_kg, ""},
    DataIdentifier{183, "total dry mass", "kg", 1.0, "t"},
    DataIdentifier{184, "moisture that dry mass is meant at", "ppm", kMillionth, "%"},
    DataIdentifier{ddi::kAmbientTemperature, "temperature of the air", "mK", kMilli, "°C"},
    DataIdentifier{239, "yield held", "", 1.0, ""},
    DataIdentifier{240, "loading or unloading", "", 1.0, ""},
    DataIdentifier{241, "temperature of the crop", "mK", kMilli, "°C"},
    DataIdentifier{261, "mean mass per time", "mg/s", kMilligram_kg, ""},
    DataIdentifier{262, "mean moisture", "ppm", kMillionth, "%"},
    DataIdentifier{263, "mean mass per area", "mg/m2", kMilligram_kg, "t/ha"},
    DataIdentifier{ddi::kSetSpeed, "set speed", "mm/s", kMilli, "km/h"},
    DataIdentifier{ddi::kActualSpeed, "actual speed", "mm/s", kMilli, "km/h"},
};

constexpr std::array kControls{
    IdentifiedControl{harvester::ControlKind::forward_speed, ddi::kSetSpeed},
    IdentifiedControl{harvester::ControlKind::leaf_remover_height, ddi::kSetWorkingHeight},
};

}  // namespace

std::span<const DataIdentifier> data_identifiers() {
    return kIdentifiers;
}

const DataIdentifier* find_data_identifier(std::uint16_t number) {
    const auto found = std::ranges::find(kIdentifiers, number, &DataIdentifier::number);
    return found == kIdentifiers.end() ? nullptr : &*found;
}

double si_of(const DataIdentifier& of, std::int32_t steps) {
    return of.si_per_step * steps;
}

std::optional<std::int32_t> steps_of(const DataIdentifier& of, double si) {
    const double steps = std::round(si / of.si_per_step);
    if (!(steps >= std::numeric_limits<std::int32_t>::min() &&
          steps <= std::numeric_limits<std::int32_t>::max())) {
        return std::nullopt;
    }
    return static_cast<std::int32_t>(steps);
}

std::string identified_text(std::uint16_t number, std::int32_t steps) {
    const auto* of = find_data_identifier(number);
    if (of == nullptr) {
        return "DDI " + std::to_string(number) + ": " + std::to_string(steps);
    }
    const std::string words(of->words);
    if (of->people_unit.empty()) {
        const auto unit = of->unit.empty() ? "" : " " + std::string(of->unit);
        return words + " " + std::to_string(steps) + unit;
    }
    const auto unit = find_unit(of->people_unit);
    require(unit.has_value(), "an identifier is told in a unit that is known");
    constexpr int kDigits = 6;
    return words + " " + general_text(unit->from_si(si_of(*of, steps)), kDigits) + " " +
           std::string(of->people_unit);
}

std::span<const IdentifiedControl> identified_controls() {
    return kControls;
}

}  // namespace beetwright::maps
