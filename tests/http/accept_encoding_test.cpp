#include "http/accept_encoding.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace beetwright::http {
namespace {

struct Case {
    const char* header;
    bool takes_gzip;
};

// RFC 9110 sections 12.4.2 and 12.5.3.
const std::vector<Case> kCases{
    {"", false},
    {"gzip", true},
    {"gzip, deflate, br", true},
    {"br;q=1.0, GZip;q=0.8, *;q=0.1", true},
    {" gzip ; q=0.5 ", true},
    {"gzip;Q=1", true},
    {",, gzip", true},
    {"br, deflate", false},
    {"gzipped", false},
    {"x-gz, not gzip", false},
    // Refused by a weight of zero, however it is written.
    {"gzip;q=0", false},
    {"gzip; q=0.0", false},
    {"gzip;q=0.000", false},
    {"gzip;q=0.", false},
    {"gzip;q=0.001", true},
    {"gzip;q=1.000", true},
    // Any: unless it is named.
    {"*", true},
    {"*;q=0", false},
    {"*;q=0, gzip", true},
    {"gzip;q=0, *", false},
    // Rather as it is.
    {"identity", false},
    {"identity;q=0.9, gzip;q=0.5", false},
    {"identity;q=0.5, gzip;q=0.9", true},
    {"identity, gzip", true},
    {"identity;q=0, gzip", true},
    // Weights that are none.
    {"gzip;q=", false},
    {"gzip;q=2", false},
    {"gzip;q=1.001", false},
    {"gzip;q=0.5555", false},
    {"gzip;q=-1", false},
    {"gzip;q=0x1", false},
    {"gzip;q=0.5;q=1", false},
    {"gzip;level=9", false},
};

TEST(AcceptEncoding, SaysWhoTakesGzip) {
    for (const auto& [header, takes] : kCases) {
        EXPECT_EQ(takes_coding(header, "gzip"), takes) << "\"" << header << "\"";
    }
}

TEST(AcceptEncoding, IsReadForEachCoding) {
    EXPECT_TRUE(takes_coding("gzip, br", "br"));
    EXPECT_FALSE(takes_coding("gzip, br;q=0", "br"));
    EXPECT_FALSE(takes_coding("gzip, brotli", "br"));
}

}  // namespace
}  // namespace beetwright::http
