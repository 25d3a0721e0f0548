// Numbers as text: a point whatever the language, rounded right, half-way to the even digit.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace beetwright {

/// With so many decimals: "12.50".
std::string fixed_text(double number, int decimals);
/// With at most so many digits, none of them a zero at the end; with an exponent where it is far
/// from one: "12.5", "1.25e+09".
std::string general_text(double number, int digits);
/// With so many digits and an exponent always: "1.25e+01".
std::string scientific_text(double number, int digits);
/// The fewest digits that read back as the same number, without an exponent: "0.001".
std::string shortest_text(double number);
/// The same with an exponent always: "1e-03".
std::string shortest_scientific_text(double number);
/// A whole number in at least so many places, with zeros before it: "007".
std::string padded_text(std::int64_t number, int places);

/// The number nearest to a text of digits, with a minus, a point and an exponent or without;
/// infinity where it is beyond the largest.
double read_number(std::string_view decimal);

}  // namespace beetwright
