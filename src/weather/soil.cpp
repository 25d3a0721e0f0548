#include "weather/soil.hpp"

#include <array>
#include <string>

#include "base/lower_case.hpp"

namespace beetwright::weather {
namespace {

using enum SoilClass;

constexpr std::array kSoils{
    Soil{sand, "sand", 0.12, 0.045, 4.5, 0.04, 0.395, 0.4},
    Soil{loamy_sand, "loamy sand", 0.15, 0.065, 6.0, 0.07, 0.41, 0.5},
    Soil{sandy_loam, "sandy loam", 0.23, 0.11, 8.0, 0.12, 0.435, 0.7},
    Soil{loam, "loam", 0.25, 0.12, 9.0, 0.18, 0.451, 1.0},
    Soil{silt_loam, "silt loam", 0.29, 0.15, 9.5, 0.18, 0.485, 1.2},
    Soil{silt, "silt", 0.32, 0.17, 9.5, 0.08, 0.485, 1.3},
    Soil{silty_clay_loam, "silty clay loam", 0.335, 0.205, 9.5, 0.33, 0.477, 1.8},
    Soil{silty_clay, "silty clay", 0.36, 0.23, 10.0, 0.45, 0.492, 2.2},
    Soil{clay, "clay", 0.36, 0.22, 10.0, 0.55, 0.482, 2.4},
};

}  // namespace

std::span<const Soil> soils() {
    return kSoils;
}

const Soil& soil_of(SoilClass soil_class) {
    return kSoils[static_cast<std::size_t>(soil_class)];
}

std::optional<SoilClass> soil_class_named(std::string_view words) {
    const std::string text = lower_case(words);
    // The longest name that occurs: "silty clay loam" before "clay".
    const Soil* best = nullptr;
    for (const Soil& soil : kSoils) {
        if (text.find(soil.name) != std::string::npos &&
            (best == nullptr || soil.name.size() > best->name.size())) {
            best = &soil;
        }
    }
    if (best == nullptr) {
        return std::nullopt;
    }
    // "Clay loam" is no class of this table: it holds water as silty clay loam does.
    if (best->soil_class == loam && text.find("clay loam") != std::string::npos) {
        return silty_clay_loam;
    }
    if (best->soil_class == clay && text.find("clay loam") != std::string::npos) {
        return silty_clay_loam;
    }
    return best->soil_class;
}

double total_available_mm(double field_capacity, double wilting_point, double root_depth_m) {
    return 1000.0 * (field_capacity - wilting_point) * root_depth_m;
}

}  // namespace beetwright::weather
