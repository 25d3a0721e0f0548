// Files that other programs wrote, in tests/oracles/maps: tools/oracles/maps.R has them made.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

namespace beetwright::maps {

inline std::string made_elsewhere(const std::string& name) {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/tests/oracles/maps/" + name,
                     std::ios::binary);
    EXPECT_TRUE(in) << name;
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace beetwright::maps
