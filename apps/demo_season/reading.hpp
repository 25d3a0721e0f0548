// What instruments show: every observed number is rounded to what its tape, scale or laboratory
// sheet reads, in the units of the people who read it. The result is in SI, and is exactly what a
// reader of the written number gets back.
#pragma once

#include <cmath>
#include <string_view>

#include "base/contract.hpp"
#include "base/quantity.hpp"
#include "base/unit.hpp"

namespace beetwright::demo {

/// A scale: its unit and how many steps it has to one unit, in either system.
struct Scale {
    std::string_view metric;
    double metric_steps;
    std::string_view us;
    double us_steps;
};

namespace scale {
inline constexpr Scale break_diameter{"cm", 10, "in", 20};
inline constexpr Scale scar_diameter{"cm", 10, "in", 20};
inline constexpr Scale skin{"cm2", 1, "sq in", 4};
inline constexpr Scale strip_area{"m2", 1, "sq ft", 1};
inline constexpr Scale strip_mass{"kg", 20, "lb", 10};
inline constexpr Scale tare_mass{"kg", 100, "lb", 50};
inline constexpr Scale load_mass{"t", 50, "short ton", 50};
inline constexpr Scale pol{"%", 100, "%", 100};
inline constexpr Scale amount{"mmol/100 g", 100, "mmol/100 g", 100};
inline constexpr Scale percent{"%", 1, "%", 1};
inline constexpr Scale crown{"cm", 1, "in", 2};
inline constexpr Scale wheel_load{"t", 10, "short ton", 10};
inline constexpr Scale tyre_pressure{"bar", 10, "psi", 1};
inline constexpr Scale tyre{"cm", 1, "in", 1};
inline constexpr Scale water{"mm", 1, "in", 20};
inline constexpr Scale hour{"h", 1, "h", 1};
inline constexpr Scale air{"°C", 10, "°F", 10};
inline constexpr Scale depth{"mm", 1, "in", 8};
inline constexpr Scale rpm{"rpm", 1, "rpm", 1};
inline constexpr Scale forward_speed{"km/h", 10, "mph", 10};
inline constexpr Scale field_area{"ha", 10, "acre", 10};
inline constexpr Scale haul{"km", 10, "mi", 10};
inline constexpr Scale pile{"m", 2, "ft", 1};
inline constexpr Scale probe{"m", 10, "ft", 2};
inline constexpr Scale compass{"°", 1, "°", 1};
inline constexpr Scale fan_flow{"m3/h", 0.001, "cu ft/min", 0.01};
inline constexpr Scale fan_pressure{"Pa", 0.1, "inH2O", 10};
inline constexpr Scale fan_power{"kW", 2, "hp", 2};
inline constexpr Scale difference{"K", 2, "F°", 1};
inline constexpr Scale yield{"t/ha", 1, "short ton/acre", 2};
}  // namespace scale

class Reader {
 public:
    explicit Reader(UnitSystem system) : us_(system == UnitSystem::us) {}

    [[nodiscard]] bool is_us() const { return us_; }

    /// A number of SI as read on this scale, in SI.
    [[nodiscard]] double read(double si, const Scale& on) const {
        const auto unit = find_unit(us_ ? on.us : on.metric);
        require(unit.has_value(), "the scales' units are known");
        const double steps = us_ ? on.us_steps : on.metric_steps;
        return unit->to_si(std::round(unit->from_si(si) * steps) / steps);
    }
    template <Dim D>
    [[nodiscard]] Quantity<D> read(Quantity<D> value, const Scale& on) const {
        return Quantity<D>(read(value.si(), on));
    }
    [[nodiscard]] Temperature read(Temperature value, const Scale& on) const {
        return Temperature::kelvin(read(value.in_kelvin(), on));
    }

 private:
    bool us_;
};

}  // namespace beetwright::demo
