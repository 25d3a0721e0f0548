#include "maps/ascii_grid.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "base/lower_case.hpp"
#include "io/decimal.hpp"
#include "io/problem_list.hpp"
#include "maps/height_grid.hpp"

namespace beetwright::maps {
namespace {

/// Words of a text one by one, with the line that each is on.
class Words {
 public:
    explicit Words(std::string_view text) : text_(text) {}

    /// Empty at the end.
    std::string_view next() {
        while (at_ < text_.size() && is_blank(text_[at_])) {
            line_ += text_[at_] == '\n' ? 1 : 0;
            ++at_;
        }
        const auto from = at_;
        while (at_ < text_.size() && !is_blank(text_[at_])) {
            ++at_;
        }
        return text_.substr(from, at_ - from);
    }
    [[nodiscard]] int line() const { return line_; }

 private:
    static bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
};

bool begins_as_number(std::string_view word) {
    return !word.empty() && (word[0] == '-' || word[0] == '+' || word[0] == '.' ||
                             (word[0] >= '0' && word[0] <= '9'));
}

class Reader {
 public:
    Reader(std::string_view bytes, const std::string& file) : words_(bytes), file_(file) {}

    /// All of the grid; nothing where something is wrong, which is told.
    std::optional<HeightGrid> grid() {
        const auto first = head();
        if (!problems_.empty() || !shape()) {
            return std::nullopt;
        }
        cells(first);
        return problems_.empty() ? std::optional(std::move(grid_)) : std::nullopt;
    }
    [[nodiscard]] io::ProblemList& problems() { return problems_; }

 private:
    void tell(int line, std::string field, std::string what, std::string fix) {
        problems_.add({.file = file_, .line = line, .field = std::move(field)}, std::move(what),
                      std::move(fix));
    }

    std::optional<double> number(std::string_view word) {
        const auto read = io::leading_decimal(word.starts_with('+') ? word.substr(1) : word);
        const std::size_t sign = word.starts_with('+') ? 1 : 0;
        return read && read->length + sign == word.size() ? std::optional(read->value)
                                                          : std::nullopt;
    }

    /// Reads keys and numbers; the first word after them.
    std::string_view head() {
        std::string_view word = words_.next();
        while (!word.empty() && !begins_as_number(word) && lower_case(word) != "nan") {
            const auto key = lower_case(word);
            const int line = words_.line();
            constexpr std::string_view kKeys[] = {
                "ncols",     "nrows",    "xllcorner", "yllcorner", "xllcenter",
                "yllcenter", "cellsize", "dx",        "dy",        "nodata_value"};
            if (std::ranges::find(kKeys, key) == std::end(kKeys)) {
                tell(line, std::string(word.substr(0, 20)), "this word is not known here",
                     "the head has ncols, nrows, xllcorner, yllcorner, cellsize, NODATA_value; "
                     "then come numbers");
                return {};
            }
            const auto text = words_.next();
            const auto value = number(text);
            if (!value && key == "nodata_value" && lower_case(text) == "nan") {
                word = words_.next();
                continue;
            }
            if (!value) {
                tell(line, key, "'" + std::string(text.substr(0, 20)) + "' is no number",
                     "write a number with a decimal point");
                return {};
            }
            if (!head_.emplace(key, *value).second) {
                tell(line, key, "this stands twice", "leave one of them out");
                return {};
            }
            word = words_.next();
        }
        return word;
    }

    std::optional<double> said(const std::string& key) const {
        const auto found = head_.find(key);
        return found == head_.end() ? std::nullopt : std::optional(found->second);
    }

    /// How many columns or rows; 0 where that is not said or no such number, which is told.
    std::size_t count(const std::string& key) {
        const auto number = said(key);
        if (!number) {
            tell(0, key, "the head does not say this", "write how many there are");
            return 0;
        }
        if (*number < 1.0 || *number > static_cast<double>(kMostCells) ||
            *number != std::floor(*number)) {
            tell(0, key, "this is no number of columns or rows that is read here",
                 "write a whole number; cut larger grids to the fields' ground");
            return 0;
        }
        return static_cast<std::size_t>(*number);
    }

