// JPEGs made by hand, marker by marker (ITU-T T.81 annex B), with all that a camera adds.
#include "io/jpeg.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace beetwright::io {
namespace {

using namespace std::string_literals;

const std::string kStart = "\xFF\xD8";
const std::string kEnd = "\xFF\xD9";

std::string segment(int kind, const std::string& inside) {
    const auto length = inside.size() + 2;
    return "\xFF"s + static_cast<char>(kind) + static_cast<char>(length >> 8U) +
           static_cast<char>(length & 0xFFU) + inside;
}
/// One component, 8 bits, 2 high and 3 wide.
std::string frame(int kind = 0xC0) {
    return segment(kind, "\x08\x00\x02\x00\x03\x01\x01\x11\x00"s);
}
/// One component's scan; its pixels hold a stuffed FF and a restart.
std::string scan() {
    return segment(0xDA, "\x01\x01\x00\x00\x3F\x00"s) + "ab\xFF\x00"s + "cd\xFF\xD0"s + "ef";
}
std::string tables() {
    return segment(0xDB, "\x00"s + std::string(64, '\x10')) +
           segment(0xC4, "\x00"s + std::string(16, '\0'));
}
std::string picture() {
    return tables() + frame() + scan();
}
/// An Exif segment whose first table has a maker's name and says how the camera was held.
std::string exif(char turned, bool little = true) {
    const auto number = [little](unsigned value, int count) {
        std::string bytes;
        for (int i = 0; i < count; ++i) {
            const int shift = 8 * (little ? i : count - 1 - i);
            bytes += static_cast<char>(value >> static_cast<unsigned>(shift) & 0xFFU);
        }
        return bytes;
    };
    return segment(0xE1, "Exif\0\0"s + (little ? "II" : "MM") + number(42, 2) + number(8, 4) +
                             number(2, 2) + number(0x010F, 2) + number(2, 2) + number(4, 4) +
                             "CAM\0"s + number(0x0112, 2) + number(3, 2) + number(1, 4) +
                             number(static_cast<unsigned>(turned), 2) + number(0, 2) +
                             number(0, 4) + "latitude");
}
std::string jfif(const std::string& thumbnail = "") {
    return segment(0xE0, "JFIF\0\x01\x02\x00\x00\x48\x00\x48"s +
                             (thumbnail.empty() ? "\0\0"s : "\x01\x01"s + thumbnail));
}

Jpeg must_read(const std::string& bytes, Metadata metadata = Metadata::strip) {
    auto jpeg = read_jpeg(bytes, metadata);
    EXPECT_TRUE(jpeg.ok()) << (jpeg.ok() ? "" : jpeg.problems()[0].text());
    return jpeg.ok() ? *jpeg : Jpeg{};
}
std::string what_is_wrong(const std::string& bytes) {
    const auto jpeg = read_jpeg(bytes);
    return jpeg.ok() ? "nothing" : jpeg.problems()[0].what;
}

TEST(Jpeg, APlainOneStaysAsItIs) {
    const auto plain = kStart + jfif() + picture() + kEnd;
    const auto jpeg = must_read(plain);
    EXPECT_EQ(jpeg.bytes, plain);
    EXPECT_EQ(jpeg.height, 2);
    EXPECT_EQ(jpeg.width, 3);
    EXPECT_EQ(jpeg.turned, 1);
}

TEST(Jpeg, WhatACameraAddsGoes) {
    std::string bytes = kStart + jfif("rgb") + segment(0xE0, "JFXX\0thumbnail"s) + exif(1);
    std::string kept = kStart + jfif();
    for (int application = 0xE1; application <= 0xEF; ++application) {
        const auto one = segment(application, "the maker's own " + std::to_string(application));
        bytes += one;
        kept += application == 0xEE ? one : "";  // how colours are coded
    }
    bytes += segment(0xFE, "taken at home") + picture();
    kept += picture();
    // Between scans, and behind the end.
    bytes += segment(0xE1, "more") + tables() + scan() + kEnd + kStart + exif(1) + kEnd;
    kept += tables() + scan() + kEnd;
    EXPECT_EQ(must_read(bytes).bytes, kept);
    EXPECT_EQ(must_read(bytes, Metadata::keep).bytes, bytes);
}

TEST(Jpeg, HowTheCameraWasHeldStays) {
    for (const bool little : {true, false}) {
        for (char turned = 1; turned <= 8; ++turned) {
            const auto jpeg = must_read(kStart + jfif() + exif(turned, little) + picture() + kEnd);
            EXPECT_EQ(jpeg.turned, turned);
            EXPECT_EQ(jpeg.bytes.find("latitude"), std::string::npos);
            EXPECT_EQ(jpeg.bytes.find("CAM"), std::string::npos);
            EXPECT_EQ(must_read(jpeg.bytes).turned, turned) << "it can still be read";
            EXPECT_EQ(jpeg.bytes.find("Exif") == std::string::npos, turned == 1);
        }
    }
    EXPECT_EQ(must_read(kStart + exif(9) + picture() + kEnd).turned, 1) << "there are eight ways";
    const auto whole = exif(6);
    for (std::size_t length = 6; length < whole.size() - 4; ++length) {
        // Exif that breaks off says nothing or the same, and is never read beyond its end.
        const auto turned =
            must_read(kStart + segment(0xE1, whole.substr(4, length)) + picture() + kEnd).turned;
        EXPECT_TRUE(turned == 1 || turned == 6) << length;
    }
}

TEST(Jpeg, ProgressiveOnesHaveManyScans) {
    const auto bytes = kStart + tables() + frame(0xC2) + scan() + tables() + scan() + scan() + kEnd;
    EXPECT_EQ(must_read(bytes).bytes, bytes);
}

TEST(Jpeg, AnyBreakingOffIsTold) {
    const auto whole = kStart + jfif() + exif(6) + picture() + kEnd;
    for (std::size_t length = 0; length < whole.size(); ++length) {
        const auto wrong = what_is_wrong(whole.substr(0, length));
        EXPECT_TRUE(wrong == (length < 3 ? "this is not a JPEG" : "this JPEG breaks off"))
            << length << ": " << wrong;
    }
    EXPECT_EQ(what_is_wrong(whole), "nothing");
}

TEST(Jpeg, WhatIsNoneIsRefused) {
    EXPECT_EQ(what_is_wrong("\x89PNG\r\n\x1A\n"s), "this is not a JPEG");
    EXPECT_EQ(what_is_wrong("<svg onload='alert(1)'/>"), "this is not a JPEG");
    EXPECT_EQ(what_is_wrong(kStart + kEnd), "this JPEG has no picture in it");
    EXPECT_EQ(what_is_wrong(kStart + tables() + frame() + kEnd), "this JPEG has no picture in it");
    EXPECT_EQ(what_is_wrong(kStart + scan() + kEnd), "this JPEG is damaged") << "no size yet";
    EXPECT_EQ(what_is_wrong(kStart + frame() + picture() + kEnd), "this JPEG is damaged")
        << "two frames";
    EXPECT_EQ(what_is_wrong(kStart + kStart + picture() + kEnd), "this JPEG is damaged");
    EXPECT_EQ(what_is_wrong(kStart + "\xFF\xE0\x00\x01"s + picture() + kEnd),
              "this JPEG is damaged");
    EXPECT_EQ(what_is_wrong(kStart + segment(0x42, "x") + picture() + kEnd),
              "this JPEG is damaged");
    EXPECT_EQ(what_is_wrong(kStart + tables() + "beets" + frame() + scan() + kEnd),
              "this JPEG is damaged");
    EXPECT_EQ(what_is_wrong(kStart + segment(0xC0, "\x08\x00\x00\x00\x03\x01\x01\x11\x00"s) +
                            scan() + kEnd),
              "this JPEG has no size");
    EXPECT_EQ(what_is_wrong(kStart + segment(0xC0, "\x08\x00\x02\x00\x03\x02\x01\x11\x00"s) +
                            scan() + kEnd),
              "this JPEG is damaged")
        << "two components, one of them not there";
}

}  // namespace
}  // namespace beetwright::io
