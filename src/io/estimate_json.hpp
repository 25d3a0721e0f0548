// Estimates and what they rest on, as every JSON answer has them.
#pragma once

#include <string_view>

#include "base/estimate.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// {"value", "low", "high"}
Json interval_json(const Estimate<double>& estimate);
/// The same in a unit.
template <class Q>
auto interval_json(const Estimate<Q>& estimate, Q unit) {
    const auto in_unit = [&](Q value) { return value / unit; };
    const Estimate<decltype(in_unit(unit))> plain{in_unit(estimate.value), in_unit(estimate.low),
                                                  in_unit(estimate.high)};
    return interval_json(plain);
}

/// "measured", "learned", "published"
std::string_view footing_key(RestsOn footing);

}  // namespace beetwright::io
