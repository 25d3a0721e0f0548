#include "maps/xml_tree.hpp"

#include <gtest/gtest.h>

namespace beetwright::maps {
namespace {

std::string refusal(std::string_view text, XmlRoom room = {}) {
    const auto tree = read_xml(text, "a.xml", room);
    EXPECT_FALSE(tree.ok());
    return tree.ok() ? "" : tree.problems().front().text();
}

TEST(XmlTree, HasElementsWithAttributesAndLines) {
    XmlRoom room;
    const auto tree = read_xml(
        "\xef\xbb\xbf<?xml version=\"1.0\"?>\n<!-- a note -->\n"
        "<a x='1' y=''>\n text <b z=\"&lt;&amp;&#252;\"/>\n\n<c/></a>\n",
        "a.xml", room);
    ASSERT_TRUE(tree.ok());
    const auto& root = tree->root();
    EXPECT_EQ(root.name, "a");
    EXPECT_EQ(root.line, 3);
    EXPECT_EQ(root.attribute("x"), "1");
    EXPECT_EQ(root.attribute("y"), "");
    EXPECT_EQ(root.attribute("z"), std::nullopt);
    ASSERT_EQ(root.children.size(), 2U);
    EXPECT_EQ(root.children[0].attribute("z"), "<&ü");
    EXPECT_EQ(root.children[0].line, 4);
    EXPECT_EQ(root.children[1].name, "c");
    EXPECT_EQ(root.children[1].line, 6);
}

TEST(XmlTree, OfAnOldEncodingIsReadAsItsLetters) {
    XmlRoom room;
    const auto tree = read_xml("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a b=\"M\xfchle\"/>",
                               "a.xml", room);
    ASSERT_TRUE(tree.ok());
    EXPECT_EQ(tree->root().attribute("b"), "Mühle");
}

TEST(XmlTree, StaysWholeWhenItIsMoved) {
    XmlRoom room;
    auto tree = read_xml("<a b=\"text that is longer than any small string\"/>", "a.xml", room);
    ASSERT_TRUE(tree.ok());
    std::vector<XmlTree> kept;
    kept.push_back(std::move(*tree));
    kept.reserve(100);
    EXPECT_EQ(kept.front().root().attribute("b"), "text that is longer than any small string");
}

TEST(XmlTree, WhatIsNoXmlIsRefusedWithItsLine) {
    EXPECT_NE(refusal("<a>\n<b>\n</a>").find("a.xml:3: this is no whole XML"), std::string::npos);
    EXPECT_NE(refusal("<a><b/>").find("no whole XML"), std::string::npos);
    EXPECT_NE(refusal("").find("a.xml"), std::string::npos);
    EXPECT_NE(refusal("<!-- nothing -->").find("no whole XML"), std::string::npos);
    EXPECT_NE(refusal("<a/><b/>").find("two outermost elements"), std::string::npos);
    EXPECT_NE(refusal("<a b=\"&#xD800;\"/>").find("a character is named that does not exist"),
              std::string::npos);
}

TEST(XmlTree, EntitiesOfItsOwnAreRefused) {
    EXPECT_NE(refusal("<!DOCTYPE a [<!ENTITY x \"xxxxxxxxxx\"><!ENTITY y \"&x;&x;&x;\">]>"
                      "<a b=\"&y;\"/>")
                  .find("DOCTYPE"),
              std::string::npos);
}

TEST(XmlTree, TooDeepIsRefused) {
    constexpr int kDeep = 100'000;
    std::string text;
    for (int k = 0; k < kDeep; ++k) {
        text += "<a>";
    }
    for (int k = 0; k < kDeep; ++k) {
        text += "</a>";
    }
    EXPECT_NE(refusal(text).find("more than 32 deep"), std::string::npos);
}

TEST(XmlTree, SeveralShareARoom) {
    XmlRoom room{.bytes = 100, .elements = 3, .attributes = 2};
    ASSERT_TRUE(read_xml("<a b='1'><c/></a>", "a.xml", room).ok());
    EXPECT_EQ(room.elements, 1U);
    EXPECT_EQ(room.attributes, 1U);
    EXPECT_EQ(room.bytes, 83U);
    EXPECT_NE(refusal("<a><b/></a>", room).find("too large"), std::string::npos);
    EXPECT_NE(refusal("<a b='' c=''/>", room).find("too large"), std::string::npos);
    EXPECT_NE(refusal("<a>" + std::string(80, ' ') + "</a>", room).find("too large"),
              std::string::npos);
}

}  // namespace
}  // namespace beetwright::maps
