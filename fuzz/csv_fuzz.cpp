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
    // A header of our own stands first, so that nothing in the fuzzed rows can pass for a
    // byte-order mark, a declared separator or another kind of file.
    writer.cell("first");
    writer.cell("second");
    writer.end_row();
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
    require(again.ok(), "what was written is read");
    std::size_t count = 0;
    while (again->next(row)) {
        require(count < rows.size(), "no row is made up");
        const auto& cells = rows[count++];
        require(row.cells.size() == cells.size(), "as many cells come back");
        for (std::size_t i = 0; i < cells.size(); ++i) {
            require(row.cells[i] == cells[i], "each cell comes back");
        }
    }
    require(count == rows.size() || again->problem().has_value(), "no row is lost");
    return 0;
}
