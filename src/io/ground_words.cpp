#include "io/ground_words.hpp"

#include <cmath>

#include "base/number_text.hpp"

namespace beetwright::io {

std::string compass_text(const ground::Position& at) {
    constexpr int kDecimals = 5;
    return fixed_text(std::abs(at.latitude_deg), kDecimals) +
           (at.latitude_deg < 0.0 ? " S " : " N ") +
           fixed_text(std::abs(at.longitude_deg), kDecimals) +
           (at.longitude_deg < 0.0 ? " W" : " E");
}

std::string relief_text(double out_m, UnitSystem system) {
    const bool us = system == UnitSystem::us;
    return fixed_text(us ? find_unit("ft")->from_si(out_m) : out_m, 1) + (us ? " ft" : " m");
}

}  // namespace beetwright::io
