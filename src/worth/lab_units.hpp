// What laboratories write on their sheets, as amounts per clean beet.
//
// Readings by mass of the element need its molar mass, and readings per sugar the beet's own sugar
// content, so these are conversions and not units of base/unit.hpp. docs/methods/molasses.md.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "base/quantity.hpp"

namespace beetwright::worth {

enum class Element : std::uint8_t { potassium, sodium, amino_nitrogen };

/// [kg/mol], of the element itself: laboratories give amino nitrogen as N. Standard atomic weights,
/// rounded as trade tables round them: 391.0, 229.9 and 140.1 mg/kg per mmol/100 g.
constexpr double molar_mass(Element element) {
    switch (element) {
        case Element::potassium: return 0.039098;
        case Element::sodium: return 0.022990;
        case Element::amino_nitrogen: return 0.014007;
    }
    return 0.0;
}

enum class LabUnit : std::uint8_t {
    mmol_per_100g,  ///< on beet, usual in Europe
    mmol_per_kg,    ///< on beet, or per 1000 g of brei
    meq_per_100g,   ///< K, Na and N carry one charge each: the same number as mmol/100 g
    mg_per_kg,      ///< on beet; "ppm", usual in the US
    mg_per_100g_sugar,
};
inline constexpr std::size_t kLabUnits = 5;

struct LabUnitRow {
    LabUnit unit;
    std::string_view symbol;  ///< "mg/100 g sugar"
};
std::span<const LabUnitRow> lab_units();

/// A reading as an amount per clean beet. `pol` is the same sample's; only readings per sugar use
/// it, and they are unknown (NaN) when it is.
AmountContent from_lab(Element element, LabUnit unit, double reading, SugarContent pol);

/// The reading that a laboratory would write for an amount.
double to_lab(Element element, LabUnit unit, AmountContent content, SugarContent pol);

}  // namespace beetwright::worth
