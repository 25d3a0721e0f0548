// One description of each table: it yields the reader, the checks, the writer, the JSON Schema and
// the reference page. docs/formats/.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/unit.hpp"
#include "base/uuid.hpp"
#include "io/dates.hpp"
#include "io/problem_list.hpp"
#include "worth/lab_units.hpp"

namespace beetwright::io {

enum class CellKind {
    text,
    number,
    numbers,
    number_or_word,
    day,
    instant,
    id,
    earlier,
    word,
    break_diameter
};
enum class Presence { required, optional };
enum class Digits { any, whole };

/// The tables that introduce names which other tables use.
enum class Master { none, fields, machines, soils, destinations };

/// A word that a cell of CellKind::word or number_or_word may hold, and the number it stands for.
struct Word {
    std::string_view text;
    int code;
};

struct Column {
    std::string_view name;
    CellKind kind = CellKind::text;
    Presence presence = Presence::optional;
    std::string_view words;  ///< what it is, in a sentence
    /// For numbers: what is measured, the units we write in, and the bounds in SI.
    UnitKind unit_kind = UnitKind::number;
    std::string_view metric_unit = {};
    std::string_view us_unit = {};
    double least = -std::numeric_limits<double>::infinity();
    double most = std::numeric_limits<double>::infinity();
    std::span<const Word> allowed = {};
    /// A laboratory's content of an element may be written in any of worth::lab_units().
    std::optional<worth::Element> element = std::nullopt;
    Digits digits = Digits::any;  ///< beets are counted in whole numbers
    /// For CellKind::numbers, parted by spaces: how many a cell may hold. Unit and bounds are
    /// each's.
    std::size_t most_numbers = 0;
    /// For names: the table that introduces them.
    Master refers_to = Master::none;
    /// For words that need not stand there: the table that may say more of them.
    Master explained_in = Master::none;
};

struct Table {
    std::string_view file;  ///< "fields.csv"
    Presence presence = Presence::optional;
    std::string_view words;
    std::span<const Column> columns;
    /// The kind of names in its first column.
    Master introduces = Master::none;
};

/// One data row, its cells converted to SI and checked. Columns are named by their place in the
/// table.
class TableRow {
 public:
    [[nodiscard]] int line() const { return line_; }
    [[nodiscard]] bool has(std::size_t column) const { return !cells_[column].empty(); }
    [[nodiscard]] std::string text(std::size_t column) const { return std::string(cells_[column]); }
    [[nodiscard]] std::string_view view(std::size_t column) const { return cells_[column]; }
    /// SI; NaN where the cell is empty, or holds a word.
    [[nodiscard]] double number(std::size_t column) const { return numbers_[column]; }
    /// For CellKind::numbers: SI, in their order; none where the cell is empty.
    [[nodiscard]] std::span<const double> numbers(std::size_t column) const {
        return lists_[column];
    }
    /// Whether the header gives a laboratory's content per sugar: number() is mol per kg of sugar
    /// then, and 20 times the column's bound is let through, for beet of 5 % sugar.
    [[nodiscard]] bool is_per_sugar(std::size_t column) const { return per_sugar_[column]; }
    /// For CellKind::break_diameter: the ends of a class [m], equal for a measured one.
    [[nodiscard]] double upper(std::size_t column) const { return uppers_[column]; }
    [[nodiscard]] std::optional<Day> day(std::size_t column) const { return days_[column]; }
    [[nodiscard]] Instant instant(std::size_t column) const { return instants_[column]; }
    [[nodiscard]] Uuid id(std::size_t column) const { return ids_[column]; }
    /// What the row says, whatever its units, its way of writing numbers and days, and the columns
    /// that its table leaves out: the same for the same content, to twelve digits.
    [[nodiscard]] std::string content(const Table& table) const;
    [[nodiscard]] int word(std::size_t column, int if_empty) const {
        return has(column) ? words_[column] : if_empty;
    }

 private:
    friend class TableReader;
    int line_ = 0;
    std::vector<std::string_view> cells_;
    std::vector<double> numbers_;
    std::vector<double> uppers_;
    std::vector<std::vector<double>> lists_;
    std::vector<bool> per_sugar_;
    std::vector<std::optional<Day>> days_;
    std::vector<Instant> instants_;
    std::vector<Uuid> ids_;
    std::vector<int> words_;
};

/// Reads all rows of a table, calling `look(row)` for each, of which only line, has and text may be
/// asked, and then `take(row)` for each that is in order. Everything wrong is added to `problems`
/// with file, line and field; a bad row does not stop the rest. `currency` is the season's, which
/// headers may write for money.
class TableReader {
 public:
    TableReader(const Table& table, std::string_view bytes, std::string currency,
                ProblemList& problems);

    template <class Take, class Look>
    void read(Take&& take, Look&& look) {
        while (next()) {
            look(row_);
            if (row_in_order_) {
                take(row_);
            }
        }
        close();
    }
    /// Reads the header. False: it is not in order, nothing can be read, and that is told.
    bool open();

    /// Adds a problem of the row last read.
    void fail(std::size_t column, std::string what, std::string fix);

 private:
    void read_header_cell(std::size_t place);
    void tell_unknown_column(std::string_view name);
    void take_unit(std::size_t column, std::string_view bracket);
    void take_format(std::size_t column, std::string_view bracket);
    bool next();
    void close();
    void read_cell(std::size_t column, std::string_view cell);
    /// SI; nothing where it is no number or out of bounds, which is told. `which` is put before
    /// what is told, and says which of a cell's numbers it is.
    std::optional<double> number_in(std::size_t column, std::string_view text,
                                    const std::string& which);
    void read_number(std::size_t column, std::string_view cell);
    void read_numbers(std::size_t column, std::string_view cell);
    void read_break(std::size_t column, std::string_view cell);

    const Table& table_;
    std::string_view bytes_;
    std::string currency_;
    ProblemList& problems_;
    TableRow row_;
    bool row_in_order_ = true;
    struct State;
    std::shared_ptr<State> state_;
};

/// The units in which a column may be written; money's are called `money`.
std::vector<std::string> units_of(const Column& column);

/// The header cell of a column in a system of units: `area [ha]`.
std::string header_text(const Column& column, UnitSystem system);

}  // namespace beetwright::io
