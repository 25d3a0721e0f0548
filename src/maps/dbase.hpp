// The table of a shapefile (.dbf): what it says of each shape, as text.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace beetwright::maps {

struct DbaseTable {
    /// Of each record in the file's order, deleted ones too; empty cells are left out.
    std::vector<std::map<std::string, std::string, std::less<>>> records;
};

/// `code_page` is the text of the .cpg file beside it, empty where there is none: letters are
/// UTF-8 where they can be, else Windows-1252.
Result<DbaseTable> read_dbase(std::string_view bytes, std::string_view code_page,
                              const std::string& file);

}  // namespace beetwright::maps
