// Reads tests/data/<file>: rows of numbers, lines with # passed over.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace beetwright::weather {

inline std::vector<std::vector<double>> read_daily_table(const std::string& file) {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/tests/data/" + file);
    EXPECT_TRUE(in) << file;
    std::vector<std::vector<double>> rows;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line[0] == '#') {
            continue;
        }
        std::istringstream cells(line);
        auto& row = rows.emplace_back();
        for (std::string cell; std::getline(cells, cell, ',');) {
            row.push_back(std::strtod(cell.c_str(), nullptr));
        }
    }
    return rows;
}

}  // namespace beetwright::weather
