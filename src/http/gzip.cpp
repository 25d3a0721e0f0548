#include "http/gzip.hpp"

#define ZLIB_CONST
#include <zlib.h>

#include <limits>

namespace beetwright::http {
namespace {

// The quickest: a season is compressed anew at each of its revisions, and its tables shrink to a
// tenth as it is. The best level takes five times as long for a fifth less.
constexpr int kLevel = Z_BEST_SPEED;
constexpr int kGzip = 16;        ///< added to the window: gzip's header and checksum
constexpr int kUsualMemory = 8;  ///< zlib's own default

}  // namespace

std::optional<std::string> gzipped(std::string_view text) {
    z_stream stream{};
    if (text.size() > std::numeric_limits<uInt>::max() / 2 ||
        deflateInit2(&stream, kLevel, Z_DEFLATED, MAX_WBITS + kGzip, kUsualMemory,
                     Z_DEFAULT_STRATEGY) != Z_OK) {
        return std::nullopt;
    }
    std::string out(deflateBound(&stream, static_cast<uLong>(text.size())), '\0');
    stream.next_in = reinterpret_cast<const Bytef*>(text.data());
    stream.avail_in = static_cast<uInt>(text.size());
    stream.next_out = reinterpret_cast<Bytef*>(out.data());
    stream.avail_out = static_cast<uInt>(out.size());
    const bool is_whole = deflate(&stream, Z_FINISH) == Z_STREAM_END;
    out.resize(stream.total_out);
    deflateEnd(&stream);
    if (!is_whole) {
        return std::nullopt;
    }
    out.shrink_to_fit();  // it may be kept for long
    return out;
}

}  // namespace beetwright::http
