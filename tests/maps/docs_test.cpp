// The examples of docs/formats/maps.md are read.
#include <gtest/gtest.h>

#include <fstream>

#include "maps/map_checks.hpp"
#include "maps/map_file.hpp"

namespace beetwright::maps {
namespace {

/// The indented blocks of the page, in their order.
std::vector<std::string> examples() {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/docs/formats/maps.md");
    std::vector<std::string> blocks;
    bool is_inside = false;
    for (std::string line; std::getline(in, line);) {
        const bool is_example = line.starts_with("    ");
        if (is_example && !is_inside) {
            blocks.emplace_back();
        }
        if (is_example) {
            blocks.back() += line.substr(4) + "\n";
        }
        is_inside = is_example;
    }
    return blocks;
}

TEST(MapsPage, ItsExamplesAreRead) {
    const auto blocks = examples();
    const std::vector expected{MapKind::geojson, MapKind::nmea, MapKind::point_table,
                               MapKind::ascii_grid};
    ASSERT_EQ(blocks.size(), expected.size());
    for (std::size_t k = 0; k < blocks.size(); ++k) {
        const std::vector<MapFile> files{{"example", blocks[k]}};
        EXPECT_EQ(kind_of(files[0]), expected[k]);
        const auto reading = read_map_file(files);
        EXPECT_TRUE(reading) << blocks[k] << reading.problems().front().text();
    }
}

}  // namespace
}  // namespace beetwright::maps
