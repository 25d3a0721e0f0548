// Any bytes as a ZIP archive: the reader must end within its limits, and what it takes can be
// written and comes back.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "maps/zip.hpp"

using namespace beetwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    constexpr maps::ZipLimits kSmall{.archive_bytes = std::size_t{1} << 20,
                                     .files = 64,
                                     .file_bytes = std::uint64_t{1} << 20,
                                     .all_bytes = std::uint64_t{4} << 20,
                                     .ratio = 200,
                                     .ratio_from_bytes = std::uint64_t{1} << 16};
    const auto files = maps::read_zip(bytes, "fuzzed", kSmall);
    if (!files) {
        require(!files.problems().front().what.empty(), "what is wrong is said");
        return 0;
    }
    require(files->size() <= kSmall.files, "no more files than there may be");
    std::uint64_t all = 0;
    for (const auto& file : *files) {
        require(file.bytes.size() <= kSmall.file_bytes, "no file is larger than it may be");
        all += file.bytes.size();
    }
    require(all <= kSmall.all_bytes, "they are not larger together than they may be");
    if (files->empty()) {
        return 0;
    }
    const auto again = maps::write_zip(*files);
    require(again.ok(), "what was read is written");
    const auto back = maps::read_zip(*again, "again");
    require(back.ok() && *back == *files, "what was written comes back");
    return 0;
}
