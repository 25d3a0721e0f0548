// Numbers as people read them: metric or US customary, no more digits than the interval bears, a
// proper minus sign, thousands parted by a thin space.
#pragma once

#include <string>
#include <string_view>

#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "base/unit.hpp"

namespace beetwright::io {

/// An estimate in some unit, ready to be written.
struct Reading {
    double value = 0.0;
    double low = 0.0;
    double high = 0.0;
    std::string_view unit;  ///< "t/ha", "lb/acre", "EUR/ha"
};

class PeopleUnits {
 public:
    PeopleUnits(UnitSystem system, std::string currency);

    [[nodiscard]] UnitSystem system() const { return system_; }
    [[nodiscard]] const std::string& currency() const { return currency_; }

    [[nodiscard]] Reading read(
        const Estimate<CleanMassPerArea>& beet) const;  ///< t/ha or short ton/acre
    [[nodiscard]] Reading read(const Estimate<SugarPerArea>& sugar) const;  ///< kg/ha or lb/acre
    [[nodiscard]] Reading read(const Estimate<MoneyPerArea>& money) const;

    [[nodiscard]] std::string_view beet_unit() const;
    [[nodiscard]] std::string_view sugar_unit() const;
    [[nodiscard]] std::string_view money_unit() const { return money_unit_; }
    [[nodiscard]] std::string area(Area area) const;  ///< "12.4 ha"
    [[nodiscard]] std::string length(
        Length length) const;  ///< cm or in, from 2 m on m or ft, from 1 km on km or mi
    [[nodiscard]] std::string temperature(Temperature temperature) const;

 private:
    UnitSystem system_;
    std::string currency_;
    std::string money_unit_;
};

/// Decimals such that the interval's half-width shows one or two significant digits; 0 to 4.
int decimals_for(const Reading& reading);

/// "1 234.5", "−310"; never "−0".
std::string figure_text(double value, int decimals);

/// The value alone, and "−520 to −160"; an interval without width is written as nothing.
std::string value_text(const Reading& reading);
std::string interval_text(const Reading& reading);

/// Characters as a terminal counts them (code points of UTF-8).
std::size_t width_of(std::string_view text);

}  // namespace beetwright::io