    bool shape() {
        grid_.columns = count("ncols");
        grid_.rows = count("nrows");
        const auto step_x = said("cellsize") ? said("cellsize") : said("dx");
        const auto step_y = said("cellsize") ? said("cellsize") : said("dy");
        if (!step_x || !step_y || *step_x <= 0.0 || *step_y <= 0.0) {
            tell(0, "cellsize", "the head does not say how large a cell is",
                 "write a number above zero");
        }
        const auto west = said("xllcenter") ? said("xllcenter") : said("xllcorner");
        const auto south = said("yllcenter") ? said("yllcenter") : said("yllcorner");
        if (!west || !south) {
            tell(0, west ? "yllcorner" : "xllcorner", "the head does not say where the grid is",
                 "write xllcorner and yllcorner, or xllcenter and yllcenter");
        }
        if (!problems_.empty()) {
            return false;
        }
        if (grid_.columns * grid_.rows > kMostCells) {
            problems_.add({ProblemKind::limit,
                           {.file = file_, .line = 0, .field = "ncols"},
                           "the grid has more than " + std::to_string(kMostCells) + " cells",
                           "cut it to the fields' ground"});
            return false;
        }
        grid_.step_east = *step_x;
        grid_.step_north = -*step_y;
        grid_.first_east = *west + (said("xllcenter") ? 0.0 : 0.5 * *step_x);
        grid_.first_north = *south + (said("yllcenter") ? 0.0 : 0.5 * *step_y) +
                            *step_y * static_cast<double>(grid_.rows - 1);
        return true;
    }

    void cells(std::string_view word) {
        const std::size_t expected = grid_.columns * grid_.rows;
        // ESRI's own default, where the head has none.
        constexpr double kUsualNoData = -9999.0;
        const double no_data = said("nodata_value").value_or(kUsualNoData);
        while (!word.empty()) {
            const auto value = number(word);
            if (!value && lower_case(word) != "nan") {
                tell(words_.line(), "", "'" + std::string(word.substr(0, 20)) + "' is no number",
                     "write heights with a decimal point and blanks between them");
                return;
            }
            if (grid_.heights.size() == expected) {
                tell(words_.line(), "",
                     "more values than the " + std::to_string(expected) +
                         " that ncols and nrows make",
                     "see whether these two are right");
                return;
            }
            grid_.heights.push_back(value && *value != no_data ? *value : ground::kNotSaid);
            word = words_.next();
        }
        if (grid_.heights.size() < expected) {
            tell(words_.line(), "",
                 "the file ends after " + std::to_string(grid_.heights.size()) + " of " +
                     std::to_string(expected) + " values",
                 "was it cut off in copying? Copy it again");
        }
    }

    Words words_;
    const std::string& file_;
    io::ProblemList problems_;
    std::map<std::string, double, std::less<>> head_;
    HeightGrid grid_;
};

}  // namespace

Result<ground::Heights> read_ascii_grid(std::string_view bytes, const std::string& file,
                                        const MapFacts& facts) {
    Reader reader(bytes, file);
    auto grid = reader.grid();
    if (!grid) {
        return std::move(reader.problems()).take();
    }
    const auto metres = height_unit_m(facts, file);
    if (!metres) {
        return metres.problems();
    }
    grid->metres = *metres;
    std::vector<std::string> notes;
    const auto crs = facts.crs.empty()
                         ? crs_supposed(*grid, file, notes)
                         : Crs::from_text(facts.crs, {.file = file, .line = 0, .field = "crs"});
    if (!crs) {
        return crs.problems();
    }
    return heights_of(*grid, *crs, file, facts, std::move(notes));
}

bool looks_like_ascii_grid(std::string_view bytes) {
    return lower_case(Words(bytes.substr(0, 200)).next()) == "ncols";
}

}  // namespace beetwright::maps
