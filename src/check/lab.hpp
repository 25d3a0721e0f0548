// What laboratory samples say of a field's beet.
#pragma once

#include <optional>
#include <span>

#include "base/catalogue.hpp"
#include "check/sheet.hpp"
#include "num/uncertain.hpp"

namespace beetwright::check {

/// SI: kg/kg and mol/kg clean beet; empty where no sample says.
struct LabMeans {
    std::optional<num::Uncertain> pol;
    std::optional<num::Uncertain> potassium;
    std::optional<num::Uncertain> sodium;
    std::optional<num::Uncertain> amino_nitrogen;
};
LabMeans lab_of(std::span<const LabSample> samples, const Catalogue& catalogue);

}  // namespace beetwright::check
