// Text in gzip's format made plain again, by zlib itself.
#pragma once

#include <gtest/gtest.h>
#include <zlib.h>

#include <string>

namespace beetwright::http {

/// `bytes` is the length of the plain text, as whoever calls expects it; a whole text of another
/// length, or a checksum that does not fit, fails the test.
inline std::string gunzipped(std::string compressed, std::size_t bytes) {
    z_stream stream{};
    EXPECT_EQ(inflateInit2(&stream, MAX_WBITS + 16), Z_OK);
    std::string plain(bytes + 1, '\0');
    stream.next_in = reinterpret_cast<Bytef*>(compressed.data());
    stream.avail_in = static_cast<uInt>(compressed.size());
    stream.next_out = reinterpret_cast<Bytef*>(plain.data());
    stream.avail_out = static_cast<uInt>(plain.size());
    EXPECT_EQ(inflate(&stream, Z_FINISH), Z_STREAM_END);
    EXPECT_EQ(stream.avail_in, 0U) << "something stands behind it";
    plain.resize(stream.total_out);
    inflateEnd(&stream);
    return plain;
}

}  // namespace beetwright::http
