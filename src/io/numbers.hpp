// Numbers as people type them, and as they get them back.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "base/unit.hpp"

namespace beetwright::io {

/// Reads the numbers of one file.
///
/// Files with commas between cells write decimals with a point. Files with semicolons or tabs come
/// from places of either habit, so both marks are read, but `1.234` there may mean 1234: such a
/// number is taken only when another number of the file shows which mark divides decimals. Digits
/// grouped in threes are never guessed at.
class NumberReader {
 public:
    explicit NumberReader(char separator) : separator_(separator) {}

    /// The number of one cell, already trimmed and not empty. The problem has no place yet.
    Result<double> read(std::string_view cell, int line);
    /// Call at the end of the file: whether its marks were of one kind. The problem has its line.
    [[nodiscard]] Result<Done> check_marks() const;

 private:
    struct Mark {
        int clear_line = 0;     ///< where it was surely a decimal mark
        int doubtful_line = 0;  ///< where it may group thousands
        std::string doubtful;
    };
    Result<double> read_with_comma(std::string_view cell, int line);
    static void note(Mark& mark, std::string_view cell, std::size_t at, int line);

    char separator_;
    Mark point_;
    Mark comma_;
};

/// The shortest decimal text that reads back, in this unit, as the same SI value: 12 cm stays `12`.
/// Where no decimal text does, the nearest with 17 digits.
std::string number_text(double si, const Unit& unit);
/// The same for a plain number.
std::string number_text(double number);

}  // namespace beetwright::io
