// Quantities with units, checked when the program is compiled, at no cost when it runs.
//
// A Quantity holds one double in SI and knows its dimension. Sums of unlike dimensions do not
// compile; products and quotients add and subtract the exponents.
//
// Beet mass has a basis, and each basis is a dimension of its own: a tonne as tipped, with soil
// and leaf on it, is not a tonne of clean beet, and neither is a tonne of sugar. So a sugar content
// is [sugar / clean beet], clean beet times sugar content is sugar, and nobody adds a weighbridge
// reading to a clean mass without saying what came off (see mass.hpp). Money and amount of
// substance are dimensions for the same reason. Tags on one "mass" type were the alternative; they
// catch the wrong sum but not the wrong product, and the wrong product is the commoner mistake.
#pragma once

#include <cmath>
#include <compare>
#include <cstdint>
#include <limits>

namespace beetwright {

/// Exponents of the base dimensions. SI base units, plus the bases of beet mass (all in kg),
/// and money in the season's currency (one unit of it).
struct Dim {
    std::int8_t length = 0;       ///< [m]
    std::int8_t time = 0;         ///< [s]
    std::int8_t temperature = 0;  ///< [K], differences only; points are Temperature
    std::int8_t mass = 0;         ///< [kg] of anything that is not beet: soil, leaf, air
    std::int8_t with_soil = 0;    ///< [kg] of beet as loaded: clean beet, soil and tops
    std::int8_t clean = 0;        ///< [kg] of clean beet, fresh mass
    std::int8_t dry = 0;          ///< [kg] of beet dry matter
    std::int8_t sugar = 0;        ///< [kg] of sugar
    std::int8_t amount = 0;       ///< [mol]
    std::int8_t money = 0;        ///< one unit of the season's currency

    friend constexpr bool operator==(const Dim&, const Dim&) = default;

    friend constexpr Dim operator+(const Dim& a, const Dim& b) { return combine(a, b, +1); }
    friend constexpr Dim operator-(const Dim& a, const Dim& b) { return combine(a, b, -1); }

 private:
    static constexpr std::int8_t join(std::int8_t a, std::int8_t b, int sign) {
        return static_cast<std::int8_t>(a + sign * b);
    }
    static constexpr Dim combine(const Dim& a, const Dim& b, int sign) {
        return Dim{.length = join(a.length, b.length, sign),
                   .time = join(a.time, b.time, sign),
                   .temperature = join(a.temperature, b.temperature, sign),
                   .mass = join(a.mass, b.mass, sign),
                   .with_soil = join(a.with_soil, b.with_soil, sign),
                   .clean = join(a.clean, b.clean, sign),
                   .dry = join(a.dry, b.dry, sign),
                   .sugar = join(a.sugar, b.sugar, sign),
                   .amount = join(a.amount, b.amount, sign),
                   .money = join(a.money, b.money, sign)};
    }
};

/// One number in SI with its dimension. A default-made quantity is NaN, so that a forgotten one is
/// loud; a sum starts from zero().
template <Dim D>
class Quantity {
 public:
    static constexpr Dim dimension = D;  // NOLINT(bugprone-dynamic-static-initializers): constexpr

    constexpr Quantity() = default;
    constexpr explicit Quantity(double si) : si_(si) {}

    static constexpr Quantity zero() { return Quantity(0.0); }

    /// The value in SI (kg, m, s, mol, currency unit).
    [[nodiscard]] constexpr double si() const { return si_; }
    [[nodiscard]] bool is_known() const { return !std::isnan(si_); }

    constexpr Quantity& operator+=(Quantity other) {
        si_ += other.si_;
        return *this;
    }
    constexpr Quantity& operator-=(Quantity other) {
        si_ -= other.si_;
        return *this;
    }
    constexpr Quantity& operator*=(double factor) {
        si_ *= factor;
        return *this;
    }

    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
    friend constexpr Quantity operator-(Quantity a) { return Quantity(-a.si_); }
    friend constexpr Quantity operator*(double k, Quantity a) { return Quantity(k * a.si_); }
    friend constexpr Quantity operator*(Quantity a, double k) { return Quantity(k * a.si_); }
    friend constexpr Quantity operator/(Quantity a, double k) { return Quantity(a.si_ / k); }
    friend constexpr bool operator==(Quantity, Quantity) = default;
    friend constexpr auto operator<=>(Quantity, Quantity) = default;

