// Reads and writes separated text (RFC 4180) as spreadsheets make it.
//
// Our own, because a million counted beets must be read in about a second, every problem must name
// its line, and files come with `,` `;` or tabs, with or without a byte-order mark, in UTF-8 or
// Windows-1252. Cells are views into the text; only cells with doubled quotes are copied.
#pragma once

#include <cstddef>
#include <deque>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace beetwright::io {

struct CsvLimits {
    std::size_t file_bytes = std::size_t{1} << 30U;
    std::size_t row_bytes = std::size_t{1} << 20U;
    std::size_t cells = 1000;  ///< in one row
};

struct CsvRow {
    int line = 0;  ///< where the row starts; the file's first line is 1
    std::vector<std::string_view> cells;
    bool ends_file_without_newline = false;  ///< a file cut off in copying often ends so
};

/// Goes through a file row by row. Blank lines and lines that start with # are passed over, and a
/// first line `sep=;` is obeyed. The bytes must outlive the reader and its cells.
class CsvReader {
 public:
    /// Reads up to and with the header line, and finds the separator there.
    static Result<CsvReader> open(std::string_view bytes, std::string file,
                                  const CsvLimits& limits = {});

    [[nodiscard]] const CsvRow& header() const { return header_; }
    [[nodiscard]] char separator() const { return separator_; }
    [[nodiscard]] const std::string& file() const { return file_; }

    /// The next row; false at the end of the file, or at a fault that nothing after it survives.
    bool next(CsvRow& row);
    [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

 private:
    CsvReader(std::string file, const CsvLimits& limits)
        : file_(std::move(file)), limits_(limits) {}

    void pass_over_lines();
    void find_separator();
    bool read_row(CsvRow& row);
    bool read_quoted(CsvRow& row);
    void read_plain(CsvRow& row);
    void end_line();
    bool refuse(int line, std::string what, std::string fix);

    std::string file_;
    CsvLimits limits_;
    std::unique_ptr<std::string> decoded_;  // on the heap: views stay good when the reader moves
    std::string_view text_;
    std::size_t at_ = 0;
    int line_ = 1;
    char separator_ = ',';
    CsvRow header_;
    std::deque<std::string> unescaped_;
    std::optional<Problem> problem_;
};

/// Writes rows with commas and line feeds; quotes only where needed.
class CsvWriter {
 public:
    void cell(std::string_view text);
    void end_row();
    [[nodiscard]] std::size_t length() const { return text_.size(); }
    /// Starts a row with the cells that another began with, which stand from `begin` to `end`.
    void start_row_as(std::size_t begin, std::size_t end);
    [[nodiscard]] std::string take() && { return std::move(text_); }

 private:
    std::string text_;
    bool row_has_cells_ = false;
};

}  // namespace beetwright::io
