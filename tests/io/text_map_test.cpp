#include "io/text_map.hpp"

#include <gtest/gtest.h>

namespace beetwright::io {
namespace {

TEST(TextMap, WritesEveryKindOfCharacterAsJson) {
    EXPECT_EQ(text_map_json({}), "{}\n");
    EXPECT_EQ(text_map_json({{"a.csv", "x,\"y\"\n"}, {"b", ""}}), R"({"a.csv":"x,\"y\"\n","b":""})"
                                                                  "\n");
    EXPECT_EQ(text_map_json({{"a", "tab\there\r\n"}}), "{\"a\":\"tab\\there\\r\\n\"}\n");
    EXPECT_EQ(text_map_json({{"a", "C:\\beets"}}), "{\"a\":\"C:\\\\beets\"}\n");
    EXPECT_EQ(text_map_json({{"a", std::string("\x01\x1f", 2)}}), "{\"a\":\"\\u0001\\u001f\"}\n");
    EXPECT_EQ(text_map_json({{"a",
                              "R\xc3\xbc"
                              "be"}}),
              "{\"a\":\"R\xc3\xbc"
              "be\"}\n");
    // What is no UTF-8 is shown by U+FFFD.
    EXPECT_EQ(text_map_json({{"a",
                              "R\xfc"
                              "be"}}),
              "{\"a\":\"R\xef\xbf\xbd"
              "be\"}\n");
}

TEST(TextMap, ReadsBackWhatItWrote) {
    std::string all;
    for (int code = 1; code < 128; ++code) {
        all += static_cast<char>(code);
    }
    const std::map<std::string, std::string> texts{
        {"every sign", all}, {"plain", "plain"}, {"quotes", "\"\"\n\"\n"}, {"", "no name"}};
    const auto read = read_text_map(text_map_json(texts), "the texts");
    ASSERT_TRUE(read.ok()) << read.problems()[0].text();
    EXPECT_EQ(*read, texts);
}

}  // namespace
}  // namespace beetwright::io
