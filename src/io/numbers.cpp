#include "io/numbers.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/number_text.hpp"
#include "io/decimal.hpp"

namespace beetwright::io {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

Problem not_a_number(std::string_view cell, std::string fix) {
    constexpr std::size_t kShown = 40;
    const bool long_cell = cell.size() > kShown;
    return {
        ProblemKind::input,
        {},
        "'" + std::string(cell.substr(0, kShown)) + (long_cell ? "...'" : "'") + " is not a number",
        std::move(fix)};
}

/// The whole text as a finite number with a decimal point; nothing else.
std::optional<double> plain_number(std::string_view text) {
    const auto decimal = leading_decimal(text);
    if (!decimal || decimal->length != text.size()) {
        return std::nullopt;
    }
    return decimal->value;
}

/// `1,234`, `12.500`: one mark, one to three digits not starting with 0 before it, three after it.
bool may_group_thousands(std::string_view cell, std::size_t mark_at) {
    const std::size_t first = cell[0] == '-' ? 1 : 0;
    const std::size_t before = mark_at - std::min(first, mark_at);
    const bool digits_after =
        std::all_of(cell.begin() + static_cast<std::ptrdiff_t>(mark_at) + 1, cell.end(), is_digit);
    return before >= 1 && before <= 3 && cell[first] != '0' && cell.size() - mark_at == 4 &&
           digits_after;
}

std::string without_marks(std::string_view cell) {
    std::string digits;
    std::ranges::copy_if(cell, std::back_inserter(digits),
                         [](char c) { return is_digit(c) || c == '-'; });
    return digits;
}

bool is_made_of(std::string_view cell, std::string_view allowed) {
    return std::ranges::all_of(
        cell, [&](char c) { return is_digit(c) || allowed.find(c) != std::string_view::npos; });
}

/// Says why a cell is no number, in the words of the likeliest mistake.
Problem explain(std::string_view cell) {
    if (cell.empty()) {  // half of a class, such as `>` or `2-`
        return not_a_number(cell, "write the whole of it, such as >8 or 2-4");
    }
    const bool starts_as_number = is_digit(cell[0]) || cell[0] == '-' || cell[0] == '.';
    if (starts_as_number && is_made_of(cell, "-.,' ")) {
        return not_a_number(cell,
                            "write it without marks between thousands, and with one decimal mark");
    }
    if (starts_as_number && !is_made_of(cell, "-.,eE+")) {
        return not_a_number(cell, "write the number alone; its unit stands in the column's header");
    }
    return not_a_number(cell, "write digits, as in 12.5, or leave the cell empty if not known");
}

}  // namespace

void NumberReader::note(Mark& mark, std::string_view cell, std::size_t at, int line) {
    if (!may_group_thousands(cell, at)) {
        mark.clear_line = mark.clear_line == 0 ? line : mark.clear_line;
    } else if (mark.doubtful_line == 0) {
        mark.doubtful_line = line;
        mark.doubtful = cell;
    }
}

Result<double> NumberReader::read(std::string_view cell, int line) {
    if (cell.size() > 1 && cell[0] == '+' && cell[1] != '-') {
        cell.remove_prefix(1);
    }
    if (const auto value = plain_number(cell)) {
        if (separator_ != ',') {
            const std::size_t point = cell.find('.');
            if (point != std::string_view::npos) {
                note(point_, cell, point, line);
            }
        }
        return *value;
    }
    if (cell.find(',') != std::string_view::npos) {
        return read_with_comma(cell, line);
    }
    return explain(cell);
}

Result<double> NumberReader::read_with_comma(std::string_view cell, int line) {
    const std::size_t comma = cell.find(',');
    const bool lone_mark = cell.find_first_of(",.", comma + 1) == std::string_view::npos &&
                           cell.find('.') == std::string_view::npos;
    if (!lone_mark) {
        return explain(cell);
    }
    std::string with_point(cell);
    with_point[comma] = '.';
    const auto value = plain_number(with_point);
    if (!value) {
        return explain(cell);
    }
    if (separator_ == ',') {
        return not_a_number(cell,
                            "in a file with commas between cells write " + with_point + " (or " +
                                without_marks(cell) +
                                ", if the comma marks thousands), or save it with semicolons");
    }
    note(comma_, cell, comma, line);
    return *value;
}

Result<Done> NumberReader::check_marks() const {
    const bool has_comma = comma_.clear_line + comma_.doubtful_line > 0;
    const bool has_point = point_.clear_line + point_.doubtful_line > 0;
    const auto first_line = [](const Mark& mark) {
        return mark.clear_line > 0 && mark.doubtful_line > 0
                   ? std::min(mark.clear_line, mark.doubtful_line)
                   : std::max(mark.clear_line, mark.doubtful_line);
    };
    if (has_comma && has_point) {
        const int comma_line = first_line(comma_);
        const int point_line = first_line(point_);
        return Problem{ProblemKind::input,
                       {.file = "", .line = std::max(comma_line, point_line), .field = ""},
                       "numbers are written with a comma (line " + std::to_string(comma_line) +
                           ") and with a point (line " + std::to_string(point_line) + ")",
                       "use one decimal mark in a file, and none between thousands"};
    }
    // Semicolons stand between cells where commas divide decimals: there a lone comma is clear.
    const bool comma_is_usual = separator_ == ';';
    for (const Mark* mark : {&point_, &comma_}) {
        const bool is_clear = mark->clear_line > 0 || (mark == &comma_ && comma_is_usual);
        if (mark->doubtful_line > 0 && !is_clear) {
            return Problem{ProblemKind::input,
                           {.file = "", .line = mark->doubtful_line, .field = ""},
                           "'" + mark->doubtful + "' may be a decimal number or " +
                               without_marks(mark->doubtful),
                           "write it with another number of decimals, or without the mark"};
        }
    }
    return Done{};
}

std::string number_text(double number) {
    return shortest_text(number == 0.0 ? 0.0 : number);
}

std::string number_text(double si, const Unit& unit) {
    const double number = unit.from_si(si);
    constexpr int kMostDigits = 17;
    for (int digits = 1; digits <= kMostDigits; ++digits) {
        const double candidate = rounded_to_digits(number, digits);
        if (unit.to_si(candidate) == si) {
            return number_text(candidate);
        }
    }
    // Rounding in from_si may miss a neighbour that does read back.
    for (const double candidate :
         {std::nextafter(number, -HUGE_VAL), std::nextafter(number, HUGE_VAL)}) {
        if (unit.to_si(candidate) == si) {
            return number_text(candidate);
        }
    }
    return number_text(number);
}

}  // namespace beetwright::io
