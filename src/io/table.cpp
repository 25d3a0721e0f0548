#include "io/table.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/nearest_name.hpp"
#include "base/number_text.hpp"
#include "base/trimmed.hpp"
#include "io/csv.hpp"
#include "io/numbers.hpp"

namespace beetwright::io {
namespace {

/// A header cell `name [unit]`.
struct HeaderCell {
    std::string_view name;
    std::string_view bracket;  ///< empty: none
};

HeaderCell split_header(std::string_view cell) {
    cell = trimmed(cell);
    const auto open = cell.find('[');
    if (open == std::string_view::npos || cell.back() != ']') {
        return {cell, {}};
    }
    return {trimmed(cell.substr(0, open)), trimmed(cell.substr(open + 1, cell.size() - open - 2))};
}

std::string units_for(const Column& column, const std::string& currency) {
    std::string list;
    for (std::string symbol : units_of(column)) {
        if (symbol.starts_with("money") && !currency.empty()) {
            symbol.replace(0, 5, currency);
        }
        list += (list.empty() ? "" : ", ") + symbol;
    }
    return list;
}

/// Whether a column's header says in which unit its numbers are.
bool has_unit(const Column& column) {
    const bool is_number = column.kind == CellKind::number || column.kind == CellKind::numbers ||
                           column.kind == CellKind::break_diameter;
    return is_number && column.unit_kind != UnitKind::number;
}

/// A laboratory's unit for an element; per sugar, as for beet that is all sugar.
std::optional<Unit> lab_unit(worth::Element element, std::string_view symbol) {
    if (symbol == "ppm") {
        symbol = "mg/kg";
    }
    const auto found = std::ranges::find(worth::lab_units(), symbol, &worth::LabUnitRow::symbol);
    if (found == worth::lab_units().end()) {
        return std::nullopt;
    }
    const auto one = worth::from_lab(element, found->unit, 1.0, SugarContent(1.0));
    return Unit{found->symbol, UnitKind::amount_content, one.si(), 0.0, UnitSystem::both};
}

constexpr double kMostPerSugar = 20.0;  ///< over the content of beet: a twentieth of it sugar

/// What to write if a temperature that is none here was read on the other scale.
std::string other_scale_hint(const Column& column, const Unit& unit, double number) {
    if (column.unit_kind != UnitKind::temperature) {
        return {};
    }
    const bool is_celsius = unit.symbol == "°C";
    const double si = find_unit(is_celsius ? "°F" : "°C")->to_si(number);
    if (si < column.least || si > column.most) {
        return {};
    }
    return std::string("; if it was read in ") +
           (is_celsius ? "Fahrenheit, write [°F] in the header"
                       : "degrees Celsius, write [°C] in the header");
}

std::string words_for(const Column& column) {
    std::string list;
    for (const Word& word : column.allowed) {
        list += (list.empty() ? "" : ", ") + std::string(word.text);
    }
    return list;
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The mark that parts the cells of a header which came out as a single cell; '\0': none.
char strange_separator(const std::vector<std::string_view>& cells) {
    if (cells.size() != 1) {
        return '\0';
    }
    const auto at = cells.front().find_first_of("|:^~!");
    return at == std::string_view::npos ? '\0' : cells.front()[at];
}

/// "(driver's telephone)": a column that is in the file for somebody else.
bool is_passed_over(std::string_view heading) {
    heading = trimmed(heading);
    return heading.size() >= 2 && heading.front() == '(' && heading.back() == ')';
}

constexpr std::size_t kNotThere = static_cast<std::size_t>(-1);

/// Breaks wider than the largest class have no upper end.
constexpr double kNoEnd = std::numeric_limits<double>::infinity();

}  // namespace

struct TableReader::State {
    std::optional<CsvReader> csv;
    std::optional<NumberReader> numbers;
    CsvRow cells;
    std::vector<std::size_t> place;  ///< of each column among the cells
    std::vector<Unit> units;
    std::vector<DayFormat> days;
    std::vector<InstantFormat> instants;
    std::size_t most_cells = 0;
};

TableReader::TableReader(const Table& table, std::string_view bytes, std::string currency,
                         ProblemList& problems)
    : table_(table),
      bytes_(bytes),
      currency_(std::move(currency)),
      problems_(problems),
      state_(std::make_shared<State>()) {
    const std::size_t columns = table.columns.size();
    row_.cells_.resize(columns);
    row_.numbers_.resize(columns);
    row_.uppers_.resize(columns);
    row_.lists_.resize(columns);
    row_.per_sugar_.resize(columns);
    row_.days_.resize(columns);
    row_.instants_.resize(columns);
    row_.ids_.resize(columns);
    row_.words_.resize(columns);
}

void TableReader::fail(std::size_t column, std::string what, std::string fix) {
    row_in_order_ = false;
    problems_.add({.file = std::string(table_.file),
                   .line = row_.line_,
                   .field = std::string(table_.columns[column].name)},
                  std::move(what), std::move(fix));
}

bool TableReader::open() {
    auto csv = CsvReader::open(bytes_, std::string(table_.file));
    if (!csv) {
        problems_.add(csv.problems());
        return false;
    }
    State& s = *state_;
    s.csv.emplace(std::move(*csv));
    s.numbers.emplace(s.csv->separator());
    const auto& header = s.csv->header();
    row_.line_ = header.line;
    s.most_cells = header.cells.size();
    const std::size_t problems_before = problems_.count();
    if (const char mark = strange_separator(header.cells); mark != '\0') {
        problems_.add({.file = std::string(table_.file), .line = header.line, .field = ""},
                      std::string("the cells are parted by '") + mark + "'",
                      "save it with commas, semicolons or tabs between them");
        return false;
    }
    const std::size_t columns = table_.columns.size();
    s.place.assign(columns, kNotThere);
    s.units.assign(columns, Unit{"1", UnitKind::number, 1.0, 0.0, UnitSystem::both});
    s.days.resize(columns);
    s.instants.resize(columns);
    for (std::size_t place = 0; place < header.cells.size(); ++place) {
        if (!is_passed_over(header.cells[place])) {
            read_header_cell(place);
        }
    }
    for (std::size_t column = 0; column < columns; ++column) {
        if (table_.columns[column].presence == Presence::required && s.place[column] == kNotThere) {
            fail(column, "this column is missing",
                 "add it: " + std::string(table_.columns[column].words));
        }
    }
    return problems_.count() == problems_before;
}

void TableReader::read_header_cell(std::size_t place) {
    State& s = *state_;
    const auto cell = split_header(s.csv->header().cells[place]);
    const auto found = std::ranges::find(table_.columns, cell.name, &Column::name);
    if (found == table_.columns.end()) {
        tell_unknown_column(cell.name);
        return;
    }
    const auto column = static_cast<std::size_t>(found - table_.columns.begin());
    if (s.place[column] != kNotThere) {
        fail(column, "this column stands twice", "leave one of them out");
        return;
    }
    s.place[column] = place;
    if (has_unit(*found)) {
        take_unit(column, cell.bracket);
    } else if (!cell.bracket.empty()) {
        take_format(column, cell.bracket);
    }
}

void TableReader::tell_unknown_column(std::string_view name) {
    std::string known;
    std::set<std::string> names;
    for (const Column& column : table_.columns) {
        known += (known.empty() ? "" : ", ") + std::string(column.name);
        names.emplace(column.name);
    }
    problems_.add(
        {.file = std::string(table_.file), .line = row_.line_, .field = std::string(name)},
        "this column is not known here",
        did_you_mean(name, names) + "The columns are: " + known +
            "; one that is not for us is put in brackets: (" + std::string(name) + ")");
}

/// The unit that the header gives for a column of amounts.
void TableReader::take_unit(std::size_t column, std::string_view bracket) {
    const Column& described = table_.columns[column];
    std::string symbol(bracket);
    auto unit = find_unit(symbol);
    // Only then by the currency: a season may reckon in something that is called as a unit.
    if (!unit && !currency_.empty() && symbol.starts_with(currency_)) {
        symbol.replace(0, currency_.size(), "money");
        unit = find_unit(symbol);
    }
    if (described.element) {
        unit = lab_unit(*described.element, symbol);
        row_.per_sugar_[column] = unit && unit->symbol.ends_with("sugar");
    }
    if (!unit || unit->kind != described.unit_kind) {
        fail(column,
             bracket.empty() ? "the header does not say the unit"
                             : "'" + std::string(bracket) + "' is not a unit that belongs here",
             "write the unit in brackets, one of: " + units_for(described, currency_));
        return;
    }
    state_->units[column] = *unit;
}

/// How the header says that days or instants are written.
void TableReader::take_format(std::size_t column, std::string_view bracket) {
    const std::string words = "'" + std::string(bracket) + "'";
    switch (table_.columns[column].kind) {
        case CellKind::day:
            if (const auto format = parse_day_format(bracket)) {
                state_->days[column] = *format;
            } else {
                fail(column, words + " is not a way to write days",
                     "write dd.mm.yyyy, mm/dd/yyyy or the like, or nothing for 2031-10-04");
            }
            break;
        case CellKind::instant:
            if (const auto format = parse_instant_format(bracket)) {
                state_->instants[column] = *format;
            } else {
                fail(column, words + " is not a way to write instants",
                     "write dd.mm.yyyy hh:mm +02:00 or the like");
            }
            break;
        default:
            fail(column, "this column has no unit, and says " + words, "leave the brackets out");
            break;
    }
}

bool TableReader::next() {
    State& s = *state_;
    do {
        if (!s.csv->next(s.cells)) {
            return false;
        }
        // Spreadsheets leave rows of nothing but separators below a table.
    } while (std::ranges::all_of(s.cells.cells,
                                 [](std::string_view cell) { return trimmed(cell).empty(); }));
    row_.line_ = s.cells.line;
    row_in_order_ = true;
    if (s.cells.cells.size() != s.most_cells) {
        row_in_order_ = false;
        const bool cut_off =
            s.cells.ends_file_without_newline && s.cells.cells.size() < s.most_cells;
        problems_.add({.file = std::string(table_.file), .line = row_.line_, .field = ""},
                      std::to_string(s.cells.cells.size()) + " cells where the header has " +
                          std::to_string(s.most_cells),
                      cut_off ? "the file ends here; was it cut off in copying? Copy it again"
                              : "give each row as many cells as the header");
        for (std::size_t column = 0; column < table_.columns.size(); ++column) {
            const std::size_t place = s.place[column];
            row_.cells_[column] =
                place < s.cells.cells.size() ? trimmed(s.cells.cells[place]) : std::string_view();
        }
        return true;
    }
    for (std::size_t column = 0; column < table_.columns.size(); ++column) {
        const std::size_t place = s.place[column];
        read_cell(column, place == kNotThere ? std::string_view() : trimmed(s.cells.cells[place]));
    }
    return true;
}

void TableReader::close() {
    State& s = *state_;
    if (s.csv->problem()) {
        problems_.add(*s.csv->problem());
    }
    if (auto marks = s.numbers->check_marks(); !marks) {
        for (Problem problem : marks.problems()) {
            problem.where.file = std::string(table_.file);
            problems_.add(std::move(problem));
        }
    }
}

void TableReader::read_cell(std::size_t column, std::string_view cell) {
    const Column& described = table_.columns[column];
    row_.cells_[column] = cell;
    row_.numbers_[column] = std::numeric_limits<double>::quiet_NaN();
    row_.uppers_[column] = std::numeric_limits<double>::quiet_NaN();
    row_.lists_[column].clear();
    row_.days_[column].reset();
    row_.ids_[column] = Uuid();
    if (cell.empty()) {
        if (described.presence == Presence::required) {
            fail(column, "this is empty", "fill it in: " + std::string(described.words));
        }
        return;
    }
    const auto fail_with = [&](const Problems& problems) {
        fail(column, problems.front().what, problems.front().fix);
    };
    switch (described.kind) {
        case CellKind::text:
        case CellKind::earlier: break;  // resolved when all ids are known
        case CellKind::number: read_number(column, cell); break;
        case CellKind::numbers: read_numbers(column, cell); break;
        case CellKind::number_or_word:
            if (const auto word = std::ranges::find(described.allowed, cell, &Word::text);
                word != described.allowed.end()) {
                row_.words_[column] = word->code;
            } else if (is_letter(cell.front())) {
                fail(column,
                     "'" + std::string(cell) + "' is neither a number nor a word known here",
                     "write a number, or one of: " + words_for(described));
            } else {
                read_number(column, cell);
            }
            break;
        case CellKind::break_diameter: read_break(column, cell); break;
        case CellKind::day: {
            auto day = read_day(cell, state_->days[column]);
            if (day) {
                row_.days_[column] = *day;
            } else {
                fail_with(day.problems());
            }
            break;
        }
        case CellKind::instant: {
            auto instant = read_instant(cell, state_->instants[column]);
            if (instant) {
                row_.instants_[column] = *instant;
            } else {
                fail_with(instant.problems());
            }
            break;
        }
        case CellKind::id: {
            const auto id = Uuid::parse(cell);
            if (id) {
                row_.ids_[column] = *id;
            } else {
                fail(
                    column, "'" + std::string(cell) + "' is not an id",
                    "leave it empty, or write a UUID such as 017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
            }
            break;
        }
        case CellKind::word: {
            const auto word = std::ranges::find(described.allowed, cell, &Word::text);
            if (word != described.allowed.end()) {
                row_.words_[column] = word->code;
            } else {
                fail(column, "'" + std::string(cell) + "' is not one of the words known here",
                     "write one of: " + words_for(described));
            }
            break;
        }
    }
}

std::optional<double> TableReader::number_in(std::size_t column, std::string_view text,
                                             const std::string& which) {
    auto number = state_->numbers->read(text, row_.line_);
    if (!number) {
        fail(column, which + number.problems().front().what, number.problems().front().fix);
        return std::nullopt;
    }
    const Column& described = table_.columns[column];
    const double si = state_->units[column].to_si(*number);
    if (described.digits == Digits::whole && si != std::floor(si)) {
        fail(column, which + std::string(text) + " is not a whole number", "count one by one");
        return std::nullopt;
    }
    // A bound is met to rounding: 100 % typed is 100 %.
    const double slack = 1e-12 * std::abs(si);
    const double most = described.most * (row_.per_sugar_[column] ? kMostPerSugar : 1.0);
    if (si < described.least - slack || si > most + slack) {
        const Unit& unit = state_->units[column];
        const auto bound = [&](double value) { return number_text(value, unit); };
        const std::string symbol = described.unit_kind == UnitKind::number
                                       ? std::string()
                                       : " " + std::string(unit.symbol);
        std::string range = "from " + bound(described.least) + " to " + bound(most);
        if (std::isinf(most)) {
            range = bound(described.least) + " or more";
        }
        fail(column, which + std::string(text) + symbol + " is not possible here",
             "it must be " + range + symbol + other_scale_hint(described, unit, *number));
        return std::nullopt;
    }
    return si;
}

void TableReader::read_number(std::size_t column, std::string_view cell) {
    if (const auto si = number_in(column, cell, "")) {
        row_.numbers_[column] = *si;
        row_.uppers_[column] = *si;
    }
}

void TableReader::read_numbers(std::size_t column, std::string_view cell) {
    auto& list = row_.lists_[column];
    const std::size_t most = table_.columns[column].most_numbers;
    while (!cell.empty()) {
        const auto end = std::min(cell.find_first_of(" \t"), cell.size());
        if (list.size() == most) {
            fail(column, "more than " + std::to_string(most) + " numbers stand here",
                 "write up to " + std::to_string(most) + ", and the others in a row of their own");
            return;
        }
        const std::string which = "number " + std::to_string(list.size() + 1) + ": ";
        const auto si = number_in(column, cell.substr(0, end), which);
        if (!si) {
            return;  // one is told, as of any other cell
        }
        list.push_back(*si);
        cell = trimmed(cell.substr(end));
    }
}

void TableReader::read_break(std::size_t column, std::string_view cell) {
    if (cell == "whole") {
        row_.numbers_[column] = 0.0;
        row_.uppers_[column] = 0.0;
        return;
    }
    const bool is_open = cell.front() == '>';
    const auto dash = cell.find('-', 1);
    if (!is_open && dash == std::string_view::npos) {
        read_number(column, cell);
        return;
    }
    const auto lower = trimmed(is_open ? cell.substr(1) : cell.substr(0, dash));
    read_number(column, lower);
    const double from = row_.numbers_[column];
    if (std::isnan(from)) {
        return;
    }
    if (is_open) {
        row_.uppers_[column] = kNoEnd;
        return;
    }
    read_number(column, trimmed(cell.substr(dash + 1)));
    const double to = row_.numbers_[column];
    row_.numbers_[column] = from;
    if (!std::isnan(to) && to < from) {
        fail(column, "'" + std::string(cell) + "' ends before it starts",
             "write the smaller diameter first, such as 2-4");
    }
}

std::string TableRow::content(const Table& table) const {
    std::string content(table.file);
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        if (!has(c)) {
            continue;
        }
        content += '\x1f' + std::string(table.columns[c].name) + '\x1e';
        switch (table.columns[c].kind) {
            case CellKind::number_or_word:
                if (std::isnan(numbers_[c])) {
                    content += text(c);
                    break;
                }
                [[fallthrough]];
            case CellKind::number:
            case CellKind::break_diameter: {
                content += general_text(numbers_[c], 12) + "/" + general_text(uppers_[c], 12);
                break;
            }
            case CellKind::numbers:
                for (const double number : lists_[c]) {
                    content += general_text(number, 12) + " ";
                }
                break;
            case CellKind::day: content += to_text(*days_[c]); break;
            case CellKind::instant: content += to_text(instants_[c]); break;
            case CellKind::id: content += ids_[c].text(); break;
            case CellKind::text:
            case CellKind::earlier:
            case CellKind::word: content += text(c); break;
        }
    }
    return content;
}

std::vector<std::string> units_of(const Column& column) {
    std::vector<std::string> symbols;
    if (column.element) {
        for (const auto& row : worth::lab_units()) {
            symbols.emplace_back(row.symbol);
        }
        return symbols;
    }
    for (const Unit& unit : all_units()) {
        if (unit.kind == column.unit_kind && unit.kind != UnitKind::number) {
            symbols.emplace_back(unit.symbol);
        }
    }
    return symbols;
}

std::string header_text(const Column& column, UnitSystem system) {
    const auto unit = system == UnitSystem::us ? column.us_unit : column.metric_unit;
    std::string text(column.name);
    if (!unit.empty()) {
        text += " [" + std::string(unit) + "]";
    }
    return text;
}

}  // namespace beetwright::io
