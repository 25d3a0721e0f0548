// Any bytes: the reader of separated text must end, stay within them, and read back what our writer
// writes.
#include <cstdint>
#include <string>
#include <vector>

#include "base/contract.hpp"
#include "io/csv.hpp"

using beetwright::require;
using namespace beetwright::io;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    auto reader = CsvReader::open(bytes, "fuzzed.csv");
    if (!reader) {
        return 0;
    }
    std::vector<std::vector<std::string>> rows;
    CsvWriter writer;
    const auto keep = [&](const CsvRow& row) {
        std::size_t length = 0;
        rows.emplace_back();
        for (const auto cell : row.cells) {
            length += cell.size();
            rows.back().emplace_back(cell);
            writer.cell(cell);
        }
        writer.end_row();
        // Windows-1252 letters take up to three bytes each in UTF-8.
        require(length <= 3 * size, "cells come from the bytes");
    };
    keep(reader->header());
    CsvRow row;
    while (reader->next(row)) {
        keep(row);
    }
    if (reader->problem()) {
        return 0;
    }
    const std::string written = std::move(writer).take();
    auto again = CsvReader::open(written, "written.csv");
    // A row that begins with # or holds one empty cell reads as a comment or a blank line, and a
    // first line `sep=;` as a declaration, and a byte-order mark is not text: such rows are not
    // expected back.
    const auto special = [](const std::vector<std::string>& cells) {
        return cells[0].starts_with('#') || cells[0].starts_with("sep=") ||
               cells[0].starts_with("\xEF\xBB\xBF") ||
               (cells.size() == 1 && cells[0].find_first_not_of(" \t") == std::string::npos);
    };
    for (const auto& cells : rows) {
        if (special(cells) || rows[0].size() < 2) {
            return 0;
        }
    }
    require(again.ok(), "what was written is read");
    std::size_t count = 1;
    const auto expect_same = [&](const CsvRow& read, const std::vector<std::string>& cells) {
        require(read.cells.size() == cells.size(), "as many cells come back");
        for (std::size_t i = 0; i < cells.size(); ++i) {
            require(read.cells[i] == cells[i], "each cell comes back");
        }
    };
    if (again->separator() != ',') {
        return 0;  // a header whose only marks are quoted semicolons
    }
    expect_same(again->header(), rows[0]);
    while (again->next(row)) {
        require(count < rows.size(), "no row is made up");
        expect_same(row, rows[count++]);
    }
    require(count == rows.size(), "no row is lost");
    return 0;
}
