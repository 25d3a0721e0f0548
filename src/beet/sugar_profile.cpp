#include "beet/sugar_profile.hpp"

#include <algorithm>

namespace beetwright::beet {

double sugar_along_crown(double height, double total_fall) {
    return 1.0 - total_fall * std::clamp(height, 0.0, 1.0);
}

double mean_sugar_along_crown(double from, double to, double total_fall) {
    return 0.5 * (sugar_along_crown(from, total_fall) + sugar_along_crown(to, total_fall));
}

}  // namespace beetwright::beet
