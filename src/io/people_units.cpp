#include "io/people_units.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "base/number_text.hpp"

namespace beetwright::io {
namespace {

constexpr std::string_view kMinus = "\u2212";
constexpr std::string_view kThinSpace = "\u202f";

Unit unit_of(std::string_view symbol) {
    const auto unit = find_unit(symbol);
    require(unit.has_value(), "people's units are in the table of units");
    return *unit;
}

template <class Q>
Reading in_unit(const Estimate<Q>& estimate, std::string_view symbol, std::string_view shown) {
    const Unit unit = unit_of(symbol);
    return {unit.from_si(estimate.value.si()), unit.from_si(estimate.low.si()),
            unit.from_si(estimate.high.si()), shown};
}

/// Digits parted in threes from the right; four stand together.
std::string parted(const std::string& digits) {
    if (digits.size() <= 4) {
        return digits;
    }
    std::string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) {
            out += kThinSpace;
        }
        out += digits[i];
    }
    return out;
}

}  // namespace

PeopleUnits::PeopleUnits(UnitSystem system, std::string currency)
    : system_(system == UnitSystem::us ? UnitSystem::us : UnitSystem::metric),
      currency_(std::move(currency)),
      money_unit_(currency_ + (system_ == UnitSystem::us ? "/acre" : "/ha")) {}

std::string_view PeopleUnits::beet_unit() const {
    return system_ == UnitSystem::us ? "short ton/acre" : "t/ha";
}
std::string_view PeopleUnits::sugar_unit() const {
    return system_ == UnitSystem::us ? "lb/acre" : "kg/ha";
}

Reading PeopleUnits::read(const Estimate<CleanMassPerArea>& beet) const {
    return in_unit(beet, beet_unit(), beet_unit());
}
Reading PeopleUnits::read(const Estimate<SugarPerArea>& sugar) const {
    return in_unit(sugar, sugar_unit(), sugar_unit());
}
Reading PeopleUnits::read(const Estimate<MoneyPerArea>& money) const {
    return in_unit(money, system_ == UnitSystem::us ? "money/acre" : "money/ha", money_unit_);
}

std::string PeopleUnits::area(Area area) const {
    const std::string_view symbol = system_ == UnitSystem::us ? "acre" : "ha";
    const double value = unit_of(symbol).from_si(area.si());
    return figure_text(value, value < 100.0 ? 1 : 0) + " " + std::string(symbol);
}

std::string PeopleUnits::length(Length length) const {
    const bool us = system_ == UnitSystem::us;
    std::string_view symbol = us ? "in" : "cm";
    if (length >= 1.0 * unit::km) {
        symbol = us ? "mi" : "km";
    } else if (length >= 2.0 * unit::m) {
        symbol = us ? "ft" : "m";
    }
    return figure_text(unit_of(symbol).from_si(length.si()), 1) + " " + std::string(symbol);
}

std::string PeopleUnits::temperature(Temperature temperature) const {
    return system_ == UnitSystem::us ? figure_text(temperature.in_fahrenheit(), 0) + " °F"
                                     : figure_text(temperature.in_celsius(), 1) + " °C";
}

int decimals_for(const Reading& reading) {
    const double half = 0.5 * std::abs(reading.high - reading.low);
    // Without an interval, three digits of the value itself.
    const double shown = half > 0.0 ? half : 0.1 * std::abs(reading.value);
    if (!(shown > 0.0)) {
        return 0;
    }
    // A half-width of 10 to 29 deserves both its digits; of one that starts with 3 or more, the
    // first will do.
    const double power = std::floor(std::log10(shown));
    const bool both = shown < 3.0 * std::pow(10.0, power);
    return std::clamp((both ? 1 : 0) - static_cast<int>(power), 0, 4);
}

std::string figure_text(double value, int decimals) {
    if (std::isnan(value)) {
        return "–";
    }
    std::string text = fixed_text(std::abs(value), decimals);
    const bool is_zero = text.find_first_not_of("0.") == std::string::npos;
    const auto point = text.find('.');
    std::string out = value < 0.0 && !is_zero ? std::string(kMinus) : std::string();
    out += parted(text.substr(0, point));
    if (point != std::string::npos) {
        out += text.substr(point);
    }
    return out;
}

std::string value_text(const Reading& reading) {
    return figure_text(reading.value, decimals_for(reading));
}

std::string interval_text(const Reading& reading) {
    if (!(reading.high > reading.low)) {
        return {};
    }
    const int decimals = decimals_for(reading);
    return figure_text(reading.low, decimals) + " to " + figure_text(reading.high, decimals);
}

std::size_t width_of(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

}  // namespace beetwright::io
