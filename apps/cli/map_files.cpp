#include "map_files.hpp"

#include <filesystem>

#include "maps/zip.hpp"

namespace beetwright::cli {

std::vector<maps::MapFile> MapFiles::maps() const {
    std::vector<maps::MapFile> all;
    for (std::size_t i = 0; i < names.size(); ++i) {
        all.push_back({names[i], bytes[i]});
    }
    return all;
}

Result<MapFiles> read_map_files(const std::string& file) {
    MapFiles files;
    auto bytes = read_file(file);
    if (!bytes) {
        return bytes.problems();
    }
    files.names.push_back(file);
    files.bytes.push_back(std::move(*bytes));
    if (maps::is_zip(files.bytes.front())) {
        return files;  // with all that belongs to it inside
    }
    const std::filesystem::path path(file);
    for (const char* ending : {".dbf", ".prj", ".cpg"}) {
        auto beside = path;
        beside.replace_extension(ending);
        std::error_code none;
        if (beside != path && std::filesystem::is_regular_file(beside, none)) {
            auto more = read_file(beside.string());
            if (!more) {
                return more.problems();
            }
            files.names.push_back(beside.string());
            files.bytes.push_back(std::move(*more));
        }
    }
    return files;
}

}  // namespace beetwright::cli
