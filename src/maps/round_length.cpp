#include "maps/round_length.hpp"

#include "base/number_text.hpp"

namespace beetwright::maps {

RoundLength round_length(double most_m, UnitSystem units) {
    const bool us = units == UnitSystem::us;
    const auto long_unit = *find_unit(us ? "mi" : "km");
    const bool is_long = long_unit.from_si(most_m) >= 1.0;
    const auto unit = is_long ? long_unit : *find_unit(us ? "ft" : "m");
    const double number = round_number(unit.from_si(most_m));
    return {unit.to_si(number), shortest_text(number) + " " + std::string(unit.symbol)};
}

}  // namespace beetwright::maps
