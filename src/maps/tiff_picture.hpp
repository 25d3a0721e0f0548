// A TIFF in memory: its one band of numbers, and the tags with which GeoTIFF says where it is. The
// library for it is seen in tiff_picture.cpp alone.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace beetwright::maps {

struct TiffPicture {
    std::size_t columns = 0;
    std::size_t rows = 0;
    std::vector<double> numbers;          ///< row by row from the top; NaN where the file has none
    std::vector<double> pixel_scale;      ///< ModelPixelScaleTag
    std::vector<double> tie_points;       ///< ModelTiepointTag
    std::vector<double> transformation;   ///< ModelTransformationTag
    std::vector<std::uint16_t> geo_keys;  ///< GeoKeyDirectoryTag
};

/// Problems name the strip or tile that cannot be read. `most_cells` is more than it may have.
Result<TiffPicture> read_tiff(std::string_view bytes, const std::string& file,
                              std::size_t most_cells);

}  // namespace beetwright::maps
