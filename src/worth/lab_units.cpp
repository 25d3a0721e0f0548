#include "worth/lab_units.hpp"

#include <array>

namespace beetwright::worth {
namespace {

constexpr std::array<LabUnitRow, kLabUnits> kRows{{
    {LabUnit::mmol_per_100g, "mmol/100 g"},
    {LabUnit::mmol_per_kg, "mmol/kg"},
    {LabUnit::meq_per_100g, "meq/100 g"},
    {LabUnit::mg_per_kg, "mg/kg"},
    {LabUnit::mg_per_100g_sugar, "mg/100 g sugar"},
}};

/// What a reading of 1 stands for.
AmountContent one(Element element, LabUnit unit, SugarContent pol) {
    constexpr double kg_per_mg = 1e-6;
    constexpr double per_100g = 10.0;  // to per kg
    switch (unit) {
        case LabUnit::mmol_per_100g:
        case LabUnit::meq_per_100g: return unit::mmol_per_100g;
        case LabUnit::mmol_per_kg: return AmountContent(0.001);
        case LabUnit::mg_per_kg: return AmountContent(kg_per_mg / molar_mass(element));
        case LabUnit::mg_per_100g_sugar:
            return AmountContent(kg_per_mg * per_100g / molar_mass(element) * pol.si());
    }
    return {};
}

}  // namespace

std::span<const LabUnitRow> lab_units() {
    return kRows;
}

AmountContent from_lab(Element element, LabUnit unit, double reading, SugarContent pol) {
    return reading * one(element, unit, pol);
}

double to_lab(Element element, LabUnit unit, AmountContent content, SugarContent pol) {
    return content / one(element, unit, pol);
}

}  // namespace beetwright::worth
