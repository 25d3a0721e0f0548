// Photographs as people's devices make them: whether some bytes are a JPEG, and the same picture
// without what the device wrote beside it. docs/formats/api.md.
//
// A device writes where and when a picture was taken, with which camera, by whom, and small copies
// of it, into segments that no picture needs, and behind its end. All of that goes, but for how the
// camera was held: pictures would lie on their side.
//
// Marker segments: ITU-T T.81 (1992) annex B. The pixels are not decoded.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

enum class Metadata : std::uint8_t { strip, keep };

struct Jpeg {
    std::string bytes;
    int width = 0;  ///< [pixels], before it is turned
    int height = 0;
    int turned = 1;  ///< how it is to be shown, 1 to 8: Exif's tag 0x0112
};

/// Problem: the bytes are no JPEG, or break off.
Result<Jpeg> read_jpeg(std::string_view bytes, Metadata metadata = Metadata::strip);

}  // namespace beetwright::io
