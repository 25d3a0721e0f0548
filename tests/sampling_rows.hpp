// Reads tests/oracles/sampling_rows.csv: what was dug at 21 sites of Franconia, year by year.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace beetwright {

struct SamplingRow {
    int week, year;
    double root_t_ha, pol_percent, sugar_t_ha, molasses_percent;
};

inline std::vector<SamplingRow> sampling_rows() {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/tests/oracles/sampling_rows.csv");
    EXPECT_TRUE(in);
    std::vector<SamplingRow> rows;
    std::string line;
    while (std::getline(in, line)) {
        if (line.empty() || line[0] == '#' || line[0] == 'w') {
            continue;
        }
        for (char& c : line) {
            c = c == ',' ? ' ' : c;
        }
        std::istringstream cells(line);
        SamplingRow row{};
        cells >> row.week >> row.year >> row.root_t_ha >> row.pol_percent >> row.sugar_t_ha >>
            row.molasses_percent;
        rows.push_back(row);
    }
    return rows;
}

}  // namespace beetwright
