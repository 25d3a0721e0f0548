// Our own JSON against a library for it: what is written, it reads; what it refuses, we refuse.
#include "io/json.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "io/json_read.hpp"

namespace beetwright::io {
namespace {

using Library = nlohmann::ordered_json;

Json everything() {
    Json answer = {{"field", "Long Acre"},
                   {"quoted", "\"\\/\b\f\n\r\t\x01\x1f\x7f"},
                   {"letters", "Rübe, свёкла, 甜菜, \U0001F331"},
                   {"yes", true},
                   {"none", nullptr},
                   {"spots", 10},
                   {"below", std::int64_t{-9'007'199'254'740'993}},
                   {"seed", std::numeric_limits<std::uint64_t>::max()},
                   {"shares", std::vector<double>{0.0, -0.0, 1.0, 0.1, 1e-5, 1e15, 1e300, 5e-324}},
                   {"empty", Json::array()},
                   {"either", Json::array({{{"type", "number"}}, "whole", 1})},
                   {"nothing", Json::object()},
                   {"nested", {{"low", 1.5}, {"words", std::vector<std::string>{"a", "b"}}}}};
    answer["later"].push_back({{"day", "2031-10-04"}});
    answer["later"].push_back(-7);
    return answer;
}

TEST(Json, IsWrittenAsALibraryWritesIt) {
    const auto read = Library::parse(everything().line());
    EXPECT_EQ(everything().line(), read.dump());
    EXPECT_EQ(everything().lines(), read.dump(2));
}

TEST(Json, ReadsBackWhatItWrote) {
    for (const auto& text : {everything().line(), everything().lines()}) {
        const auto read = parse_json(text, "");
        ASSERT_TRUE(read);
        EXPECT_EQ(read->line(), everything().line());
    }
}

TEST(Json, KeepsTheOrderAndTheKindOfWhatWasRead) {
    const auto read = parse_json(R"({"b": 18446744073709551615, "a": [-5, 5.0, 1e2, "x"],
                                     "c": false, "d": null})",
                                 "");
    ASSERT_TRUE(read);
    ASSERT_EQ(read->members().size(), 4U);
    EXPECT_EQ(read->members()[0].name, "b");
    EXPECT_EQ(read->find("b")->count(), std::numeric_limits<std::uint64_t>::max());
    const auto items = read->find("a")->items();
    ASSERT_EQ(items.size(), 4U);
    EXPECT_EQ(items[0].number(), -5.0);
    EXPECT_FALSE(items[0].count());
    EXPECT_EQ(items[1].number(), 5.0);
    EXPECT_FALSE(items[1].count());
    EXPECT_EQ(items[2].number(), 100.0);
    EXPECT_EQ(*items[3].text(), "x");
    EXPECT_FALSE(items[3].number());
    EXPECT_EQ(read->find("c")->truth(), false);
    EXPECT_TRUE(read->find("d")->is_null());
    EXPECT_EQ(read->find("e"), nullptr);
}

TEST(Json, ReadsEveryWayToWriteACharacter) {
    const auto read =
        parse_json(R"(["\"\\\/\b\f\n\r\t", "\u0052\u00fcbe \uD83C\uDF31 \u751c", "Rübe"])", "");
    ASSERT_TRUE(read);
    EXPECT_EQ(*read->items()[0].text(), "\"\\/\b\f\n\r\t");
    EXPECT_EQ(*read->items()[1].text(), "Rübe \U0001F331 甜");
    EXPECT_EQ(*read->items()[2].text(), "Rübe");
}

TEST(Json, TakesAndRefusesWhatALibraryDoes) {
    const std::vector<std::string> texts{"",
                                         " ",
                                         "1",
                                         "-1",
                                         "01",
                                         "-01",
                                         "00",
                                         "-",
                                         "+1",
                                         "1.",
                                         ".5",
                                         "-.5",
                                         "1.e5",
                                         "1.5e",
                                         "1e+",
                                         "1e5",
                                         "1E+5",
                                         "1e-5",
                                         "0.5",
                                         "-0",
                                         "0e0",
                                         "1e999",
                                         "-1e999",
                                         "1e-999",
                                         "NaN",
                                         "Infinity",
                                         "0x10",
                                         "1 2",
                                         "true",
                                         "tru",
                                         "truex",
                                         "True",
                                         "false",
                                         "null",
                                         "nul",
                                         "\"a\"",
                                         "\"a",
                                         "a",
                                         "'a'",
                                         "\"\\x\"",
                                         "\"\\u12\"",
                                         "\"\\u12g4\"",
                                         "\"\\u+123\"",
                                         "\"\\u-123\"",
                                         "\"\\ud800\"",
                                         "\"\\udc00\"",
                                         "\"\\ud800\\u0041\"",
                                         "\"\\ud83c\\udf31\"",
                                         "\"\\ud83c\\\"",
                                         "\"\n\"",
                                         "\"\t\"",
                                         "\"\x7f\"",
                                         "\"\xff\"",
                                         "\"\xc3\"",
                                         "\"\xed\xa0\x80\"",
                                         "[]",
                                         "[ ]",
                                         "[1]",
                                         "[1,]",
                                         "[,1]",
                                         "[1 2]",
                                         "[1",
                                         "]",
                                         "[[[]]]",
                                         "{}",
                                         "{ }",
                                         "{\"a\":1}",
                                         "{\"a\" : 1 }",
                                         "{\"a\"}",
                                         "{\"a\":}",
                                         "{\"a\":1,}",
                                         "{a:1}",
                                         "{\"a\":1 \"b\":2}",
                                         "{\"a\":1,\"b\":2}",
                                         "{1:2}",
                                         "{\"a\":1",
                                         "{\"a\",1}",
                                         "\xEF\xBB\xBF[1]",
                                         "\xEF\xBB[1]",
                                         "[1]\v",
                                         "[1]\n\t\r ",
                                         std::string("\"\0\"", 3),
                                         "// a\n1",
                                         "[1] // a",
                                         "123456789012345678901234567890",
                                         "-123456789012345678901234567890"};
    for (const auto& text : texts) {
        const auto library = Library::parse(text, nullptr, /*allow_exceptions=*/false);
        const auto ours = parse_json(text, "");
        EXPECT_EQ(static_cast<bool>(ours), !library.is_discarded()) << text;
        if (ours && !library.is_discarded()) {
            EXPECT_EQ(Library::parse(ours->line()), library) << text;
        }
    }
}

TEST(Json, ANoughtByteIsNoEnd) {
    EXPECT_FALSE(parse_json(std::string("[1]\0", 4), ""));
}

TEST(Json, SaysOnWhichLineItStopsBeingJson) {
    const auto read = parse_json("{\n\"a\": 1,\n\"b\" 2\n}", "season.json");
    ASSERT_FALSE(read);
    ASSERT_EQ(read.problems().size(), 1U);
    EXPECT_EQ(read.problems()[0].where.file, "season.json");
    EXPECT_EQ(read.problems()[0].where.line, 3);
}

TEST(Json, NamesWhatStandsTwice) {
    const auto read = parse_json(R"({"a": 1, "b": {"a": 2, "c": 3, "c": 4}, "b": 5})", "");
    ASSERT_FALSE(read);
    ASSERT_EQ(read.problems().size(), 2U);
    EXPECT_EQ(read.problems()[0].where.field, "c");
    EXPECT_EQ(read.problems()[1].where.field, "b");
}

TEST(Json, IsNotReadDeeperOrLongerThanAnybodyWrites) {
    EXPECT_TRUE(parse_json(std::string(32, '[') + std::string(32, ']'), ""));
    EXPECT_FALSE(parse_json(std::string(33, '[') + std::string(33, ']'), ""));
    EXPECT_FALSE(parse_json(std::string(100'000, '['), ""));
    // Readers of maps let more values through.
    std::string many = "[0";
    for (int k = 0; k < 20'000; ++k) {
        many += ",0";
    }
    many += "]";
    EXPECT_FALSE(parse_json(many, ""));
    EXPECT_TRUE(parse_json(many, "", {.deepest = 1, .most_values = 30'000}));
    EXPECT_FALSE(parse_json("[" + many + "]", "", {.deepest = 1, .most_values = 30'000}));
}

TEST(Json, WhatCannotBeWrittenBecomesAMarkOrNull) {
    EXPECT_EQ(Json("a\xFF"
                   "b")
                  .line(),
              "\"a\uFFFDb\"");
    EXPECT_EQ(Json(std::nan("")).line(), "null");
    EXPECT_EQ(Json(-HUGE_VAL).line(), "null");
}

}  // namespace
}  // namespace beetwright::io
