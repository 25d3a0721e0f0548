#include "base/number_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <version>

#include "base/exact_text.hpp"

namespace beetwright {

std::string padded_text(std::int64_t number, int places) {
    const auto digits = std::to_string(number < 0 ? -number : number);
    const auto zeros = static_cast<std::size_t>(
        std::max(0, places - static_cast<int>(digits.size()) - (number < 0 ? 1 : 0)));
    return (number < 0 ? "-" : "") + std::string(zeros, '0') + digits;
}

// The browser's standard library has neither yet, or with tables that would be a fifth of the
// engine.
#if defined(__cpp_lib_to_chars)

namespace {

template <class... Form>
std::string written(double number, Form... form) {
    // The longest has the 309 digits before the point of the largest, and its decimals.
    std::array<char, 512> room{};
    const auto wrote = std::to_chars(room.data(), room.data() + room.size(), number, form...);
    return {room.data(), wrote.ptr};
}

}  // namespace

std::string fixed_text(double number, int decimals) {
    return written(number, std::chars_format::fixed, decimals);
}

std::string general_text(double number, int digits) {
    return written(number, std::chars_format::general, digits);
}

std::string scientific_text(double number, int digits) {
    return written(number, std::chars_format::scientific, digits - 1);
}

std::string shortest_text(double number) {
    return written(number, std::chars_format::fixed);
}

std::string shortest_scientific_text(double number) {
    return written(number, std::chars_format::scientific);
}

double read_number(std::string_view decimal) {
    double number = 0.0;
    const auto read = std::from_chars(decimal.data(), decimal.data() + decimal.size(), number);
    // Whether it is beyond the largest or under the least the library does not say.
    return read.ec == std::errc{} ? number : exact::read_number(decimal);
}

#else

std::string fixed_text(double number, int decimals) {
    return exact::fixed_text(number, decimals);
}

std::string general_text(double number, int digits) {
    return exact::general_text(number, digits);
}

std::string scientific_text(double number, int digits) {
    return exact::scientific_text(number, digits);
}

std::string shortest_text(double number) {
    return exact::shortest_text(number);
}

std::string shortest_scientific_text(double number) {
    return exact::shortest_scientific_text(number);
}

double read_number(std::string_view decimal) {
    return exact::read_number(decimal);
}

#endif

}  // namespace beetwright
