// Reads a table of values from outside the project: tests/oracles/<file>.csv with lines
// `name,value`.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <map>
#include <string>

namespace beetwright {

class Oracle {
 public:
    explicit Oracle(const std::string& file) {
        std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/tests/oracles/" + file + ".csv");
        std::string line;
        while (std::getline(in, line)) {
            const auto comma = line.rfind(',');
            if (line.empty() || line[0] == '#' || comma == std::string::npos) {
                continue;
            }
            values_[line.substr(0, comma)] = std::strtod(line.c_str() + comma + 1, nullptr);
        }
    }

    /// The value of this name; a test that asks for one that is not there fails.
    [[nodiscard]] double at(const std::string& name) const {
        const auto found = values_.find(name);
        if (found == values_.end()) {
            ADD_FAILURE() << "the oracle has no value named '" << name << "'";
            return 0.0;
        }
        return found->second;
    }

 private:
    std::map<std::string, double> values_;
};

}  // namespace beetwright
