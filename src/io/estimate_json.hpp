// Estimates and what they rest on, as every JSON answer has them.
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "base/estimate.hpp"

namespace beetwright::io {

/// {"value", "low", "high"}, in a unit.
template <class Q>
nlohmann::ordered_json interval_json(const Estimate<Q>& estimate, Q unit) {
    return {{"value", estimate.value / unit},
            {"low", estimate.low / unit},
            {"high", estimate.high / unit}};
}

constexpr std::string_view footing_key(RestsOn footing) {
    switch (footing) {
        case RestsOn::measured: return "measured";
        case RestsOn::learned: return "learned";
        case RestsOn::published: return "published";
    }
    return "";
}

}  // namespace beetwright::io
