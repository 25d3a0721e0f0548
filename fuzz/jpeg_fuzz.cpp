// Any bytes: a JPEG that was read reads again as the same, and says nothing of where it was taken.
#include <cstdint>
#include <string_view>

#include "base/contract.hpp"
#include "io/jpeg.hpp"

using namespace beetwright;
using namespace beetwright::io;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto kept = read_jpeg(bytes, Metadata::keep);
    const auto stripped = read_jpeg(bytes);
    require(kept.ok() == stripped.ok(), "what is a JPEG does not hang on what is kept");
    if (!stripped) {
        require(!stripped.problems().empty(), "a refusal says why");
        return 0;
    }
    require(kept->bytes == bytes, "whoever wants all gets all");
    const auto again = read_jpeg(stripped->bytes);
    require(again.ok(), "a picture without its metadata is a JPEG");
    require(again->bytes == stripped->bytes, "there is nothing more to strip");
    require(again->width == stripped->width && again->height == stripped->height &&
                again->turned == stripped->turned,
            "it is the same picture");
    constexpr std::size_t exif_of_ours = 36;
    require(stripped->bytes.size() <= size + exif_of_ours, "stripping adds nothing else");
    return 0;
}
