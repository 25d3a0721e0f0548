// Files of maps on the disk, each with those that stand beside it and belong to it.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "common.hpp"
#include "maps/field_ground.hpp"

namespace beetwright::cli {

struct MapFiles {
    std::vector<std::string> names;
    std::vector<std::string> bytes;

    [[nodiscard]] std::vector<maps::MapFile> maps() const;
};

/// Of a shapefile, or a grid whose system stands beside it, the companions are found by their name.
Result<MapFiles> read_map_files(const std::string& file);

/// What a file on the disk says of a field's ground, by one of the readers of field_ground.hpp.
template <class Reading>
Result<Reading> read_ground(const std::string& file, const std::string& field,
                            Result<Reading> (*read)(std::span<const maps::MapFile>,
                                                    const std::string&, const maps::MapFacts&)) {
    const auto files = read_map_files(file);
    if (!files) {
        return files.problems();
    }
    return read(files->maps(), field, {});
}

}  // namespace beetwright::cli
