#include "maps/zip.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>

namespace beetwright::maps {
namespace {

const std::vector<NamedFile> kFiles{{"TASKDATA/TASKDATA.XML", "<ISO11783_TaskData/>"},
                                    {"TASKDATA/TLG00001.BIN", std::string(1000, '\0') + "end"},
                                    {"empty", ""}};

std::string packed(const std::vector<NamedFile>& files) {
    const auto bytes = write_zip(files);
    EXPECT_TRUE(bytes.ok());
    return bytes.ok() ? *bytes : "";
}

/// The only problem of an archive that is refused.
std::string refusal(std::string_view bytes, const ZipLimits& limits = {}) {
    const auto read = read_zip(bytes, "tasks.zip", limits);
    EXPECT_FALSE(read.ok());
    if (read.ok()) {
        return "";
    }
    EXPECT_EQ(read.problems().size(), 1U);
    EXPECT_EQ(read.problems().front().where.file, "tasks.zip");
    return read.problems().front().text();
}

/// The bytes with one text in place of another, as long, wherever it stands.
std::string with(std::string bytes, std::string_view text, std::string_view other) {
    EXPECT_EQ(text.size(), other.size());
    int found = 0;
    for (auto at = bytes.find(text); at != std::string::npos; at = bytes.find(text, at + 1)) {
        bytes.replace(at, text.size(), other);
        ++found;
    }
    EXPECT_GT(found, 0);
    return bytes;
}

/// The four bytes of a number as archives write it.
std::string four(std::uint32_t number) {
    std::string bytes;
    for (unsigned shift = 0; shift < 32; shift += 8) {
        bytes += static_cast<char>((number >> shift) & 0xffU);
    }
    return bytes;
}

TEST(Zip, WhatWasPackedComesBack) {
    const auto bytes = packed(kFiles);
    EXPECT_TRUE(is_zip(bytes));
    EXPECT_LT(bytes.size(), 600U);  // the thousand zeros are packed
    const auto files = read_zip(bytes, "tasks.zip");
    ASSERT_TRUE(files.ok());
    EXPECT_EQ(*files, kFiles);
}

TEST(Zip, TheSameFilesMakeTheSameBytesInEveryZoneOfTime) {
    const auto in = [](const char* zone) {
        setenv("TZ", zone, 1);
        tzset();
        return packed(kFiles);
    };
    const auto first = in("UTC");
    EXPECT_EQ(first, in("Pacific/Auckland"));
    EXPECT_EQ(first, in("America/Denver"));
    EXPECT_EQ(first, in("UTC"));
}

TEST(Zip, WhatIsNoArchiveIsRefused) {
    EXPECT_NE(refusal("").find("is no ZIP"), std::string::npos);
    EXPECT_NE(refusal("<ISO11783_TaskData/>").find("is no ZIP"), std::string::npos);
    EXPECT_NE(refusal("PK\x03\x04 and nothing of it").find("copy it again"), std::string::npos);
}

TEST(Zip, EveryCutIsNoticed) {
    const auto bytes = packed(kFiles);
    for (std::size_t length = 0; length < bytes.size(); ++length) {
        EXPECT_FALSE(read_zip(std::string_view(bytes).substr(0, length), "tasks.zip").ok())
            << length;
    }
}

TEST(Zip, AChangedByteOfAFileIsNoticedByItsChecksum) {
    const std::vector<NamedFile> files{{"note", "what was written, not what was read"}};
    auto bytes = packed(files);
    const auto end_of_head = std::size_t{30} + 4;
    bytes[end_of_head + 5] = static_cast<char>(bytes[end_of_head + 5] ^ 0x10);
    EXPECT_NE(refusal(bytes).find("note: the archive is damaged"), std::string::npos);
}

TEST(Zip, NamesThatLeadOutAreRefused) {
    const auto bytes = packed({{"ab/cd", "x"}});
    for (const auto* name : {"../cd", "ab/..", "/b/cd", "..\\cd", "C:/cd", "\\b/cd"}) {
        EXPECT_NE(refusal(with(bytes, "ab/cd", name)).find("leads out of the archive"),
                  std::string::npos)
            << name;
    }
    // Points within a name lead nowhere.
    EXPECT_TRUE(read_zip(with(bytes, "ab/cd", "a/b.."), "tasks.zip").ok());
}

TEST(Zip, FoldersMayBeToldByBackslashes) {
    const auto files = read_zip(with(packed({{"ab/cd", "x"}}), "ab/cd", "ab\\cd"), "tasks.zip");
    ASSERT_TRUE(files.ok());
    EXPECT_EQ(files->front().name, "ab/cd");
}

TEST(Zip, TwoOfANameAreRefused) {
    const auto bytes = with(packed({{"one", "x"}, {"two", "y"}}), "two", "one");
    EXPECT_NE(refusal(bytes).find("two files of the archive have this name"), std::string::npos);
}

TEST(Zip, FoldersAreNoFiles) {
    const auto files = read_zip(packed({{"a/", ""}, {"a/b", "x"}}), "tasks.zip");
    ASSERT_TRUE(files.ok());
    ASSERT_EQ(files->size(), 1U);
    EXPECT_EQ(files->front().name, "a/b");
}

TEST(Zip, TooMuchIsRefusedByWhatTheDirectorySays) {
    ZipLimits limits;
    const auto bytes = packed(kFiles);
    limits.files = 2;
    EXPECT_NE(refusal(bytes, limits).find("more than 2 files"), std::string::npos);
    limits = {};
    limits.archive_bytes = 100;
    EXPECT_NE(refusal(bytes, limits).find("the archive has"), std::string::npos);
    limits = {};
    limits.file_bytes = 1000;
    EXPECT_NE(refusal(bytes, limits).find("TASKDATA/TLG00001.BIN: the file unpacks to"),
              std::string::npos);
    limits = {};
    limits.all_bytes = 1010;
    EXPECT_NE(refusal(bytes, limits).find("the archive unpacks to"), std::string::npos);
    limits = {};
    limits.ratio_from_bytes = 100;
    limits.ratio = 20;
    EXPECT_NE(refusal(bytes, limits).find("over 20 times"), std::string::npos);
}

TEST(Zip, ABombThatSaysItIsSmallIsRefused) {
    // Ten million zeros, whose entries say that they are a thousand.
    constexpr std::uint32_t kReally = 10'000'000;
    const auto bytes =
        with(packed({{"bomb", std::string(kReally, '\0')}}), four(kReally), four(1000));
    EXPECT_NE(refusal(bytes).find("bomb: the archive is damaged"), std::string::npos);
}

TEST(Zip, AnOrdinaryBombIsRefused) {
    constexpr std::size_t kZeros = 10'000'000;
    const auto bytes = packed({{"bomb", std::string(kZeros, '\0')}});
    EXPECT_LT(bytes.size(), 20'000U);
    EXPECT_NE(refusal(bytes).find("times its size in the archive"), std::string::npos);
}

}  // namespace
}  // namespace beetwright::maps
