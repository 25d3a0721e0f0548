// The texts of base/number_text.hpp by exact decimals: what the browser has of them, and what tests
// hold against the standard library's.
#pragma once

#include <string>
#include <string_view>

namespace beetwright::exact {

std::string fixed_text(double number, int decimals);
std::string general_text(double number, int digits);
std::string scientific_text(double number, int digits);
std::string shortest_text(double number);
std::string shortest_scientific_text(double number);
double read_number(std::string_view decimal);

}  // namespace beetwright::exact
