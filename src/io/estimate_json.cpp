#include "io/estimate_json.hpp"

#include "io/json.hpp"

namespace beetwright::io {

Json interval_json(const Estimate<double>& estimate) {
    return {{"value", estimate.value}, {"low", estimate.low}, {"high", estimate.high}};
}

std::string_view footing_key(RestsOn footing) {
    switch (footing) {
        case RestsOn::measured: return "measured";
        case RestsOn::learned: return "learned";
        case RestsOn::published: return "published";
    }
    return "";
}

}  // namespace beetwright::io