 private:
    double si_ = std::numeric_limits<double>::quiet_NaN();
};

namespace detail {
// A product whose dimensions cancel is a plain number.
template <Dim D>
constexpr auto quantity_or_number(double si) {
    if constexpr (D == Dim{}) {
        return si;
    } else {
        return Quantity<D>(si);
    }
}
}  // namespace detail

template <Dim A, Dim B>
constexpr auto operator*(Quantity<A> a, Quantity<B> b) {
    return detail::quantity_or_number<A + B>(a.si() * b.si());
}

template <Dim A, Dim B>
constexpr auto operator/(Quantity<A> a, Quantity<B> b) {
    return detail::quantity_or_number<A - B>(a.si() / b.si());
}

template <Dim A>
constexpr auto operator/(double k, Quantity<A> a) {
    return Quantity<Dim{} - A>(k / a.si());
}

using Length = Quantity<Dim{.length = 1}>;
using Area = Quantity<Dim{.length = 2}>;
using Volume = Quantity<Dim{.length = 3}>;
using Duration = Quantity<Dim{.time = 1}>;
using Pressure = Quantity<Dim{.length = -1, .time = -2, .mass = 1}>;
using Speed = Quantity<Dim{.length = 1, .time = -1}>;
using VolumePerTime = Quantity<Dim{.length = 3, .time = -1}>;
using Power = Quantity<Dim{.length = 2, .time = -3, .mass = 1}>;
using TemperatureDifference = Quantity<Dim{.temperature = 1}>;
using ThermalTime = Quantity<Dim{.time = 1, .temperature = 1}>;  ///< [K s]; people say °C·d
using Density = Quantity<Dim{.length = -3, .clean = 1}>;         ///< clean beet per volume

using Mass = Quantity<Dim{.mass = 1}>;               ///< soil, leaf, a bucket
using MassWithSoil = Quantity<Dim{.with_soil = 1}>;  ///< as loaded and weighed
using CleanMass = Quantity<Dim{.clean = 1}>;
using DryMass = Quantity<Dim{.dry = 1}>;
using SugarMass = Quantity<Dim{.sugar = 1}>;
using Money = Quantity<Dim{.money = 1}>;

using MassPerArea = Quantity<Dim{.length = -2, .mass = 1}>;
using MassWithSoilPerArea = Quantity<Dim{.length = -2, .with_soil = 1}>;
using CleanMassPerArea = Quantity<Dim{.length = -2, .clean = 1}>;
using SugarPerArea = Quantity<Dim{.length = -2, .sugar = 1}>;
using MoneyPerArea = Quantity<Dim{.length = -2, .money = 1}>;
using MoneyPerTime = Quantity<Dim{.time = -1, .money = 1}>;
using BeetsPerArea = Quantity<Dim{.length = -2}>;  ///< by number

/// [kg sugar / kg clean beet]; people say per cent, and call it pol.
using SugarContent = Quantity<Dim{.clean = -1, .sugar = 1}>;
/// [mol / kg clean beet]; laboratories say mmol per 100 g.
using AmountContent = Quantity<Dim{.clean = -1, .amount = 1}>;
/// [kg sugar / kg clean beet / s]; people say g per t and day.
using SugarLossRate = Quantity<Dim{.time = -1, .clean = -1, .sugar = 1}>;
using MoneyPerCleanMass = Quantity<Dim{.clean = -1, .money = 1}>;
using MoneyPerSugar = Quantity<Dim{.sugar = -1, .money = 1}>;
using MoneyPerMass = Quantity<Dim{.mass = -1, .money = 1}>;

/// A point on the temperature scale, held in kelvin. Two points do not add; their difference is a
/// TemperatureDifference.
class Temperature {
 public:
    constexpr Temperature() = default;
    static constexpr Temperature kelvin(double value) { return Temperature(value); }
    static constexpr Temperature celsius(double value) { return Temperature(value + 273.15); }
    static constexpr Temperature fahrenheit(double value) { return celsius((value - 32.0) / 1.8); }

