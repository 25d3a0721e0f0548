// Soil and tops that came with the beet, from tare samples.
#pragma once

#include <optional>
#include <span>

#include "base/catalogue.hpp"
#include "check/sheet.hpp"
#include "num/uncertain.hpp"

namespace beetwright::check {

/// [kg/kg clean beet]; empty where no sample says.
struct Tare {
    std::optional<num::Uncertain> soil;
    std::optional<num::Uncertain> tops;
};
Tare tare_of(std::span<const TareSample> samples, const Catalogue& catalogue);

/// Clean beet in a sample: what was weighed less soil and tops. Tops not determined count as none.
CleanMass clean_mass(const TareSample& sample);

}  // namespace beetwright::check
