// ZIP archives, from memory and into memory. What comes in may be damaged or made to do harm: an
// archive that says or turns out to hold more than anybody sends is refused before it fills memory,
// and one that is not whole gives nothing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace beetwright::maps {

/// A file by its name, with folders before it: "TASKDATA/TASKDATA.XML".
struct NamedFile {
    std::string name;
    std::string bytes;
    friend bool operator==(const NamedFile&, const NamedFile&) = default;
};

/// The most that is taken of an archive. A season's logs of one machine stay far below.
struct ZipLimits {
    std::size_t archive_bytes = std::size_t{64} << 20;
    std::size_t files = 4096;
    std::uint64_t file_bytes = std::uint64_t{64} << 20;  ///< of one file, unpacked
    std::uint64_t all_bytes = std::uint64_t{128} << 20;  ///< of all files together, unpacked
    /// Unpacked to packed, of files over `ratio_from_bytes`: small ones may be all one byte.
    std::uint64_t ratio = 200;
    std::uint64_t ratio_from_bytes = std::uint64_t{4} << 20;
};

/// Whether the bytes begin as an archive does.
bool is_zip(std::string_view bytes);

/// All files of an archive, in its order, folders left out; backslashes in names are read as
/// slashes. Problems name `file`.
Result<std::vector<NamedFile>> read_zip(std::string_view bytes, const std::string& file,
                                        const ZipLimits& limits = {});

/// Names the archive before the files in it: "fields.zip/north/fields.shp".
Problems problems_within(Problems problems, const std::string& archive);

/// An archive of these files, one at least, whose names differ. The same files make the same bytes:
/// every file is dated 1 January 1980, the first day that an archive can name.
Result<std::string> write_zip(std::span<const NamedFile> files);

}  // namespace beetwright::maps