    [[nodiscard]] constexpr double in_kelvin() const { return kelvin_; }
    [[nodiscard]] constexpr double in_celsius() const { return kelvin_ - 273.15; }
    [[nodiscard]] constexpr double in_fahrenheit() const { return in_celsius() * 1.8 + 32.0; }

    friend constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
        return TemperatureDifference(a.kelvin_ - b.kelvin_);
    }
    friend constexpr Temperature operator+(Temperature a, TemperatureDifference d) {
        return Temperature(a.kelvin_ + d.si());
    }
    friend constexpr Temperature operator-(Temperature a, TemperatureDifference d) {
        return Temperature(a.kelvin_ - d.si());
    }
    friend constexpr bool operator==(Temperature, Temperature) = default;
    friend constexpr auto operator<=>(Temperature, Temperature) = default;

 private:
    constexpr explicit Temperature(double kelvin) : kelvin_(kelvin) {}
    double kelvin_ = std::numeric_limits<double>::quiet_NaN();
};

/// Multiply by these to make a quantity, divide by them to read one: `5.0 * unit::cm`, `depth /
/// unit::cm`.
namespace unit {
inline constexpr Length m{1.0};
inline constexpr Length cm{0.01};
inline constexpr Length mm{0.001};
inline constexpr Length inch{0.0254};
inline constexpr Length foot{0.3048};
inline constexpr Length km{1000.0};
inline constexpr Length mile{1609.344};
inline constexpr Area m2{1.0};
inline constexpr Area cm2{1e-4};
inline constexpr Area ha{1e4};
inline constexpr Area acre{4046.8564224};
inline constexpr Area square_foot{0.09290304};
inline constexpr Volume cm3{1e-6};
inline constexpr Duration s{1.0};
inline constexpr Duration hour{3600.0};
inline constexpr Duration day{86400.0};
inline constexpr TemperatureDifference K{1.0};
inline constexpr ThermalTime degree_day{86400.0};  ///< °C·d
inline constexpr SugarContent percent_sugar{0.01};
inline constexpr AmountContent mmol_per_100g{0.01};
inline constexpr SugarLossRate g_per_t_day{1e-6 / 86400.0};
inline constexpr Money money{1.0};
inline constexpr SugarPerArea kg_sugar_per_ha{1e-4};
inline constexpr CleanMassPerArea t_clean_per_ha{0.1};
inline constexpr MoneyPerArea money_per_ha{1e-4};
inline constexpr MoneyPerTime money_per_hour{1.0 / 3600.0};
}  // namespace unit

/// The mass units people use, on whichever basis the type names: `tonnes<CleanMass>(12.0)`.
inline constexpr double kg_per_tonne = 1000.0;
inline constexpr double kg_per_pound = 0.45359237;
inline constexpr double kg_per_short_ton = 2000.0 * kg_per_pound;

template <class MassOnABasis>
constexpr MassOnABasis kilograms(double value) {
    return MassOnABasis(value);
}
template <class MassOnABasis>
constexpr MassOnABasis tonnes(double value) {
    return MassOnABasis(value * kg_per_tonne);
}
template <class MassOnABasis>
constexpr MassOnABasis pounds(double value) {
    return MassOnABasis(value * kg_per_pound);
}
template <Dim D>
constexpr double in_tonnes(Quantity<D> mass) {
    static_assert(D.mass + D.with_soil + D.clean + D.dry + D.sugar == 1 && D.length == 0 &&
                      D.time == 0 && D.money == 0,
                  "in_tonnes takes a mass");
    return mass.si() / kg_per_tonne;
}

}  // namespace beetwright
